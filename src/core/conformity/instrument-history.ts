/** What has been stated of one instrument, in the order in which it happened, and what it says of a reading. */
import type { Quantity } from '../quantity/quantity.ts';
import type { CalibrationBody, IncidentBody, InterimCheckBody } from '../records/instrument-bodies.ts';
import type { InstrumentBody } from '../records/stock-bodies.ts';
import { addPeriod } from '../time/add-period.ts';
import { type Instant, type Interval, parseTime } from '../time/instant.ts';
import { type Instrument, permittedAt } from './accuracy.ts';
import type { CalibrationPoint } from './calibration.ts';
import type { ClassedInstrument, TorqueTool } from './permissible-deviation.ts';
import { differenceAt } from './uncertainty.ts';

export type InstrumentEvent = { readonly fact: string; readonly performed: Interval } & (
  | { readonly kind: 'calibration'; readonly body: CalibrationBody }
  | { readonly kind: 'interim-check'; readonly body: InterimCheckBody }
  | { readonly kind: 'incident'; readonly body: IncidentBody }
);
type Calibration = Extract<InstrumentEvent, { kind: 'calibration' }>;
type Examined = Exclude<InstrumentEvent, { kind: 'incident' }>;

/** What is known of an instrument at one time. */
export type Standing = {
  /** The calibration in force then; null: none is known. */
  readonly calibration: Calibration | null;
  /** When its next was due; null: none is known. */
  readonly due: Instant | null;
  /** Due before then, and not found good afterwards. */
  readonly overdue: boolean;
  /** No calibration is known that was in force then, nor a good one afterwards. */
  readonly neverCalibrated: boolean;
  /** What happened to it since it was last found good. */
  readonly suspect: Extract<InstrumentEvent, { kind: 'incident' }> | null;
  /** What it was known to be like, and since when that is sure. */
  readonly earlier: { readonly instrument: Instrument; readonly at: Instant };
  /** The examination after that found it worse than it may be; null: none, or it was good. */
  readonly later: { readonly instrument: Instrument; readonly at: Instant; readonly fact: string } | null;
};

/** A year, where neither certificate nor owner says otherwise: ISO 6789 for torque tools (value from memory). */
export const defaultInterval = 'P12M';

/** With everything that is known by now: what was found later tells of what was before. */
export function standingAt(stated: InstrumentBody, events: readonly InstrumentEvent[], at: Instant): Standing {
  const ordered = events.toSorted(byTime);
  const before = ordered.filter((one) => one.performed.to <= at);
  const renewed = before.findLastIndex(isRenewal);
  const since = before.slice(renewed + 1);
  const after = untilRenewal(ordered.filter((one) => one.performed.to > at));
  const calibration = before.findLast(isCalibration) ?? null;
  const due = calibration === null ? null : dueOf(stated, calibration);
  const foundGood = after.find(isCalibration);
  const isFoundGood = foundGood !== undefined && isGood(stated, foundGood) === true;
  const next = after.find(isExamined) ?? null;
  return {
    ...{ calibration, due, neverCalibrated: calibration === null && !isFoundGood },
    overdue: due !== null && due < at && !isFoundGood,
    suspect: next !== null && isGood(stated, next) === true ? null : suspicion(stated, since),
    earlier: earlierOf(stated, since),
    later: next === null || isGood(stated, next) !== false ? null : foundBy(stated, next),
  };
}

/** When the next calibration is due: as the document says, else after the interval. */
export function dueOf({ interval = defaultInterval }: InstrumentBody, { body, performed }: Calibration): Instant {
  return body.due === undefined ? addPeriod(performed.to, interval) : parseTime(body.due).to;
}

/** The instrument as its owner states it, without any examination. */
export function statedInstrument(stated: InstrumentBody): Instrument {
  const { permissible, resolution, dispersion } = stated;
  return { permissible, resolution, dispersion, torqueTool: torqueToolOf(stated), classed: classedOf(stated) };
}

/** Found within what it may deviate by, at every point. Null: nobody has stated what it may, or nothing was found. */
export function isGood(stated: InstrumentBody, { body }: Examined): boolean | null {
  const found = body.points.flatMap(({ at, asFound }) => (asFound === undefined ? [] : [{ at, asFound }]));
  const verdicts = found.map(({ at, asFound }) => isPermitted(stated, at, asFound));
  if (verdicts.includes(false)) return false;
  return verdicts.length === 0 || verdicts.includes(null) ? null : true;
}

/** Exactly at what it may deviate by it is good still. */
function isPermitted(stated: InstrumentBody, at: Quantity, found: Quantity): boolean | null {
  const most = permittedAt(statedInstrument(stated), at);
  const off = differenceAt(found, at);
  return most === null || off === null ? null : off.abs().compare(most.halfWidth) <= 0;
}

function earlierOf(stated: InstrumentBody, since: readonly InstrumentEvent[]): Standing['earlier'] {
  const examined = since.filter(isExamined);
  const bad = examined.findLast((one) => one.kind === 'interim-check' && isGood(stated, one) === false);
  const calibration = examined.findLast(isCalibration);
  const counts =
    bad !== undefined && (calibration === undefined || bad.performed.to > calibration.performed.to) ? bad : calibration;
  const at = (examined.findLast((one) => one === counts || isGood(stated, one) === true) ?? counts)?.performed.to;
  const points = counts === undefined ? [] : leftBy(counts);
  return { instrument: { ...statedInstrument(stated), ...(points.length > 0 && { points }) }, at: at ?? beginning };
}

/** Nothing is known of it: it may have been so all along. */
const beginning: Instant = '0001-01-01T00:00:00.000000Z';

function foundBy(stated: InstrumentBody, { fact, performed, body }: Examined) {
  const points = body.points.flatMap((point) => {
    const coverageFactor = 'coverage' in body ? body.coverage : '2';
    const uncertainty = 'uncertainty' in point ? point.uncertainty : undefined;
    return point.asFound === undefined ? [] : [pointOf(point.at, point.asFound, uncertainty, coverageFactor)];
  });
  return { instrument: { ...statedInstrument(stated), points }, at: performed.to, fact };
}

/** A certificate's points as the instrument was left; of a check, as it was found: nothing was turned. */
function leftBy({ kind, body }: Examined): CalibrationPoint[] {
  if (kind === 'interim-check') return body.points.map(({ at, asFound }) => pointOf(at, asFound, undefined, '2'));
  if (body.document === 'declaration') return [];
  return body.points.flatMap(({ at, asFound, asLeft, uncertainty }) => {
    const left = asLeft ?? asFound;
    return left === undefined || uncertainty === undefined ? [] : [pointOf(at, left, uncertainty, body.coverage)];
  });
}

function pointOf(
  indicated: Quantity,
  deviation: Quantity,
  uncertainty: Quantity | undefined,
  coverageFactor: string,
): CalibrationPoint {
  return { indicated, deviation, uncertainty: uncertainty ?? null, coverageFactor };
}

function suspicion(stated: InstrumentBody, since: readonly InstrumentEvent[]): Standing['suspect'] {
  const good = since.findLastIndex((one) => isExamined(one) && (isCalibration(one) || isGood(stated, one) === true));
  const happened = since.slice(good + 1).findLast((one) => one.kind === 'incident');
  return happened ?? null;
}

function torqueToolOf({ kind, how, class: name, range }: InstrumentBody): TorqueTool | undefined {
  if (kind !== 'torque-wrench' || name === undefined || range === undefined || how === undefined) return undefined;
  return { type: how === 'set' ? 'II' : 'I', class: name, max: range.max };
}

function classedOf({ kind, class: name, range }: InstrumentBody): ClassedInstrument | undefined {
  return kind === 'torque-wrench' || name === undefined || range === undefined ? undefined : { class: name, range };
}

function byTime(a: InstrumentEvent, b: InstrumentEvent): number {
  return a.performed.to === b.performed.to ? (a.fact < b.fact ? -1 : 1) : a.performed.to < b.performed.to ? -1 : 1;
}

function isCalibration(event: InstrumentEvent): event is Calibration {
  return event.kind === 'calibration';
}

function isExamined(event: InstrumentEvent): event is Examined {
  return event.kind !== 'incident';
}

/** What it was like before says nothing of what it is like after. */
function isRenewal(event: InstrumentEvent): boolean {
  return event.kind === 'incident' && (event.body.what === 'adjusted' || event.body.what === 'repaired');
}

function untilRenewal(events: readonly InstrumentEvent[]): readonly InstrumentEvent[] {
  const renewed = events.findIndex(isRenewal);
  return renewed < 0 ? events : events.slice(0, renewed);
}
