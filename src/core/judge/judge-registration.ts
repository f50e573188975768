/** The judgement on a registration: a unit, or a pump with the control on it, as somebody saw it. */
import type { Demand } from '../catalogue/edition.ts';
import { onPump } from '../catalogue/lookup.ts';
import type { Basis, Content, Held } from '../fit/fit.ts';
import type { BuiltFor } from '../fit/target-function.ts';
import type { Birth, Effect, UnitEffect } from '../history/event.ts';
import { fold } from '../history/fold.ts';
import type { ControlRegistration, PumpRegistration } from '../records/bodies.ts';
import { isUnknown } from '../records/parts.ts';
import { allRules } from '../rules/all-rules.ts';
import type { Finding } from '../rules/finding.ts';
import { findingsOf } from '../rules/rule.ts';
import type { Case, JudgedRecord, UnitAtHand } from './case.ts';
import type { Judged } from './judge.ts';
import { type CaseInput, makeCase } from './make-case.ts';

type Stated = Pick<ControlRegistration, 'function' | 'basis' | 'choices' | 'stations'> & {
  readonly settings?: NonNullable<PumpRegistration['control']>['settings'];
};

export type RegistrationInput = Pick<CaseInput, 'fact' | 'performed' | 'now' | 'edition' | 'newerEdition' | 'known'> & {
  readonly registers:
    | { readonly of: 'control'; readonly unit: string; readonly name: string; readonly body: ControlRegistration }
    | {
        readonly of: 'pump';
        readonly unit: string;
        readonly name: string;
        readonly control: string;
        readonly body: PumpRegistration;
      };
  readonly builtAt: string | null;
};

/** `control` is the id for the control on a registered pump, whether it has a serial or not. */
export function judgeRegistration(input: RegistrationInput): Judged | { readonly unknown: string } {
  const { registers, builtAt } = input;
  const { control, pump } = unitsOf(input);
  const stated = statedOf(registers);
  const judged = makeCase({
    ...input,
    stock: new Map(),
    twice: new Map(),
    kind: 'registration',
    record: recordOf(registers.body, stated),
    referenceUsedBy: null,
    afterIsKnown: true,
    control,
    pump,
    elsewhere: { onPump: null, underControl: null },
    sameTime: [],
    builtFor: builtForOf(registers),
  });
  if ('unknown' in judged) return judged;
  const misplaced = notOnThisSize(judged);
  const findings = [...allRules.flatMap((rule) => findingsOf(rule, judged)), ...misplaced].map((one) =>
    placed(one, registers),
  );
  const refused = findings.filter((one) => one.severity === 'refuse');
  if (refused.length > 0) return { refused };
  const contents = contentsOf(judged, stated, (station) => basisOf(registers, station));
  return {
    judgement: { findings, verdicts: [], status: 'released', fit: contents, function: stated.function ?? null },
    effects: effectsOf(registers, contents, stated, builtAt),
  };
}

function builtForOf({ of, body }: RegistrationInput['registers']): BuiltFor | undefined {
  return (of === 'control' ? body.for : body.control?.for) as BuiltFor | undefined;
}

function unitsOf({ registers, builtAt }: RegistrationInput): { control: UnitAtHand; pump: UnitAtHand | null } {
  if (registers.of === 'control') {
    return {
      control: newUnit(registers.unit, registers.name, { kind: 'control', body: registers.body.body }, builtAt),
      pump: null,
    };
  }
  const { control, body } = registers;
  const born = body.control === null ? null : ({ kind: 'control', body: body.control.body } as const);
  return {
    control: newUnit(control, body.control?.serial ?? `the control of ${registers.name}`, born, born && builtAt),
    pump: newUnit(registers.unit, registers.name, pumpBirth(body), builtAt),
  };
}

function pumpBirth({ series, size, rotation, fluid }: PumpRegistration): Birth {
  return { kind: 'pump', series, size, rotation, fluid: fluid ?? null };
}

function newUnit(unit: string, name: string, born: Birth | null, builtAt: string | null): UnitAtHand {
  const state = { ...fold(unit, []), born, builtAt };
  return { unit, name, hasName: true, later: [], state, hours: null, whereabouts: 'unknown' };
}

/** What is stated of control and pump together. */
function statedOf(registers: RegistrationInput['registers']): Stated {
  if (registers.of === 'control') return registers.body;
  const { control, stations, basis } = registers.body;
  if (control === null) return { basis, ...(stations && { stations }) };
  return { ...control, stations: { ...control.stations, ...stations } };
}

function recordOf(body: ControlRegistration | PumpRegistration, stated: Stated): JudgedRecord {
  const chosen = Object.entries(stated.choices ?? {}).map(([station, element]) => [
    station,
    [{ element, quantity: 1 }],
  ]);
  const stations = Object.entries(stated.stations ?? {}).map(([station, { content }]) => [station, content]);
  return {
    technician: body.technician ?? null,
    shop: body.shop ?? null,
    found: {
      ...(typeof stated.function === 'string' && { function: stated.function }),
      stations: Object.fromEntries([...chosen, ...stations]) as NonNullable<JudgedRecord['found']>['stations'],
      ...(stated.settings && { settings: stated.settings }),
    },
    to: undefined,
    mounting: null,
    opened: undefined,
    sheet: undefined,
    removed: [],
    fitted: [],
    seals: [],
    torques: [],
    circuit: {},
    settings: [],
    checks: [],
    measurements: [],
    attachments: [],
  };
}

/** What each station holds and how that is known: as stated, else as the function has it. */
function contentsOf(judged: Case, stated: Stated, basisAt: (station: string) => Basis): Record<string, Content> {
  const demands = judged.foundPattern;
  return Object.fromEntries(
    Object.entries(judged.found).map(([station, content]): [string, Content] => {
      const own = stated.stations?.[station];
      const basis = basisAt(station);
      if (own !== undefined)
        return [station, withBasis(content.elements, isUnknown(own.content) ? 'unknown' : (own.basis ?? basis))];
      const isChoice = leavesOpen(demands[station] ?? 'keep');
      const isChosen = stated.choices?.[station] !== undefined;
      return [station, withBasis(content.elements, isChoice && !isChosen ? 'assumed' : basis)];
    }),
  );
}

/** Whether a function says no more than some of what sits there: one of several, or up to a number. */
function leavesOpen(demand: Demand): boolean {
  if (demand === 'none' || demand === 'keep') return false;
  return demand.some((one) => (typeof one === 'string' ? demand.length > 1 : 'upTo' in one));
}

/** The control on a pump has a basis of its own. */
function basisOf(registers: RegistrationInput['registers'], station: string): Basis {
  if (registers.of === 'control' || registers.body.control === null || station.startsWith(onPump))
    return registers.body.basis;
  return registers.body.control.basis;
}

/** What is said to be unknown has no content, and what has none is unknown. */
function withBasis(elements: readonly Held[] | null, basis: Basis): Content {
  return elements === null || basis === 'unknown' ? { elements: null, basis: 'unknown' } : { elements, basis };
}

function effectsOf(
  registers: RegistrationInput['registers'],
  contents: Record<string, Content>,
  stated: Stated,
  builtAt: string | null,
): UnitEffect[] {
  const side = (ofPump: boolean) =>
    Object.fromEntries(Object.entries(contents).filter(([station]) => station.startsWith(onPump) === ofPump));
  const built = builtAt === null ? {} : { builtAt };
  const { hours } = registers.body;
  const run = hours === undefined ? {} : { hours };
  const control = (body: string): Effect => ({
    born: { kind: 'control', body },
    ...built,
    found: side(false),
    function: stated.function ?? null,
  });
  if (registers.of === 'control') {
    const { body } = registers;
    return [
      {
        unit: registers.unit,
        effect: { ...control(body.body), ...run, ...(body.for && { builtFor: body.for as BuiltFor }) },
      },
    ];
  }
  const { body } = registers;
  const pump: Effect = { born: pumpBirth(body), ...built, ...run, found: side(true) };
  if (body.control === null) return [{ unit: registers.unit, effect: pump }];
  return [
    { unit: registers.unit, effect: { ...pump, mounted: { with: registers.control, on: true } } },
    {
      unit: registers.control,
      effect: {
        ...control(body.control.body),
        mounted: { with: registers.unit, on: true },
        ...(stated.settings && { settings: stated.settings }),
      },
    },
  ];
}

function notOnThisSize({ layout, pumpAtHand }: Case): Finding[] {
  if (layout.size === null || layout.body.id === '' || layout.size.bodies.includes(layout.body.id)) return [];
  const because = `Body ${layout.body.id} doesn't go on size ${pumpAtHand?.size}.`;
  return [
    {
      rule: 'function-not-offered',
      severity: 'refuse',
      pointer: '/control/body',
      expected: layout.size.bodies.join(' or '),
      found: layout.body.id,
      because,
      clearedBy: [],
      text: because,
    },
  ];
}

/** From where a record states a thing to where a registration does. */
function placed(finding: Finding, registers: RegistrationInput['registers']): Finding {
  const at = registers.of === 'pump' ? '/control' : '';
  const pointer = finding.pointer
    .replace(/^\/found\/stations\/([^/]*)(.*)$/, (_, token: string, rest: string) =>
      stationPlace(registers, at, token, rest),
    )
    .replace(/^\/found\/(function|settings)/, `${at}/$1`);
  return { ...finding, pointer };
}

/** A station is stated for itself, of the pump or of the control, or chosen. */
function stationPlace(registers: RegistrationInput['registers'], at: string, token: string, rest: string): string {
  const station = token.replaceAll('~1', '/').replaceAll('~0', '~');
  const { stations } = registers.body;
  if (registers.of === 'pump' && stations?.[station] !== undefined) return `/stations/${token}/content${rest}`;
  const own = registers.of === 'pump' ? registers.body.control?.stations : stations;
  return own?.[station] === undefined ? `${at}/choices/${token}` : `${at}/stations/${token}/content${rest}`;
}
