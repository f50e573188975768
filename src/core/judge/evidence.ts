/** What a record's readings, seals and checks prove, item by item. Rules and clearing read the same verdicts. */
import type { Joint } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import type { Asked as AskedOfInstrument, Assessment } from '../conformity/assess.ts';
import { type DecisionRule, decisionRuleFor } from '../conformity/decision-rule.ts';
import { allowedRange } from '../fit/plan-settings.ts';
import { onceFor } from '../once-for.ts';
import { isWithin } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { type Range, rangeOf } from '../quantity/range.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { isUnknown } from '../records/parts.ts';
import type { InstrumentBody } from '../records/stock-bodies.ts';
import { assessReading, instrumentOf, type Line } from './assess-reading.ts';
import type { Case, JudgedRecord } from './case.ts';

type Torque = JudgedRecord['torques'][number];
type Person = NonNullable<Torque['by']>;

/** The verdict on one reading, by the rule that is named, with everything that was known when it was given. */
export type Verdict = {
  readonly pointer: string;
  readonly of: 'torque' | 'setting';
  readonly place: string;
  readonly reading: Quantity;
  readonly min: Quantity | null;
  readonly max: Quantity | null;
  readonly rule: Assessment['rule'];
  readonly verdict: Assessment['verdict'];
  /** What was there, as well as can be told: corrected by the certificate, and at the end of an extension. */
  readonly estimate: Quantity;
  /** Standard uncertainty; null, as the probability: nobody has said how true the instrument is. */
  readonly uncertainty: Quantity | null;
  readonly guardBand: Quantity | null;
  readonly probability: number | null;
  readonly basis: Assessment['basis'];
  readonly fitness: Assessment['fitness'];
  /** Where the instrument was later found worse than it may be: as if it had drifted evenly. `verdict` is of the worst. */
  readonly linear: Pick<Assessment, 'verdict' | 'estimate' | 'probability'> | null;
  /** The version of the instrument that was in force, as a fact; null: not known. */
  readonly instrument: string | null;
  /** The calibration that was in force, and the examination that found it worse than it may be; as facts. */
  readonly calibration: string | null;
  readonly foundBy: string | null;
};

/** Reckoned once for a case: its rules, its clearing and its judgement all ask. */
export const verdictsOf = onceFor((judged: Case): readonly Verdict[] => [
  ...torqueVerdicts(judged),
  ...settingVerdicts(judged),
]);

/** Of the entries that count: of a joint or setting the last. */
export function lastVerdicts(judged: Case): Verdict[] {
  const counted = countedReadings(judged).map((one) => `${one.at}/reading`);
  return verdictsOf(judged).filter(({ pointer }) =>
    counted.some((at) => pointer === at || pointer.startsWith(`${at}/`)),
  );
}

function torqueVerdicts(judged: Case): Verdict[] {
  return judged.record.torques.flatMap((torque, index) => {
    const joint = jointOf(judged, torque.joint);
    if (joint === undefined) return [];
    return readingsOf(torque.reading).map((reading, at) => {
      const pointer = `/torques/${index}/reading${Array.isArray(torque.reading) ? `/${at}` : ''}`;
      return verdictOf(judged, torque, {
        pointer,
        of: 'torque',
        place: torque.joint,
        ...torqueAsked(judged, joint, torque, reading),
      });
    });
  });
}

function settingVerdicts(judged: Case): Verdict[] {
  return judged.record.settings.flatMap((entry, index) => {
    const { setting: place, reading } = entry;
    const range = settingRange(judged, place);
    if (range === null) return [];
    const rule = ruleOf(judged, judged.layout.settings.find((one) => one.id === place)?.decisionRule);
    return [
      verdictOf(judged, entry, { pointer: `/settings/${index}/reading`, of: 'setting', place, reading, range, rule }),
    ];
  });
}

type Asked = Omit<AskedOfInstrument, 'highest'>;
type Place = Pick<Verdict, 'pointer' | 'of' | 'place'>;

function verdictOf(judged: Case, line: Line, { pointer, of, place, ...asked }: Place & Asked): Verdict {
  const { assessment, linear, standing } = assessReading(judged, line, asked);
  const {
    rule,
    verdict,
    estimate,
    standardUncertainty: uncertainty,
    guardBand,
    probability,
    basis,
    fitness,
  } = assessment;
  return {
    ...{ pointer, of, place, reading: asked.reading, ...asked.range, rule, verdict },
    ...{ estimate, uncertainty, guardBand, probability, basis, fitness },
    linear: linear && { verdict: linear.verdict, estimate: linear.estimate, probability: linear.probability },
    instrument: instrumentOf(judged, line.instrument)?.fact ?? null,
    calibration: standing?.calibration?.fact ?? null,
    foundBy: standing?.later?.fact ?? null,
  };
}

function torqueAsked(judged: Case, joint: Joint, { adapter }: Torque, reading: Quantity): Asked {
  const rule = ruleOf(judged, joint.decisionRule);
  return { reading, range: rangeOf(joint.torque), rule, ...(adapter !== undefined && { extension: adapter }) };
}

function ruleOf({ edition }: Case, own: DecisionRule['name'] | undefined): DecisionRule {
  return decisionRuleFor(own, edition.demands?.guardBand);
}

/** The last entry for a joint counts: a joint closed again supersedes what was read before. */
export function lastTorque(judged: Case, joint: string): Torque | undefined {
  return judged.record.torques.findLast((one) => one.joint === joint);
}
export function lastSetting(judged: Case, setting: string): JudgedRecord['settings'][number] | undefined {
  return judged.record.settings.findLast((one) => one.setting === setting);
}
export function lastCheck(judged: Case, check: string): JudgedRecord['checks'][number] | undefined {
  return judged.record.checks.findLast((one) => one.check === check);
}

/** A torque, setting or measurement that counts: of a joint or setting the last entry. */
export type CountedReading = {
  readonly at: string;
  readonly kind: 'torque' | 'setting' | 'measurement';
  readonly place: string;
  readonly readings: readonly Quantity[];
  readonly instrument: Torque['instrument'];
  readonly line: Line;
};

export function countedReadings(judged: Case): CountedReading[] {
  const { torques, settings, measurements } = judged.record;
  return [
    ...torques.flatMap((one, index): CountedReading[] => {
      if (lastTorque(judged, one.joint) !== one) return [];
      const { joint, reading, instrument } = one;
      return [
        { at: `/torques/${index}`, kind: 'torque', place: joint, readings: readingsOf(reading), instrument, line: one },
      ];
    }),
    ...settings.flatMap((one, index): CountedReading[] => {
      if (lastSetting(judged, one.setting) !== one) return [];
      const { setting, reading, instrument } = one;
      return [
        { at: `/settings/${index}`, kind: 'setting', place: setting, readings: [reading], instrument, line: one },
      ];
    }),
    ...measurements.map((one, index): CountedReading => {
      const { measured: place, reading, instrument } = one;
      const at = `/measurements/${index}`;
      return { at, kind: 'measurement', place, readings: [reading], instrument, line: one };
    }),
  ];
}

/** Who is named beside single lines of a record, with the pointer to each. */
export function peopleOfLines(record: JudgedRecord): { readonly pointer: string; readonly by: Person }[] {
  return (['removed', 'fitted', 'seals', 'torques', 'settings', 'checks', 'measurements'] as const).flatMap((list) =>
    record[list].flatMap(({ by }, index) => (by === undefined ? [] : [{ pointer: `/${list}/${index}/by`, by }])),
  );
}

export function jointOf(judged: Case, id: string): Joint | undefined {
  return judged.layout.joint.get(id);
}

/** Whether the control is on a pump when the work is done: only there is it set, tested for leaks and re-marked. */
export function staysOnPump({ pump, record }: Case): boolean {
  return pump !== null && record.mounting?.on !== false;
}

/** Bounds of a setting in the declared function; null where the function doesn't have it. */
export function settingRange(judged: Case, setting: string): Range | null {
  const { target, edition, layout, after } = judged;
  if (target === null || 'refused' in target) return null;
  if (!target.function.settings.some((one) => one.setting === setting)) return null;
  // A spring limits the setting from wherever it sits: often it is not at the station of the adjuster.
  const fitted = Object.values(after).flatMap(({ elements }) => elements ?? []);
  return allowedRange(edition, layout, target.function, setting, fitted);
}

/** Every screw of the joint has a reading within limits, from a torque wrench that is known and reaches so far. */
export function isClosed(judged: Case, jointId: string): boolean {
  const joint = jointOf(judged, jointId);
  const torque = lastTorque(judged, jointId);
  if (joint === undefined || torque === undefined) return false;
  const instrument = instrumentOf(judged, torque.instrument)?.statement;
  const readings = readingsOf(torque.reading);
  return (
    readings.length >= joint.count &&
    instrument?.kind === 'torque-wrench' &&
    conforms(judged, `/torques/${judged.record.torques.indexOf(torque)}`) &&
    readings.every((reading) => reaches(instrument, reading))
  );
}

/** Enough seals of the right size, known by name, in a compound that stands the fluid. */
export function isSealed(judged: Case, jointId: string): boolean {
  const needs = jointOf(judged, jointId)?.seals;
  return needs?.every(({ seal: size, quantity }) => sealsFor(judged, jointId, size) >= quantity) === true;
}

function sealsFor(judged: Case, jointId: string, size: string): number {
  return judged.record.seals
    .filter((one) => one.joint === jointId && typeof one.seal === 'string' && standsFluid(judged, one.seal))
    .filter((one) => typeof one.seal === 'string' && elementOf(judged.edition, one.seal)?.fits === size)
    .reduce((sum, one) => sum + one.quantity, 0);
}

export function standsFluid(judged: Case, seal: string): boolean {
  const fluid = judged.pumpAtHand?.fluid ?? null;
  const fluids = elementOf(judged.edition, seal)?.fluids;
  return fluid === null || fluids === undefined || fluids.includes(fluid);
}

/** The last reading of the setting is within bounds, at its point, from gauges or stands that are known and reach so far. */
export function isSet(judged: Case, setting: string): boolean {
  const entry = lastSetting(judged, setting);
  if (entry === undefined || !conforms(judged, `/settings/${judged.record.settings.indexOf(entry)}`)) return false;
  if (conditionsMissed(judged, entry).length > 0) return false;
  if (isUnknown(entry.instrument)) return isCounted(judged, setting);
  const instrument = instrumentOf(judged, entry.instrument)?.statement;
  if (entry.second !== undefined && !canSet(instrumentOf(judged, entry.second)?.statement)) return false;
  return canSet(instrument) && reaches(instrument, entry.reading);
}

function canSet(instrument: InstrumentBody | undefined): instrument is InstrumentBody {
  return instrument !== undefined && instrument.kind !== 'torque-wrench';
}

/** Turns are counted and angles read off a scale: no instrument gives them that could be found wrong. */
export function isCounted({ layout }: Case, setting: string): boolean {
  return layout.settings.find((one) => one.id === setting)?.quantity === 'angle';
}

/** What the reading says that it was taken at, and the edition says otherwise. */
export function conditionsMissed(
  { layout }: Case,
  { setting, conditions = {} }: JudgedRecord['settings'][number],
): { readonly name: string; readonly value: Quantity; readonly range: Range }[] {
  const asked = layout.settings.find((one) => one.id === setting)?.at ?? {};
  return Object.entries(asked).flatMap(([name, limits]) => {
    const value = Object.hasOwn(conditions, name) ? conditions[name] : undefined;
    const range = rangeOf(limits);
    return value === undefined || isIn(value, range) ? [] : [{ name, value, range }];
  });
}

export function reaches({ range }: InstrumentBody, reading: Quantity): boolean {
  return range === undefined || isIn(reading, range);
}

export function readingsOf(reading: Quantity | readonly Quantity[]): readonly Quantity[] {
  return Array.isArray(reading) ? reading : [reading as Quantity];
}

/** Limits included. A reading in another dimension is within nothing: `unit-wrong` says so. */
function isIn(reading: Quantity, { min, max }: Range): boolean {
  const isComparable = [min, max].every(
    (limit) => limit === null || dimensionOf(limit.unit) === dimensionOf(reading.unit),
  );
  return isComparable && isWithin(reading, min, max);
}

/** Every reading of the line; a line that has no verdict doesn't. */
function conforms(judged: Case, line: string): boolean {
  const verdicts = verdictsOf(judged).filter(({ pointer }) => pointer.startsWith(`${line}/`));
  return verdicts.length > 0 && verdicts.every(({ verdict }) => verdict === 'conforms');
}
