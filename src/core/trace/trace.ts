/** Backward from a unit and a day: everything that went into it, with its evidence then and by what is known now. */
import type { Contradiction, StandingFinding, UnitState } from '../history/fold.ts';
import type { Instant } from '../time/instant.ts';
import { checksThen, type InstrumentOf, readingsThen, sealsThen } from './evidence-then.ts';
import { checkPoint, findingPoint, gapPoints, type Point, readingPoint, stationPoint } from './points.ts';
import type { TracedRecord } from './record.ts';
import { type Records, stationsThen } from './unit-then.ts';

export type UnitTraced = {
  readonly unit: string;
  readonly name: string | null;
  readonly kind: 'pump' | 'control';
  readonly state: UnitState;
  readonly changed: readonly Contradiction[];
  /** With what it was mounted, from when to when. */
  readonly mountings: readonly {
    readonly unit: string;
    readonly name: string | null;
    readonly from: Instant;
    readonly to: Instant | null;
  }[];
};

export type TraceInput = {
  readonly maker: string;
  /** The pump, or the control on its pump; either may be alone. */
  readonly pump: UnitTraced | null;
  readonly control: UnitTraced | null;
  /** Of both, in the order of work, those that count and that the reader may see; up to the time asked. */
  readonly records: readonly TracedRecord[];
  readonly instrumentOf: InstrumentOf;
};

export type Trace = ReturnType<typeof traceOf>;

export function traceOf({ maker, pump, control, records: work, instrumentOf }: TraceInput) {
  const records: Records = new Map(work.map((one) => [one.id, one]));
  const units = [pump, control].filter((one) => one !== null);
  const stations = units.flatMap((unit) =>
    stationsThen(unit.state, { records, changed: unit.changed, maker }).map((one) => ({ unit: unit.unit, ...one })),
  );
  const readings = readingsThen(work, instrumentOf);
  const seals = sealsThen(work, maker);
  const checks = checksThen(work);
  const open = units.flatMap(({ unit, state }) => state.open.map((one) => ({ unit, ...one })));
  return {
    stations,
    settings: readings.filter(({ of }) => of === 'setting'),
    torques: readings.filter(({ of }) => of === 'torque'),
    ...{ seals, checks },
    set: Object.entries(control?.state.settings ?? {}).map(([setting, value]) => ({ setting, ...value })),
    findings: open.map(({ unit, fact, rule, severity, pointer }) => ({ unit, record: fact, rule, severity, pointer })),
    records: work.map(summaryOf),
    points: pointsOf({ stations, readings, checks, open, work, records }),
  };
}

function pointsOf(given: {
  readonly stations: ReturnType<typeof stationsThen>;
  readonly readings: ReturnType<typeof readingsThen>;
  readonly checks: ReturnType<typeof checksThen>;
  readonly open: readonly StandingFinding[];
  readonly work: readonly TracedRecord[];
  readonly records: Records;
}): Point[] {
  return [
    ...given.open.map((one) => findingPoint(one, given.records)),
    ...given.stations.map(stationPoint),
    ...given.readings.map(readingPoint),
    ...given.checks.map(checkPoint),
    ...given.work.flatMap(gapPoints),
  ];
}

/** Who did what when, and by which edition; with what was said of authorisations, then and by now. */
function summaryOf({
  id,
  kind,
  performed,
  recordedAt,
  distributor,
  shop,
  technician,
  edition,
  reference,
  entry,
  judgedThen,
  judgedNow,
}: TracedRecord) {
  const ofPeople = ({ findings }: TracedRecord['judgedThen']) =>
    findings
      .filter(({ rule }) => peopleRules.includes(rule))
      .map(({ rule, severity, because }) => ({ rule, severity, because }));
  return {
    ...{ record: id, kind, performed, recordedAt, distributor, shop, technician, edition, reference, entry },
    ...{ statusThen: judgedThen.status, statusNow: judgedNow.status, cause: judgedNow.cause },
    leaveThen: ofPeople(judgedThen),
    leaveNow: ofPeople(judgedNow),
  };
}

const peopleRules: readonly string[] = [
  'technician-not-authorised',
  'technician-unknown',
  'shop-not-approved',
  'inspected-by-fitter',
];
