/**
 * Records that nothing is wrong with, on the demo edition, and ways to change one field of them and to do one after
 * another. Bodies are JSON as callers send it and pass through the schemas of the service.
 */

import type { Edition, RecordKind } from '../../src/core/catalogue/edition.ts';
import type { InstrumentEvent } from '../../src/core/conformity/instrument-history.ts';
import type { UnitEvent } from '../../src/core/history/event.ts';
import { fold, type UnitState } from '../../src/core/history/fold.ts';
import type { Approval, Case, JudgedRecord, KnownPerson, UnitAtHand } from '../../src/core/judge/case.ts';
import { type Judged, judge } from '../../src/core/judge/judge.ts';
import { makeCase } from '../../src/core/judge/make-case.ts';
import {
  adjustmentBody,
  conversionBody,
  inspectionBody,
  mountingBody,
  repairBody,
  testBody,
} from '../../src/core/records/bodies.ts';
import { frame as recordFrame } from '../../src/core/records/parts.ts';
import { instrumentBody, lotBody } from '../../src/core/records/stock-bodies.ts';
import { allRules } from '../../src/core/rules/all-rules.ts';
import type { Finding } from '../../src/core/rules/finding.ts';
import { findingsOf, type Rule } from '../../src/core/rules/rule.ts';
import type { Overdrawn } from '../../src/core/stock/ledger.ts';
import { addMicroseconds, parseTime } from '../../src/core/time/instant.ts';
import { changed, editionNamed } from './editions/editions.ts';

export type SetupUnit = {
  readonly name: string;
  readonly hasName: boolean;
  readonly events: readonly UnitEvent[];
  /** Work recorded already that comes after this record's. */
  readonly later?: readonly UnitEvent[];
  readonly whereabouts?: UnitAtHand['whereabouts'];
};

/** A record that somebody sends, beside all that the service has to judge it by. JSON throughout, but for `edition`. */
export type Setup = {
  readonly kind: RecordKind;
  readonly fact: string;
  readonly body: Readonly<Record<string, unknown>>;
  readonly now: string;
  readonly edition: Edition;
  readonly newerEdition: string | null;
  readonly referenceUsedBy: string | null;
  readonly afterIsKnown: boolean;
  readonly tagTakenBy?: string;
  readonly sameTime?: readonly UnitEvent[];
  readonly shops: readonly string[];
  readonly attachments: readonly string[];
  readonly technicians: Readonly<Record<string, Omit<KnownPerson, 'authorisations'> & Partial<KnownPerson>>>;
  /** What the maker has approved. */
  readonly approvals?: readonly Approval[];
  readonly instruments: Readonly<Record<string, unknown>>;
  /** What happened to them, by their ids. */
  readonly instrumentEvents?: Readonly<Record<string, readonly InstrumentEvent[]>>;
  /** By maker and number. */
  readonly lots: Readonly<Record<string, unknown>>;
  /** Lots of which something came in, by maker and number: what the record took that wasn't there. */
  readonly stock: Readonly<Record<string, readonly Overdrawn[]>>;
  /** Where else parts with serials are, by the line of `fitted`. */
  readonly twice: Readonly<Record<string, string>>;
  readonly control: SetupUnit;
  readonly pump: SetupUnit | null;
  readonly elsewhere: Case['elsewhere'];
};

export const attachment = `sha256:${'ab'.repeat(32)}`;
export const controlUnit = 'unit-control';
export const pumpUnit = 'unit-pump';
const demo = editionNamed('demo');

/** With some places changed, by JSON pointer into the setup; `undefined` takes out what is there. */
export function change(setup: Setup, changes: Readonly<Record<string, unknown>>): Setup {
  const { edition, ...rest } = setup;
  const pointers = Object.keys(changes);
  // An edition is only copied where it is changed: what is looked up in it is kept with the object.
  return pointers.some((pointer) => pointer.startsWith('/edition'))
    ? (changed(setup, changes) as Setup)
    : { ...(changed(rest, changes) as Omit<Setup, 'edition'>), edition };
}

export function caseOf(setup: Setup): Case {
  const made = makeCase(inputOf(setup));
  if ('unknown' in made) throw new Error(made.unknown);
  return made;
}

export function inputOf(setup: Setup): Parameters<typeof makeCase>[0] {
  const { record, performedAt, builtFor } = parsed(setup);
  const { kind, fact, now, edition, newerEdition, referenceUsedBy, afterIsKnown, control, pump, elsewhere } = setup;
  const { tagTakenBy = null, sameTime = [] } = setup;
  const of = setup.body['pump'] === undefined ? 'control' : 'pump';
  const hours = (kind: string) => ({
    hours: kind === of ? (recordFrame.hours.parse(setup.body['hours']) ?? null) : null,
  });
  const withFacts = <T>(list: Readonly<Record<string, unknown>>, parse: (input: unknown) => T) =>
    new Map(Object.entries(list).map(([id, input]) => [id, { fact: `fact-of-${id}`, statement: parse(input) }]));
  return {
    ...{
      kind,
      fact,
      record,
      now,
      edition,
      newerEdition,
      referenceUsedBy,
      afterIsKnown,
      elsewhere,
      tagTakenBy,
      sameTime,
    },
    performed: parseTime(performedAt),
    known: {
      shops: new Set(setup.shops),
      attachments: new Set(setup.attachments),
      technicians: new Map(Object.entries(setup.technicians).map(([id, one]) => [id, { authorisations: [], ...one }])),
      approvals: setup.approvals ?? [],
      instruments: new Map(
        [...withFacts(setup.instruments, (input) => instrumentBody.parse(input))].map(([id, one]) => [
          id,
          { ...one, events: setup.instrumentEvents?.[id] ?? [] },
        ]),
      ),
      lots: withFacts(setup.lots, (input) => lotBody.parse(input)),
    },
    stock: new Map(Object.entries(setup.stock)),
    twice: new Map(Object.entries(setup.twice).map(([index, where]) => [Number(index), where])),
    control: { ...atHand(control), ...hours('control'), unit: controlUnit, state: fold(controlUnit, control.events) },
    pump: pump && { ...atHand(pump), ...hours('pump'), unit: pumpUnit, state: fold(pumpUnit, pump.events) },
    builtFor,
  };
}

function atHand({ name, hasName, later = [], whereabouts = 'unknown' }: SetupUnit) {
  return { name, hasName, later, whereabouts };
}

function parsed({ kind, body }: Setup): {
  record: JudgedRecord;
  performedAt: Parameters<typeof parseTime>[0];
  builtFor: Case['builtFor'] | undefined;
} {
  const without = { removed: [], fitted: [], found: undefined, opened: undefined, sheet: undefined, to: undefined };
  if (kind === 'conversion') {
    const read = conversionBody.parse(body);
    const builtFor = read.for as Case['builtFor'] | undefined;
    return { record: { ...without, ...read, mounting: null }, performedAt: read.performedAt, builtFor };
  }
  if (kind === 'mounting') {
    const read = mountingBody.parse(body);
    const record = { ...without, ...read, mounting: { on: read.on, tag: read.tag } };
    return { record, performedAt: read.performedAt, builtFor: undefined };
  }
  if (kind === 'test') {
    const read = testBody.parse(body);
    return {
      record: { ...without, seals: [], torques: [], ...read, mounting: null },
      performedAt: read.performedAt,
      builtFor: undefined,
    };
  }
  const schemas = { inspection: inspectionBody, repair: repairBody, adjustment: adjustmentBody };
  const read = schemas[kind].parse(body);
  return { record: { ...without, ...read, mounting: null }, performedAt: read.performedAt, builtFor: undefined };
}

export function judged(setup: Setup): Judged {
  return judge(caseOf(setup));
}

export function kept(setup: Setup): Exclude<Judged, { refused: unknown }> {
  const result = judged(setup);
  if ('refused' in result) throw new Error(result.refused.map((one) => one.text).join('\n'));
  return result;
}

/** Every finding that these rules have, refused or not. */
export function findings(setup: Setup, rules: readonly Rule[] = allRules): Finding[] {
  const made = caseOf(setup);
  return rules.flatMap((rule) => findingsOf(rule, made));
}

export function findingsBy(rule: string, setup: Setup): Finding[] {
  return findings(setup).filter((one) => one.rule === rule);
}

/** The events of both units once this record is kept. */
export function events(setup: Setup): { control: readonly UnitEvent[]; pump: readonly UnitEvent[] } {
  const { effects } = kept(setup);
  const { from, to } = parseTime(parsed(setup).performedAt);
  const after = (unit: string, before: readonly UnitEvent[]): readonly UnitEvent[] => [
    ...before,
    ...effects
      .filter((one) => one.unit === unit)
      .map(({ effect }) => ({
        ...{ unit, seq: before.length + 1, prev: null, fact: setup.fact, kind: setup.kind, after: null, effect },
        ...{ performedFrom: from, performedTo: to, recordedAt: setup.now },
      })),
  ];
  return { control: after(controlUnit, setup.control.events), pump: after(pumpUnit, setup.pump?.events ?? []) };
}

export type Kept = { readonly control: UnitState; readonly pump: UnitState };

/** Control and pump once this record is kept. */
export function states(setup: Setup): Kept {
  const { control, pump } = events(setup);
  return { control: fold(controlUnit, control), pump: fold(pumpUnit, pump) };
}

/** The second record, done an hour after the first was recorded, on the units as the first left them. */
export function follow(first: Setup, second: Setup): Setup {
  const { control, pump } = events(first);
  const hour = 3_600_000_000;
  return {
    ...second,
    body: { ...second.body, performedAt: addMicroseconds(first.now, hour) },
    now: addMicroseconds(first.now, 2 * hour),
    fact: `${first.fact}+`,
    edition: first.edition,
    control: { ...second.control, events: control },
    pump: second.pump && { ...second.pump, events: first.pump === null ? second.pump.events : pump },
  };
}

/** Load sensing with a bleed to load sensing without, on a pump. Nothing is against it. */
export function conversionOnPump(): Setup {
  return setupOf('conversion', conversion, { controlOnPump: true });
}

/** The same on the shelf: settings, locknut and the checks on a pump are still to come. */
export function conversionOnShelf(): Setup {
  const { settings, torques, checks, ...rest } = conversion;
  const body = {
    ...rest,
    for: { size: '83', rotation: 'clockwise' },
    torques: torques.slice(0, 2),
    checks: checks.slice(0, 1),
  };
  return change(setupOf('conversion', body, { controlOnPump: false }), { '/pump': null });
}

/** A control of the shelf, put on a bare pump. */
export function mounting(): Setup {
  return setupOf('mounting', mountingOn, { controlOnPump: false });
}

export function takingOff(): Setup {
  return setupOf('mounting', { ...frame, ...bothUnits, on: false }, { controlOnPump: true });
}

/** The pressure limit set anew. */
export function adjustment(): Setup {
  return setupOf('adjustment', adjusted, { controlOnPump: true });
}

/** The front taken off to look at the bleed, and closed again. */
export function inspection(): Setup {
  const { to, removed, fitted, ...rest } = conversion;
  const found = { stations: { 'bleed-seat': [{ element: 'orifice-0.6' }] } };
  return setupOf('inspection', { ...rest, opened: ['sense-adjuster'], found }, { controlOnPump: true });
}

/** The plug of the bleed renewed, behind the front that is taken off and closed again. */
export function repair(): Setup {
  const { to, ...rest } = conversion;
  const removed = [{ station: 'bleed-seat', element: 'orifice-0.6' }];
  const fitted = [{ station: 'bleed-seat', element: 'orifice-0.6', lot: 'L-2311-2' }];
  return setupOf('repair', { ...rest, removed, fitted }, { controlOnPump: true });
}

/** Run on its pump: nothing opened, a setting read, the leak and the function looked at. */
export function testRun(): Setup {
  const { to, removed, fitted, seals, torques, ...rest } = conversion;
  const measurements = [{ measured: 'case-drain-flow', reading: q('1.8', 'L/min'), instrument: 'stand-1' }];
  return setupOf('test', { ...rest, measurements }, { controlOnPump: true });
}

function setupOf(
  kind: RecordKind,
  body: Record<string, unknown>,
  { controlOnPump }: { controlOnPump: boolean },
): Setup {
  return {
    ...{ kind, fact: 'fact', body, edition: demo, now: '2026-03-14T12:00:00.000000Z', shops: ['brackwater-north'] },
    attachments: [attachment],
    ...{ newerEdition: null, referenceUsedBy: null, afterIsKnown: true },
    technicians: { 't-17': { id: 'person-17', subject: null }, 't-18': { id: 'person-18', subject: null } },
    instruments: {
      'wrench-1': { kind: 'torque-wrench', range: { min: q('10', 'N.m'), max: q('100', 'N.m') } },
      'wrench-2': { kind: 'torque-wrench', range: { min: q('2', 'N.m'), max: q('12', 'N.m') } },
      'gauge-1': { kind: 'gauge', range: { min: q('0', 'bar'), max: q('400', 'bar') } },
      'stand-1': { kind: 'stand' },
    },
    lots: {
      'ardenholm/L-2402-7': { part: 'kit-sense' },
      'ardenholm/L-2311-2': { part: 'seals-bought-loose' },
      'tollan/L-9': { part: 'plug-m5' },
    },
    stock: { 'ardenholm/L-2402-7': [], 'ardenholm/L-2311-2': [], 'tollan/L-9': [] },
    twice: {},
    control: {
      ...{ name: 'K-20931', hasName: true },
      events: [
        born(controlUnit, {
          born: { kind: 'control', body: 'curlew-block' },
          function: 'load-sense-bled',
          found: built(loadSenseBled),
          ...(controlOnPump && {
            mounted: { with: pumpUnit, on: true },
            settings: { 'pressure-limit': q('210', 'bar'), differential: q('20', 'bar') },
          }),
        }),
      ],
    },
    pump: {
      ...{ name: 'P-4410', hasName: true },
      events: [
        born(pumpUnit, {
          born: { kind: 'pump', series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' },
          found: built(pumpWithoutLinkage),
          ...(controlOnPump && { mounted: { with: controlUnit, on: true } }),
        }),
      ],
    },
    elsewhere: { onPump: null, underControl: null },
  };
}

/** The event with which a unit begins. */
export function born(unit: string, effect: UnitEvent['effect']): UnitEvent {
  const at = '2026-02-02T08:00:00.000000Z';
  return {
    ...{ unit, seq: 1, prev: null, fact: `born-${unit}`, kind: 'registration', after: null, effect },
    ...{ performedFrom: at, performedTo: at, recordedAt: at },
  };
}

/** Work on a unit that is done after the record of a test and recorded before it. */
export function laterWork(effect: UnitEvent['effect']): UnitEvent {
  const at = '2026-06-01T08:00:00.000000Z';
  return {
    ...{ unit: 'unit', seq: 9, prev: null, fact: 'later', kind: 'conversion', after: null, effect },
    ...{ performedFrom: at, performedTo: at, recordedAt: at },
  };
}

export function built(stations: Readonly<Record<string, Readonly<Record<string, number>>>>) {
  return Object.fromEntries(
    Object.entries(stations).map(([station, held]) => [
      station,
      {
        elements: Object.entries(held).map(([element, quantity]) => ({ element, quantity })),
        basis: 'built' as const,
      },
    ]),
  );
}

export function q(value: string, unit: string) {
  return { value, unit };
}

function wrenched(joint: string, value: string, instrument = 'wrench-1') {
  return { joint, how: 'set', reading: q(value, 'N.m'), instrument };
}

function gauged(setting: string, value: string) {
  return { setting, reading: q(value, 'bar'), instrument: 'gauge-1' };
}

const passed = (...checks: readonly string[]) => checks.map((check) => ({ check, result: 'passed' }));

export const loadSenseBled = {
  ...{ 'pressure-adjuster': { 'adjuster-250': 1 }, 'damping-stack': { 'washer-damping': 1, 'shim-0.5': 2 } },
  ...{ 'pilot-seat': { 'plug-m5': 1 }, 'drain-seat': { 'orifice-1.0': 1 }, 'vent-seat': {} },
  ...{ 'sense-adjuster': { 'adjuster-sense': 1 }, 'sense-spring': { 'spring-sense-16': 1 } },
  ...{ 'sense-bore': { 'spool-sense': 1 }, 'bleed-seat': { 'orifice-0.6': 1 } },
  ...{ 'coil-cavity': { 'cartridge-blank': 1 }, 'signal-port': { 'port-fitting': 1 } },
  ...{ 'remote-port': { 'port-plug': 1 }, 'test-port': { 'port-plug': 1 } },
};

export const pumpWithoutLinkage = {
  ...{ 'pump/displacement-stop': { 'stop-screw': 1 }, 'pump/linkage': {} },
  ...{ 'pump/torque-spring': {}, 'pump/torque-adjuster': {} },
};

const frame = {
  ...{ reference: 'BR-2026-004711', edition: '2026-1', performedAt: '2026-03-14T10:25:00+01:00' },
  ...{ shop: 'brackwater-north', technician: 't-17' },
};
const oneUnit = { control: { maker: 'ardenholm', serial: 'K-20931' } };
const bothUnits = { ...oneUnit, pump: { maker: 'ardenholm', serial: 'P-4410' } };

const conversion = {
  ...{ ...frame, ...oneUnit, to: { function: 'load-sense' } },
  removed: [{ station: 'bleed-seat', element: 'orifice-0.6' }],
  fitted: [{ station: 'bleed-seat', element: 'plug-m5', lot: 'L-2402-7' }],
  seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-fkm', lot: 'L-2311-2' }],
  torques: [
    wrenched('bleed-seat-element', '5.5', 'wrench-2'),
    wrenched('sense-adjuster-body', '61.0'),
    wrenched('sense-adjuster-locknut', '21'),
  ],
  settings: [gauged('differential', '20')],
  checks: passed('make-safe', 'leak-free', 'function-check', 'plate-marked'),
};

const mountingOn = {
  ...{ ...frame, ...bothUnits, on: true },
  seals: [{ joint: 'mounting', seal: 'seal-face-fkm', quantity: 3, lot: 'L-2311-2' }],
  torques: [
    { ...wrenched('mounting', '25'), reading: ['25', '25.5', '24.5', '25'].map((value) => q(value, 'N.m')) },
    wrenched('pressure-adjuster-locknut', '21'),
    wrenched('sense-adjuster-locknut', '21'),
  ],
  settings: [gauged('pressure-limit', '210'), gauged('differential', '20')],
  checks: passed('make-safe', 'leak-free', 'function-check', 'plate-marked'),
};

const adjusted = {
  ...{ ...frame, ...oneUnit },
  torques: [wrenched('pressure-adjuster-locknut', '21')],
  settings: [gauged('pressure-limit', '215')],
  checks: passed('make-safe'),
};
