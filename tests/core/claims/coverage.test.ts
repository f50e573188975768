/**
 * Months: Regulation (EEC, Euratom) No 1182/71, article 3(2)(c), from memory: a period in months ends with the last hour
 * of the day that has the date from which it runs, or of the last day of the month that hasn't it. Numbers of days and
 * shares are recomputed by hand.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CoverageInput, coverageOf, type Dated } from '../../../src/core/claims/coverage.ts';
import type { Limit } from '../../../src/core/claims/terms-body.ts';
import { parseTime, type TimeInput } from '../../../src/core/time/instant.ts';

const dated = (at: TimeInput): Dated => ({ at: parseTime(at), record: 'r-1', said: 'start-up' });
const day = (date: string): TimeInput => ({ at: `${date}T00:00:00Z`, precision: 'day' });
const month = (date: string): TimeInput => ({ at: `${date}-01T00:00:00Z`, precision: 'month' });
const none = { delivered: null, startedUp: null, hours: null };
const input = (limits: Limit[], failed: TimeInput, more: Partial<CoverageInput> = {}): CoverageInput => ({
  ...{ ...none, limits, failed: parseTime(failed) },
  ...more,
});
const hours = (value: string) => ({ hours: { value, unit: 'h' } });
const twoYears: Limit = { months: 24, from: 'start-up' };
const months = (start: TimeInput, failed: TimeInput, limit: Limit = twoYears) =>
  coverageOf(input([limit], failed, { startedUp: dated(start) }));

describe('months', () => {
  it.each([
    ['2024-03-14', '2026-03-14', 'within', '0'],
    ['2024-03-14', '2026-03-15', 'exceeded', '-1'],
    ['2024-03-14', '2026-02-01', 'within', '41'],
    ['2024-02-29', '2026-02-28', 'within', '0'],
    ['2024-02-29', '2026-03-01', 'exceeded', '-1'],
    ['2022-02-28', '2024-02-29', 'exceeded', '-1'],
    ['2024-12-31', '2026-12-31', 'within', '0'],
    // Before it was started up at all.
    ['2024-03-14', '2024-03-01', 'within', '743'],
  ])('from %s, failed on %s: %s, %s days left', (start, failed, result, left) => {
    const covered = months(day(start), day(failed));
    expect(covered).toMatchObject({ result, limits: [{ result, left: { unit: 'day', least: left, most: left } }] });
    expect(covered.share).toEqual(
      result === 'within' ? { least: '100.0', most: '100.0' } : { least: '0.0', most: '0.0' },
    );
  });

  it('of a month that has no such day end with its last', () => {
    const oneMonth: Limit = { months: 1, from: 'start-up' };
    for (const start of ['2026-01-28', '2026-01-29', '2026-01-30', '2026-01-31']) {
      expect(months(day(start), day('2026-02-28'), oneMonth).result).toBe('within');
      expect(months(day(start), day('2026-03-01'), oneMonth).result).toBe('exceeded');
    }
  });

  it('count the last day whole, to its last microsecond', () => {
    const start = '2024-03-14T18:00:00Z';
    expect(months(start, '2026-03-14T23:59:59.999999Z').result).toBe('within');
    expect(months(start, '2026-03-15T00:00:00Z').result).toBe('exceeded');
  });

  it('are counted from what the limit says, and say by which record', () => {
    const delivered: Dated = { at: parseTime(day('2024-01-01')), record: 'm-1', said: 'movement' };
    const limits: Limit[] = [twoYears, { months: 30, from: 'delivery' }];
    const covered = coverageOf(input(limits, day('2026-06-30'), { delivered, startedUp: dated(day('2024-06-30')) }));
    expect(covered.limits.map(({ result, countedFrom, ends }) => [result, countedFrom?.record, ends?.latest])).toEqual([
      ['within', 'r-1', '2026-06-30'],
      ['within', 'm-1', '2026-07-01'],
    ]);
    expect(covered.limits[1]?.text).toBe(
      '30 months from delivery: counted from 2024-01-01 by movement m-1; ending on 2026-07-01; it failed on 2026-06-30, with 1 days left.',
    );
  });

  it('from a day or to a day that is known to the month may be over or not, and say so', () => {
    const both = months(month('2024-03'), month('2026-03'));
    expect(both).toMatchObject({
      ...{ result: 'unknown', share: { least: '0.0', most: '100.0' }, missing: [] },
      limits: [{ ends: { earliest: '2026-03-01', latest: '2026-03-31' }, left: { least: '-30', most: '30' } }],
    });
    expect(both.limits[0]?.text).toContain('which may be before or past the end');
    expect(months(month('2024-03'), month('2026-02')).limits[0]).toMatchObject({
      ...{ result: 'within', left: { least: '1', most: '58' } },
      text: expect.stringContaining('with 1 to 58 days left'),
    });
    expect(months(month('2024-03'), month('2026-04')).limits[0]).toMatchObject({
      ...{ result: 'exceeded', left: { least: '-60', most: '-1' } },
      text: expect.stringContaining('1 to 60 days past the end'),
    });
  });

  it('whose beginning nobody knows can not be counted, and say what is missing', () => {
    const covered = coverageOf(input([twoYears, { months: 30, from: 'delivery' }], day('2026-01-01')));
    expect(covered).toMatchObject({ result: 'unknown', share: null, missing: ['start-up', 'delivery'] });
    expect(covered.limits[1]).toMatchObject({
      ...{ result: 'unknown', countedFrom: null, ends: null, left: null, share: null },
      text: '30 months from delivery: the day of delivery is not known.',
    });
  });
});

describe('running hours', () => {
  const limits: Limit[] = [{ hours: 4000 }];
  const run = (value: string, more: Limit[] = limits) => coverageOf(input(more, day('2026-01-01'), hours(value)));

  it.each([
    ['3120.5', 'within', '879.5', 'with 879.5 h left'],
    ['4000.0', 'within', '0', 'with 0 h left'],
    ['4000.1', 'exceeded', '-0.1', '0.1 h past the end'],
  ])('%s h of 4000: %s', (value, result, left, words) => {
    expect(run(value)).toMatchObject({ result, limits: [{ left: { unit: 'h', least: left, most: left } }] });
    expect(run(value).limits[0]?.text).toBe(`4000 running hours: it had run ${value} h, ${words}.`);
  });

  it('that nobody read are missing, unless another limit is exceeded anyway', () => {
    const both: Limit[] = [{ hours: 4000 }, twoYears];
    const unread = (failed: string) => coverageOf(input(both, day(failed), { startedUp: dated(day('2024-01-01')) }));
    expect(unread('2025-01-01')).toMatchObject({
      result: 'unknown',
      missing: ['hours'],
      share: { least: '0.0', most: '100.0' },
    });
    expect(unread('2027-01-01')).toMatchObject({
      result: 'exceeded',
      missing: ['hours'],
      share: { least: '0.0', most: '0.0' },
    });
  });
});

describe('pro rata', () => {
  it.each([
    ['2000', 'within', '100.0'],
    ['2500', 'pro-rata', '75.0'],
    ['3999', 'pro-rata', '0.1'],
    ['4000', 'exceeded', '0.0'],
  ])('%s h of 2000, to 4000: %s, %s %%', (value, result, share) => {
    const covered = coverageOf(input([{ hours: 2000, proRataTo: 4000 }], day('2026-01-01'), hours(value)));
    expect(covered).toMatchObject({ result, share: { least: share, most: share } });
    if (result === 'pro-rata') expect(covered.limits[0]?.text).toContain(`at 4000 h: ${share} % is left.`);
  });

  it('falls evenly by days, and the least share of all limits counts', () => {
    // Full to 2026-01-01, to nothing on 2027-01-01: 365 days, of which 73 have gone.
    const limit: Limit = { months: 12, from: 'start-up', proRataTo: 24 };
    const start = { startedUp: dated(day('2025-01-01')), ...hours('2500') };
    const byDays = coverageOf(input([limit], day('2026-03-15'), start));
    expect(byDays).toMatchObject({ result: 'pro-rata', share: { least: '80.0', most: '80.0' } });
    const both: Limit[] = [limit, { hours: 2000, proRataTo: 4000 }];
    expect(coverageOf(input(both, day('2026-03-15'), start)).share).toEqual({ least: '75.0', most: '75.0' });
    // Known to the month: 59 to 89 days of 365 have gone on 1 to 31 March.
    const within = coverageOf(input([limit], month('2026-03'), start));
    expect(within).toMatchObject({ result: 'pro-rata', share: { least: '75.6', most: '83.8' } });
    expect(within.limits[0]?.text).toContain('at 24 months: 75.6 to 83.8 % is left.');
  });
});

describe('coverage', () => {
  const aLimit = fc.oneof(
    fc.record({
      months: fc.integer({ min: 1, max: 60 }),
      from: fc.constantFrom('delivery' as const, 'start-up' as const),
    }),
    fc.record({ hours: fc.integer({ min: 1, max: 9000 }) }),
    fc
      .tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 60 }))
      .map(([full, more]): Limit => ({ months: full, from: 'delivery', proRataTo: full + more })),
    fc
      .tuple(fc.integer({ min: 1, max: 9000 }), fc.integer({ min: 1, max: 9000 }))
      .map(([full, more]): Limit => ({ hours: full, proRataTo: full + more })),
  );
  const precision = fc.constantFrom('minute' as const, 'day' as const, 'month' as const);
  const aTime = fc
    .tuple(
      fc.date({ min: new Date('2020-01-01T00:00:00Z'), max: new Date('2030-01-01T00:00:00Z'), noInvalidDate: true }),
      precision,
    )
    .map(([at, how]): TimeInput => ({ at: at.toISOString(), precision: how }));
  const aDate = fc.option(aTime.map(dated));
  const aRun = fc.option(fc.integer({ min: 0, max: 12_000 }).map((value) => ({ value: String(value), unit: 'h' })));
  const anInput: fc.Arbitrary<CoverageInput> = fc.record({
    ...{ limits: fc.array(aLimit, { minLength: 1, maxLength: 4 }), delivered: aDate, startedUp: aDate, hours: aRun },
    failed: aTime.map(parseTime),
  });
  const least = (covered: ReturnType<typeof coverageOf>) => Number(covered.share?.least ?? 0);
  const most = (covered: ReturnType<typeof coverageOf>) => Number(covered.share?.most ?? 100);

  it('never grows with more hours, a later failure or an earlier beginning', () => {
    const later = (at: CoverageInput['failed'], days: number) => {
      const moved = (one: string) => new Date(Date.parse(one) + days * 86_400_000).toISOString().replace('Z', '000Z');
      return { from: moved(at.from), to: moved(at.to) };
    };
    fc.assert(
      fc.property(anInput, fc.integer({ min: 0, max: 2000 }), (one, more) => {
        const before = coverageOf(one);
        const worse = [
          { ...one, failed: later(one.failed, more) },
          { ...one, delivered: one.delivered && { ...one.delivered, at: later(one.delivered.at, -more) } },
          { ...one, startedUp: one.startedUp && { ...one.startedUp, at: later(one.startedUp.at, -more) } },
          { ...one, hours: one.hours && { value: String(Number(one.hours.value) + more), unit: 'h' } },
        ].map(coverageOf);
        for (const after of worse) {
          expect(least(after)).toBeLessThanOrEqual(least(before));
          expect(most(after)).toBeLessThanOrEqual(most(before));
        }
      }),
    );
  });

  it('does not depend on the order in which limits are stated', () => {
    const shuffled = anInput.chain((one) =>
      fc.shuffledSubarray([...one.limits], { minLength: one.limits.length }).map((limits) => ({ one, limits })),
    );
    fc.assert(
      fc.property(shuffled, ({ one, limits }) => {
        const [a, b] = [coverageOf(one), coverageOf({ ...one, limits })];
        expect({ ...b, limits: [], missing: b.missing.toSorted() }).toEqual({
          ...{ ...a, limits: [], missing: a.missing.toSorted() },
        });
      }),
    );
  });

  it('says nothing surer when a time is known less precisely', () => {
    fc.assert(
      fc.property(anInput, fc.integer({ min: 0, max: 400 }), (one, days) => {
        const wider = {
          ...one.failed,
          to: new Date(Date.parse(one.failed.to) + days * 86_400_000).toISOString().replace('Z', '000Z'),
        };
        const [sure, less] = [coverageOf(one), coverageOf({ ...one, failed: wider })];
        expect(least(less)).toBeLessThanOrEqual(least(sure));
        expect(most(less)).toBe(most(sure));
      }),
    );
  });
});
