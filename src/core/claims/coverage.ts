/**
 * Whether a failure is within the terms: computed and explained, never decided. Months end with the last hour of the day
 * that has the date from which they are counted, or of the last day of a month that hasn't it; days are those of UTC.
 * Source: Regulation (EEC, Euratom) No 1182/71, article 3(2)(c), from memory.
 */
import Fraction from 'fraction.js';
import { subtract } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { addPeriod } from '../time/add-period.ts';
import type { Instant, Interval } from '../time/instant.ts';
import { anyShare, type Cover, coverOf, inPercent, leastOf, type Share, shareAt } from './share.ts';
import type { HoursLimit, Limit, MonthsLimit } from './terms-body.ts';

/** When something happened, and which record says so. */
export type Dated = {
  readonly at: Interval;
  readonly record: string;
  readonly said: 'claim' | 'movement' | 'registration' | 'start-up';
};
export type CoverageInput = {
  readonly limits: readonly Limit[];
  readonly delivered: Dated | null;
  readonly startedUp: Dated | null;
  readonly failed: Interval;
  /** Running hours at the failure, in h; null: not known. */
  readonly hours: Quantity | null;
};

/** The least and the most that it can be; below 0 it is over. */
export type Left = { readonly unit: 'day' | 'h'; readonly least: string; readonly most: string };
type Percent = ReturnType<typeof inPercent>;
export type LimitCoverage = {
  readonly limit: Limit;
  readonly result: Cover;
  readonly countedFrom: Dated | null;
  /** The last day of full cover, the first and the last that it can be; null for hours, or where it is not known. */
  readonly ends: { readonly earliest: string; readonly latest: string } | null;
  readonly left: Left | null;
  /** In %; null: nothing can be said. */
  readonly share: Percent | null;
  /** What would have to be known; null: nothing. */
  readonly missing: 'delivery' | 'start-up' | 'hours' | null;
  readonly text: string;
};
export type Coverage = {
  readonly result: Cover;
  readonly share: Percent | null;
  readonly missing: readonly string[];
  readonly limits: readonly LimitCoverage[];
};

export function coverageOf(input: CoverageInput): Coverage {
  const reckoned = input.limits.map((limit) => ('months' in limit ? monthsOf(limit, input) : hoursOf(limit, input)));
  const share = leastOf(reckoned.map((one) => one.share ?? anyShare));
  return {
    result: coverOf(share),
    share: reckoned.every((one) => one.share === null) ? null : inPercent(share),
    missing: [...new Set(reckoned.flatMap((one) => one.coverage.missing ?? []))],
    limits: reckoned.map(({ coverage, share: own }) => ({ ...coverage, share: own && inPercent(own) })),
  };
}

type Reckoned = { readonly share: Share | null; readonly coverage: Omit<LimitCoverage, 'share'> };

function monthsOf(limit: MonthsLimit, { delivered, startedUp, failed }: CoverageInput): Reckoned {
  const countedFrom = limit.from === 'delivery' ? delivered : startedUp;
  const called = `${limit.months} months from ${limit.from}`;
  if (countedFrom === null) {
    const text = `${called}: the day of ${limit.from} is not known.`;
    return { share: null, coverage: { ...unknown(limit), missing: limit.from, text } };
  }
  const { at } = countedFrom;
  const ends = (start: Instant) => ({
    full: dayOf(addPeriod(start, `P${limit.months}M`)),
    end: limit.proRataTo === undefined ? null : dayOf(addPeriod(start, `P${limit.proRataTo}M`)),
  });
  const [first, last] = [ends(at.from), ends(at.to)];
  const [early, late] = [dayOf(failed.from), dayOf(failed.to)];
  const share: Share = {
    least: shareAt(new Fraction(late), new Fraction(first.full), fractionOf(first.end)),
    most: shareAt(new Fraction(early), new Fraction(last.full), fractionOf(last.end)),
  };
  const left: Left = { unit: 'day', least: String(first.full - late), most: String(last.full - early) };
  const said = [
    `${called}: counted from ${between(dayOf(at.from), dayOf(at.to))} by ${countedFrom.said} ${countedFrom.record}`,
    `ending on ${between(first.full, last.full)}`,
    `it failed on ${between(early, late)}, ${inWords(left, 'days')}`,
  ].join('; ');
  return {
    share,
    coverage: {
      ...{ limit, result: coverOf(share), countedFrom, left, missing: null },
      ends: { earliest: dateOf(first.full), latest: dateOf(last.full) },
      text: `${said}.${proRata(limit.proRataTo, 'months', share)}`,
    },
  };
}

function hoursOf(limit: HoursLimit, { hours }: CoverageInput): Reckoned {
  const called = `${limit.hours} running hours`;
  if (hours === null) {
    const text = `${called}: how long it had run is not known.`;
    return { share: null, coverage: { ...unknown(limit), missing: 'hours', text } };
  }
  const one = shareAt(new Fraction(hours.value), new Fraction(limit.hours), fractionOf(limit.proRataTo ?? null));
  const share: Share = { least: one, most: one };
  const rest = subtract({ value: String(limit.hours), unit: 'h' }, hours).value;
  const left: Left = { unit: 'h', least: rest, most: rest };
  const text = `${called}: it had run ${hours.value} ${hours.unit}, ${inWords(left, 'h')}.${proRata(limit.proRataTo, 'h', share)}`;
  return {
    share,
    coverage: { limit, result: coverOf(share), countedFrom: null, ends: null, left, missing: null, text },
  };
}

function unknown(limit: Limit): Pick<LimitCoverage, 'limit' | 'result' | 'countedFrom' | 'ends' | 'left'> {
  return { limit, result: 'unknown', countedFrom: null, ends: null, left: null };
}

function inWords({ least, most }: Left, unit: string): string {
  const isLeft = !least.startsWith('-');
  const isOver = most.startsWith('-');
  const amounts = (isOver ? [most, least] : [least, most]).map((one) => one.replace('-', ''));
  const amount = least === most ? `${amounts[0]} ${unit}` : `${amounts[0]} to ${amounts[1]} ${unit}`;
  if (isLeft) return `with ${amount} left`;
  return isOver ? `${amount} past the end` : 'which may be before or past the end';
}

function proRata(end: number | undefined, unit: string, share: Share): string {
  if (end === undefined || share.least.equals(1)) return '';
  const { least, most } = inPercent(share);
  return ` The share falls evenly to nothing at ${end} ${unit}: ${least === most ? least : `${least} to ${most}`} % is left.`;
}

/** Whole days since 1970, in UTC. */
function dayOf(instant: Instant): number {
  return Date.parse(`${instant.slice(0, 10)}T00:00:00Z`) / 86_400_000;
}

function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

function between(from: number, to: number): string {
  return from === to ? dateOf(from) : `a day from ${dateOf(from)} to ${dateOf(to)}`;
}

function fractionOf(number: number | null): Fraction | null {
  return number === null ? null : new Fraction(number);
}
