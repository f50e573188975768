/** Each rule for movements, start-ups and retirements, with its accepted neighbour; and what follows for the units. */
import { describe, expect, it } from 'vitest';
import type { Effect, OpenFinding } from '../../../src/core/history/event.ts';
import { fold } from '../../../src/core/history/fold.ts';
import { judgeLife } from '../../../src/core/judge/judge-life.ts';
import type { LifeCase, LifeUnit } from '../../../src/core/judge/life-case.ts';
import { type LifeRecord, lifeBodies } from '../../../src/core/records/life-bodies.ts';
import { lifeRules } from '../../../src/core/rules/life-rules.ts';
import { at, event, instant } from '../history/events.ts';

const frame = { reference: 'L-1', performedAt: at(20), shop: 'north', technician: 't-17' };
const onPump = { ...frame, pump: { maker: 'ardenholm', serial: 'P-1' } };
const movement = (rest: object): LifeRecord => ({
  kind: 'movement',
  body: lifeBodies.movement.parse({ ...onPump, what: 'received', ...rest }),
});
const startUp = (rest: object = {}): LifeRecord => ({
  kind: 'start-up',
  body: lifeBodies['start-up'].parse({ ...onPump, machine: 'press 4', ...rest }),
});
const handing = (...dues: object[]) => startUp({ handedOver: { acceptedBy: 'plant engineer', dues } });
const delivering = (...dues: object[]) =>
  movement({ what: 'delivered', handedOver: { acceptedBy: 'plant engineer', dues } });
const retirement = (rest: object = {}): LifeRecord => ({
  kind: 'retirement',
  body: lifeBodies.retirement.parse({ ...onPump, reason: 'cracked', ...rest }),
});
const digest = `sha256:${'ab'.repeat(32)}`;

function unit(kind: 'pump' | 'control', effect: Effect = {}, rest: Partial<LifeUnit> = {}): LifeUnit {
  const id = kind === 'pump' ? 'p1' : 'k1';
  const state = fold(id, [event(1, { unit: id, effect })]);
  return { unit: id, kind, name: id.toUpperCase(), hasName: true, state, later: [], hours: null, covers: [], ...rest };
}
const nameless = unit('control', {}, { name: 'the control of pump P1', hasName: false });
const later = (effect: Effect, kind = 'inspection') => ({ later: [event(2, { kind, done: at(22), effect })] });
const due = (place: string, severity: 'due' | 'hold' = 'due'): OpenFinding => ({
  ...{ rule: 'check-due', severity, pointer: '/checks' },
  clearedBy: [
    { kind: 'check', place },
    { kind: 'not-applicable', place },
  ],
});
const settingDue: OpenFinding = {
  ...due(''),
  rule: 'setting-due',
  clearedBy: [{ kind: 'setting', place: 'pump/limit' }],
};
const open = (...opens: OpenFinding[]) => unit('control', { opens });

const accepted: LifeCase = {
  fact: 'f20',
  edition: null,
  record: movement({}),
  unit: unit('pump'),
  other: unit('control'),
  tagTakenBy: null,
  referenceUsedBy: null,
  afterIsKnown: true,
  known: {
    shops: new Set(['north', 'south']),
    technicians: new Map([['t-17', { id: 'person-17', subject: null, authorisations: [] }]]),
    attachments: new Set([digest]),
  },
  performed: { from: instant(20), to: instant(20) },
  now: instant(28),
};
const with_ = (change: Partial<LifeCase>): LifeCase => ({ ...accepted, ...change });
const retiring = with_({ record: retirement(), other: null });
const tagging = with_({ record: movement({ tag: 'T-1' }), other: nameless });

const refusals: readonly [string, LifeCase, LifeCase, string][] = [
  [
    'unknown-id',
    with_({ record: movement({ shop: 'east' }) }),
    with_({ record: movement({ shop: 'south' }) }),
    '/shop',
  ],
  [
    'unknown-id',
    with_({ record: movement({ from: { shop: 'east' } }) }),
    with_({ record: movement({ from: 'east' }) }),
    '/from/shop',
  ],
  [
    'unknown-id',
    with_({ record: movement({ to: { shop: 'east' } }) }),
    with_({ record: movement({ to: { shop: 'south' } }) }),
    '/to/shop',
  ],
  [
    'unknown-id',
    with_({ record: startUp({ technician: 't-99' }) }),
    with_({ record: startUp({ technician: { unknown: 'told by telephone' } }) }),
    '/technician',
  ],
  [
    'unknown-id',
    with_({ record: startUp({ attachments: [digest, `sha256:${'0'.repeat(64)}`] }) }),
    with_({ record: startUp({ attachments: [digest] }) }),
    '/attachments/1',
  ],
  ['unknown-id', with_({ afterIsKnown: false }), accepted, '/after'],
  ['reference-used', with_({ referenceUsedBy: 'other' }), accepted, '/reference'],
  [
    'performed-in-future',
    with_({ performed: { from: '2026-03-28T00:05:00.000001Z', to: instant(29) } }),
    with_({ performed: { from: '2026-03-28T00:05:00.000000Z', to: instant(29) } }),
    '/performedAt',
  ],
  [
    'before-unit-existed',
    with_({ other: unit('control', { born: { kind: 'control', body: 'curlew-block' }, builtAt: instant(21) }) }),
    with_({ other: unit('control', { born: { kind: 'control', body: 'curlew-block' }, builtAt: instant(20) }) }),
    '/performedAt',
  ],
  [
    'unit-retired',
    with_({ record: startUp(), other: unit('control', { retired: true }) }),
    with_({ record: movement({}), other: unit('control', { retired: true }) }),
    '/control',
  ],
  ['unit-retired', { ...retiring, unit: unit('pump', { retired: true }) }, retiring, '/pump'],
  [
    'work-after-retirement',
    { ...retiring, unit: unit('pump', {}, later({})) },
    { ...retiring, unit: unit('pump', {}, later({}, 'movement')) },
    '/performedAt',
  ],
  [
    'work-after-retirement',
    { ...retiring, unit: unit('pump', {}, later({ mounted: { with: 'k1', on: true } }, 'mounting')) },
    { ...retiring, unit: unit('pump', {}, later({ mounted: { with: 'k1', on: false } }, 'mounting')) },
    '/performedAt',
  ],
  [
    'work-after-retirement',
    { ...retiring, unit: unit('pump', {}, later({ replaces: 'f1', function: null }, 'correction')) },
    { ...retiring, unit: unit('pump', {}, later({ replaces: 'f1' }, 'correction')) },
    '/performedAt',
  ],
  ['named-already', { ...tagging, other: unit('control') }, tagging, '/tag'],
  ['named-already', { ...tagging, other: null }, { ...tagging, unit: nameless, other: null }, '/tag'],
  ['name-taken', { ...tagging, tagTakenBy: 'K-9' }, tagging, '/tag'],
  [
    'not-due',
    with_({ record: handing({ check: 'leak-free' }, { check: 'function-check' }), other: open(due('leak-free')) }),
    with_({ record: handing({ check: 'leak-free' }), other: open(due('leak-free')) }),
    '/handedOver/dues/1',
  ],
  [
    'not-due',
    with_({ record: handing({ check: 'leak-free' }), other: open(due('leak-free', 'hold')) }),
    with_({ record: handing({ setting: 'pump/limit' }), other: open(settingDue) }),
    '/handedOver/dues/0',
  ],
  [
    'not-due',
    with_({ record: delivering({ check: 'leak-free' }), other: open(due('function-check')) }),
    with_({ record: delivering({ check: 'leak-free' }), other: open(due('leak-free')) }),
    '/handedOver/dues/0',
  ],
];

describe('a movement, start-up or retirement', () => {
  it.each(refusals)(
    'is refused by %s for one field (%#), and taken with its neighbour',
    (rule, wrong, right, pointer) => {
      expect(judgeLife(wrong)).toMatchObject({ refused: [{ rule, severity: 'refuse', pointer }] });
      expect(judgeLife(right)).not.toHaveProperty('refused');
    },
  );

  it('is noted where the hours went back', () => {
    const run = (value: string) => ({ hours: { value, unit: 'h' } });
    const back = judgeLife(with_({ unit: unit('pump', run('90'), run('89')) }));
    expect(back).toMatchObject({ findings: [{ rule: 'hours-went-back', severity: 'note', pointer: '/hours' }] });
    expect(judgeLife(with_({ unit: unit('pump', run('90'), run('90')) }))).toMatchObject({ findings: [] });
  });

  it('is held against every rule there is', () => {
    // What a start-up says of the circuit is in start-up-circuit.test.ts.
    const others = ['relation-broken', 'hours-went-back', 'relation-unknown'];
    expect([...new Set(refusals.map(([rule]) => rule)), ...others]).toEqual(lifeRules.map((rule) => rule.id));
  });
});

describe('what follows for the units', () => {
  const effects = (judged: LifeCase) => {
    const result = judgeLife(judged);
    return 'effects' in result ? result.effects : result;
  };

  it.each([
    ['received', 'in'],
    ['returned', 'in'],
    ['delivered', 'out'],
    ['lent', 'out'],
  ])('of being %s is that it is %s, with what is mounted on it', (what, custody) => {
    const other = unit('control', {}, { covers: custody === 'in' ? ['f1'] : [] });
    expect(effects(with_({ record: movement({ what }), other }))).toEqual([
      { unit: 'p1', effect: { custody } },
      { unit: 'k1', effect: custody === 'in' ? { custody, covers: ['f1'] } : { custody } },
    ]);
  });

  it('of a tag is nothing but the name', () => {
    expect(
      effects({ ...tagging, record: movement({ what: 'tagged', tag: 'T' }), unit: nameless, other: null }),
    ).toEqual([{ unit: 'k1', effect: {} }]);
  });

  it('of a start-up is that every due that is meant is handed over once, each on its unit', () => {
    const record = handing(
      { check: 'leak-free' },
      { record: '018f0000-0000-7000-8000-000000000000', rule: 'check-due' },
    );
    const opened = event(1, {
      unit: 'k1',
      fact: '018f0000-0000-7000-8000-000000000000',
      effect: { opens: [due('leak-free'), due('function-check'), settingDue] },
    });
    const other = { ...unit('control'), state: fold('k1', [opened]) };
    const clear = (place: string) => ({ fact: opened.fact, clear: { kind: 'check', place } });
    expect(effects(with_({ record, other }))).toEqual([
      { unit: 'p1', effect: {} },
      { unit: 'k1', effect: { handsOver: [clear('leak-free'), clear('function-check')] } },
    ]);
  });

  it('of what goes out is that the dues that are meant are handed over with it, beside where it is', () => {
    const record = delivering({ check: 'leak-free' });
    expect(effects(with_({ record, other: open(due('leak-free'), due('function-check')) }))).toEqual([
      { unit: 'p1', effect: { custody: 'out' } },
      {
        unit: 'k1',
        effect: { custody: 'out', handsOver: [{ fact: 'f1', clear: { kind: 'check', place: 'leak-free' } }] },
      },
    ]);
  });

  it.each(['received', 'returned', 'tagged'])('of what is %s is never that: nobody takes anything over', (what) => {
    const handedOver = { acceptedBy: 'plant engineer', dues: [{ check: 'leak-free' }] };
    const { error } = lifeBodies.movement.safeParse({ ...onPump, what, tag: 'T', handedOver });
    expect(error?.issues.map(({ path }) => path)).toEqual([['handedOver']]);
  });

  it('of a retirement is that this unit is out of use, with the hours that it has run', () => {
    const hours = { value: '90', unit: 'h' };
    expect(effects({ ...retiring, unit: unit('pump', {}, { hours }) })).toEqual([
      { unit: 'p1', effect: { retired: true, hours } },
    ]);
  });
});
