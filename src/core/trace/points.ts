/**
 * What bears on a claim, what is clear and what nobody knows, point by point, each with its basis. A point says what the
 * records prove and never whose fault anything is.
 */
import type { StandingFinding } from '../history/fold.ts';
import { isUnknown } from '../records/parts.ts';
import type { CheckThen, ReadingThen } from './evidence-then.ts';
import type { TracedRecord } from './record.ts';
import type { StationThen } from './unit-then.ts';

export const bearings = ['bears on the claim', 'clear', 'unknown'] as const;
export type Bearing = (typeof bearings)[number];

export const topics = ['station', 'torque', 'setting', 'check', 'finding', 'as-found', 'observation', 'gap'] as const;
export type Point = {
  readonly topic: (typeof topics)[number];
  readonly place: string | null;
  readonly bears: Bearing;
  /** In a sentence, with the numbers. */
  readonly basis: string;
  /** That says so; null: it is what no record says. */
  readonly record: string | null;
};

export function stationPoint({ station, elements, basis, origin, changedUnrecorded }: StationThen): Point {
  const about = { topic: 'station' as const, place: station, record: origin.record };
  const held = elements?.map((one) => `${one.quantity} × ${one.element}`).join(', ') ?? '';
  if (changedUnrecorded !== null) {
    const basisOf = `It was later found otherwise, changed without a record before ${changedUnrecorded.before}.`;
    return { ...about, bears: 'bears on the claim', basis: basisOf };
  }
  if (elements === null || basis === 'unknown')
    return { ...about, bears: 'unknown', basis: 'What sits there is not known.' };
  if (basis === 'assumed')
    return { ...about, bears: 'unknown', basis: `That ${held || 'nothing'} sits there is assumed, nobody looked.` };
  const withoutLot = origin.pieces.filter((piece) => isUnknown(piece.lot));
  if (withoutLot.length > 0)
    return { ...about, bears: 'unknown', basis: `${held}: from which lot it is, is not known.` };
  return { ...about, bears: 'clear', basis: `${held || 'Nothing'} sits there, ${basis}.` };
}

export function readingPoint({
  of,
  place,
  record,
  readings,
  verdictThen,
  verdictNow: now,
  standing,
}: ReadingThen): Point {
  const about = { topic: of, place, record };
  const read = readings.map(({ value, unit }) => `${value} ${unit}`).join(', ');
  if (now === null) return { ...about, bears: 'unknown', basis: `Read as ${read}; no limits are known for it.` };
  const limits = [now.min, now.max]
    .map((limit) => (limit === null ? '–' : `${limit.value} ${limit.unit}`))
    .join(' to ');
  const changed =
    verdictThen !== null && verdictThen.verdict !== now.verdict
      ? `, judged "${verdictThen.verdict}" when it was recorded`
      : '';
  const said = `Read as ${read}, limits ${limits}${changed}`;
  if (now.verdict === 'outside') return { ...about, bears: 'bears on the claim', basis: `${said}: outside.` };
  if (now.verdict === 'undecided')
    return { ...about, bears: 'unknown', basis: `${said}: its instrument can't decide.` };
  if (standing === null)
    return { ...about, bears: 'unknown', basis: `${said}: it conforms as read; of the instrument nothing is known.` };
  if (standing.overdue)
    return {
      ...about,
      bears: 'unknown',
      basis: `${said}: it conforms as read; the calibration was due at ${standing.due}.`,
    };
  if (standing.suspect !== null)
    return { ...about, bears: 'unknown', basis: `${said}: it conforms as read; the instrument was under suspicion.` };
  if (standing.neverCalibrated && (now.basis ?? null) === null)
    return {
      ...about,
      bears: 'unknown',
      basis: `${said}: it conforms as read; nobody has said how true the instrument is.`,
    };
  return { ...about, bears: 'clear', basis: `${said}: it conforms.` };
}

export function checkPoint({ check, result, record }: CheckThen): Point {
  const bears = ({ passed: 'clear', failed: 'bears on the claim' } as const)[result] ?? 'unknown';
  return { topic: 'check', place: check, bears, basis: `Last recorded as ${result}.`, record };
}

/** Of what stood on the units then: a hold bears on it, of a due the evidence never came. */
export function findingPoint(
  { rule, severity, pointer, fact }: Pick<StandingFinding, 'rule' | 'severity' | 'pointer' | 'fact'>,
  records: ReadonlyMap<string, TracedRecord>,
): Point {
  const said = records
    .get(fact)
    ?.judgedNow.findings.find((one) => one.rule === rule && one.pointer === pointer)?.because;
  const isHold = severity === 'hold';
  return {
    ...{ topic: 'finding', place: pointer, record: fact },
    bears: isHold ? 'bears on the claim' : 'unknown',
    basis: `${rule} ${isHold ? 'held the unit' : 'was still due'} then${said === undefined ? '.' : `: ${said}`}`,
  };
}

/** What a record says that its maker didn't know. */
export function gapPoints({ id, technician, lines }: TracedRecord): Point[] {
  const gap = (place: string, why: string): Point => ({
    ...{ topic: 'gap', place, bears: 'unknown', record: id },
    basis: `It is said to be unknown: ${why}`,
  });
  const people = technician !== null && typeof technician !== 'string' ? [gap('technician', technician.unknown)] : [];
  const parts = lines.fitted.flatMap(({ station, element }) =>
    isUnknown(element) ? [gap(station, element.unknown)] : [],
  );
  const tools = [...lines.torques, ...lines.settings].flatMap((line) =>
    isUnknown(line.instrument) ? [gap('joint' in line ? line.joint : line.setting, line.instrument.unknown)] : [],
  );
  return [...people, ...parts, ...tools];
}
