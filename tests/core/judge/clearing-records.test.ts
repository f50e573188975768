import { describe, expect, it } from 'vitest';
import {
  adjustment,
  change,
  conversionOnPump,
  conversionOnShelf,
  follow,
  inspection,
  kept,
  mounting,
  q,
  type Setup,
  states,
  takingOff,
} from '../../support/cases.ts';
import { jointInEdition } from '../rules/rule-test.ts';

const unknown = { unknown: 'not written down' };
const body = 'sense-adjuster-body';
const torqued = (joint: string, reading: unknown, instrument: unknown = 'wrench-1', more = {}) => ({
  ...{ joint, how: 'set', reading, instrument, ...more },
});
const sealed = (joint: string, seal: unknown, quantity = 1) => ({ joint, seal, quantity, lot: 'L-2311-2' });
const read = (setting: string, reading: unknown, instrument: unknown = 'gauge-1') => ({ setting, reading, instrument });
const screws = (...values: readonly string[]) => values.map((value) => q(value, 'N.m'));

/** An adjustment with this evidence and no other. */
function evidence(given: Readonly<Record<string, unknown>>): Setup {
  const changes = Object.entries({ torques: [], settings: [], checks: [], ...given });
  return change(adjustment(), Object.fromEntries(changes.map(([list, value]) => [`/body/${list}`, value])));
}

/** The limit at 215 bar, with these values of the circuit. */
const ofCircuit = (circuit: Readonly<Record<string, unknown>>) => change(adjustment(), { '/body/circuit': circuit });

function looked(stations: Readonly<Record<string, unknown>>): Setup {
  return change(inspection(), { '/body/found': { stations } });
}

/** A mounting whose last check, that of the plate, is replaced. */
const mountedWith = (checks: readonly unknown[]) =>
  change(mounting(), {
    '/body/checks': [
      ...['make-safe', 'leak-free', 'function-check'].map((check) => ({ check, result: 'passed' })),
      ...checks,
    ],
  });

/** To a function that has the pressure limit alone. */
const withoutDifferential = () => {
  const setup = conversionOnShelf();
  const index = setup.edition.functions.findIndex((one) => one.id === 'load-sense');
  return change(setup, { [`/edition/functions/${index}/settings/1`]: undefined });
};

const onEster = { '/pump/events/0/effect/born/fluid': 'ester' };
const withoutTorque = () => change(conversionOnPump(), { '/body/torques/1': undefined });
const withTorque = (reading: unknown) => change(conversionOnPump(), { '/body/torques/1/reading': reading });
const withoutSeal = () => change(conversionOnPump(), { '/body/seals': [] });
const wrongSeal = () => change(conversionOnPump(), { ...onEster, '/body/seals/0/seal': 'seal-22-nbr' });
const without = (list: string) => change(conversionOnPump(), { [`/body/${list}`]: [] });
const threeScrews = () => change(mounting(), { '/body/torques/0/reading': screws('25', '25', '25') });
const turning = (speed: string) => ({ speed: q(speed, 'r/min') });
/** The differential is a point that is read at one speed. */
const atSpeed = (setup: Setup) => {
  const index = setup.edition.bodies[0]?.settings.findIndex((one) => one.id === 'differential');
  const at = { speed: { min: q('1450', 'r/min'), max: q('1550', 'r/min') } };
  return change(setup, { [`/edition/bodies/0/settings/${index}/at`]: at });
};
const wrongSetting = () => change(conversionOnPump(), { '/body/settings/0/reading': q('9', 'bar') });
const noName = () => change(conversionOnPump(), { '/body/fitted/0/element': unknown });
const noLot = () => change(conversionOnPump(), { '/body/fitted/0/lot': unknown });
const wrongLot = () => change(conversionOnPump(), { '/lots/ardenholm~1L-2402-7/part': 'kit-overhaul-nbr' });
const wrongSealLot = () => change(conversionOnPump(), { '/lots/ardenholm~1L-2311-2/part': 'kit-overhaul-nbr' });
const leaks = () => change(conversionOnPump(), { '/body/checks/1/result': 'failed' });
const noFunction = () => change(conversionOnPump(), { '/body/to': null });
const otherBleed = () => looked({ 'bleed-seat': [{ element: 'orifice-0.8' }] });

/** The plug out again and another in. */
const replugged = (fitted: Readonly<Record<string, unknown>>) =>
  change(conversionOnPump(), {
    '/body/removed/0/element': 'plug-m5',
    '/body/fitted/0': { station: 'bleed-seat', element: 'plug-m5', ...fitted },
  });

type Row = [rule: string, what: string, first: () => Setup, second: () => Setup];

const good: Row[] = [
  [
    'joint-not-closed',
    'a torque in a later adjustment',
    withoutTorque,
    () => evidence({ torques: [torqued(body, q('61', 'N.m'))] }),
  ],
  [
    'torque-outside',
    'a torque within limits',
    () => withTorque(q('70', 'N.m')),
    () => evidence({ torques: [torqued(body, q('45', 'lbf.ft'))] }),
  ],
  [
    'joint-not-closed',
    'torques of all four screws',
    threeScrews,
    () => evidence({ torques: [torqued('mounting', screws('25', '25', '25', '25'))] }),
  ],
  [
    'instrument-unknown',
    'a torque with a known wrench',
    () => change(conversionOnPump(), { '/body/torques/1/instrument': unknown }),
    () => evidence({ torques: [torqued(body, q('61', 'N.m'))] }),
  ],
  [
    'joint-not-closed',
    'a torque on the shelf of a locknut whose setting the function has not',
    () => change(withoutDifferential(), { '/pump': null }),
    () => change(evidence({ torques: [torqued('sense-adjuster-locknut', q('21', 'N.m'))] }), { '/pump': null }),
  ],
  [
    'relation-broken',
    'a value of the circuit with which it holds',
    () => ofCircuit({ 'highest-signal': q('185', 'bar'), 'system-relief': q('260', 'bar') }),
    () => evidence({ circuit: { 'highest-signal': q('150', 'bar') } }),
  ],
  [
    'seal-not-renewed',
    'a seal in a later adjustment',
    withoutSeal,
    () => evidence({ seals: [sealed(body, 'seal-22-nbr')] }),
  ],
  [
    'seal-wrong-compound',
    'a seal that stands the fluid',
    wrongSeal,
    () => evidence({ seals: [sealed(body, 'seal-22-fkm')] }),
  ],
  [
    'setting-due',
    'a setting',
    () => without('settings'),
    () =>
      evidence({
        settings: [read('differential', q('20', 'bar'))],
        torques: [torqued('sense-adjuster-locknut', q('21', 'N.m'))],
      }),
  ],
  [
    'setting-due',
    'a point of a curve read at its point',
    () => atSpeed(without('settings')),
    () =>
      atSpeed(
        evidence({
          settings: [{ ...read('differential', q('20', 'bar')), conditions: turning('1500') }],
          torques: [torqued('sense-adjuster-locknut', q('21', 'N.m'))],
        }),
      ),
  ],
  [
    'read-elsewhere',
    'a point of a curve read at its point',
    () => atSpeed(change(conversionOnPump(), { '/body/settings/0/conditions': turning('900') })),
    () =>
      atSpeed(
        evidence({
          settings: [{ ...read('differential', q('20', 'bar')), conditions: turning('1550') }],
          torques: [torqued('sense-adjuster-locknut', q('21', 'N.m'))],
        }),
      ),
  ],
  [
    'setting-due',
    'a difference of two gauges',
    () => without('settings'),
    () =>
      evidence({
        settings: [
          { ...read('differential', q('20', 'bar')), second: 'stand-1' },
          read('pressure-limit', q('210', 'bar')),
        ],
      }),
  ],
  [
    'setting-outside',
    'a setting within bounds',
    wrongSetting,
    () =>
      evidence({
        settings: [read('differential', q('290', 'psi'), 'stand-1')],
        torques: [torqued('sense-adjuster-locknut', q('21', 'N.m'))],
      }),
  ],
  [
    'check-due',
    'a check',
    () => change(conversionOnPump(), { '/body/checks/1': undefined }),
    () => evidence({ checks: [{ check: 'leak-free', result: 'passed' }] }),
  ],
  [
    'check-due',
    'a check said not to apply, with the reason',
    conversionOnShelf,
    () => mountedWith([{ check: 'plate-marked', result: 'not-applicable', reason: 'the pump has no plate' }]),
  ],
  [
    'check-failed',
    'a check passed at last',
    leaks,
    () =>
      evidence({
        checks: [
          { check: 'leak-free', result: 'failed' },
          { check: 'leak-free', result: 'passed' },
        ],
      }),
  ],
  [
    'content-unknown',
    'an inspection that states the station',
    noName,
    () => looked({ 'bleed-seat': [{ element: 'plug-m5' }] }),
  ],
  ['content-unknown', 'a conversion that changes the station', noName, () => replugged({ lot: 'L-2402-7' })],
  [
    'unrecorded-work',
    'a second look that states the station',
    otherBleed,
    () => looked({ 'bleed-seat': [{ element: 'orifice-0.8' }] }),
  ],
  ['lot-unknown', 'another part from a known lot', noLot, () => replugged({ lot: 'L-2402-7' })],
  ['not-of-lot', 'another part of a lot that has it', wrongLot, () => replugged({ lot: 'L-2402-7' })],
  [
    'not-of-lot',
    'seals renewed from a lot that has them',
    wrongSealLot,
    () => evidence({ seals: [sealed(body, 'seal-22-fkm')] }),
  ],
  ['no-function', 'a conversion to a function', noFunction, () => replugged({ lot: 'L-2402-7' })],
  [
    'no-function',
    'an inspection that states a function whose stations are known',
    noFunction,
    () => change(looked({}), { '/body/found': { function: 'load-sense' } }),
  ],
  [
    'not-for-pump',
    'a conversion on the pump',
    () => change(mounting(), { '/control/events/0/effect/builtFor': { size: '52' } }),
    conversionOnPump,
  ],
];

const bad: Row[] = [
  [
    'relation-broken',
    'a value of the circuit with which it is still broken',
    () => ofCircuit({ 'highest-signal': q('185', 'bar'), 'system-relief': q('260', 'bar') }),
    () => evidence({ circuit: { 'highest-signal': q('181', 'bar') } }),
  ],
  [
    'relation-broken',
    'a value of the circuit while the control comes off',
    () => ofCircuit({ 'highest-signal': q('185', 'bar'), 'system-relief': q('260', 'bar') }),
    () => change(takingOff(), { '/body/circuit': { 'highest-signal': q('150', 'bar') } }),
  ],
  [
    'joint-not-closed',
    'a torque of another joint',
    withoutTorque,
    () => evidence({ torques: [torqued('side-cap-body', q('34', 'N.m'))] }),
  ],
  ['joint-not-closed', 'a torque outside', withoutTorque, () => evidence({ torques: [torqued(body, q('50', 'N.m'))] })],
  [
    'joint-not-closed',
    'a torque with an unknown instrument',
    withoutTorque,
    () => evidence({ torques: [torqued(body, q('61', 'N.m'), unknown)] }),
  ],
  [
    'joint-not-closed',
    'a torque taken with a gauge',
    withoutTorque,
    () => evidence({ torques: [torqued(body, q('61', 'N.m'), 'gauge-1')] }),
  ],
  [
    'joint-not-closed',
    'a torque out of the range of its wrench',
    withoutTorque,
    () => evidence({ torques: [torqued(body, q('61', 'N.m'), 'wrench-2')] }),
  ],
  [
    'joint-not-closed',
    'a torque that an extension makes too high',
    withoutTorque,
    () =>
      evidence({
        torques: [
          torqued(body, q('61', 'N.m'), 'wrench-1', { adapter: { arm: q('400', 'mm'), extension: q('50', 'mm') } }),
        ],
      }),
  ],
  [
    'joint-not-closed',
    'a good torque followed by a bad one',
    withoutTorque,
    () => evidence({ torques: [torqued(body, q('61', 'N.m')), torqued(body, q('90', 'N.m'))] }),
  ],
  [
    'joint-not-closed',
    'three screws of four',
    threeScrews,
    () => evidence({ torques: [torqued('mounting', screws('25', '25', '25'))] }),
  ],
  [
    'joint-not-closed',
    'four screws of which one is loose',
    threeScrews,
    () => evidence({ torques: [torqued('mounting', screws('25', '25', '25', '10'))] }),
  ],
  [
    'joint-not-closed',
    'a torque of the mounting while the control is off',
    threeScrews,
    () => change(evidence({ torques: [torqued('mounting', screws('25', '25', '25', '25'))] }), { '/pump': null }),
  ],
  ['seal-not-renewed', 'a seal of another size', withoutSeal, () => evidence({ seals: [sealed(body, 'seal-14-fkm')] })],
  ['seal-not-renewed', 'a seal without a name', withoutSeal, () => evidence({ seals: [sealed(body, unknown)] })],
  [
    'seal-not-renewed',
    'a seal of another compound than the fluid needs',
    () => change(withoutSeal(), onEster),
    () => evidence({ seals: [sealed(body, 'seal-22-nbr')] }),
  ],
  [
    'seal-not-renewed',
    'two seals of three',
    () => change(mounting(), { '/body/seals': [] }),
    () => evidence({ seals: [sealed('mounting', 'seal-face-fkm', 2)] }),
  ],
  [
    'seal-not-renewed',
    'one of two seals of different sizes',
    () => change(withoutSeal(), { [`${jointInEdition(body)}/seals/-`]: { seal: 'seal-14', quantity: 1 } }),
    () => evidence({ seals: [sealed(body, 'seal-22-fkm')] }),
  ],
  [
    'seal-wrong-compound',
    'the same compound again',
    wrongSeal,
    () => evidence({ seals: [sealed(body, 'seal-22-nbr')] }),
  ],
  [
    'setting-due',
    'a setting outside',
    () => without('settings'),
    () => evidence({ settings: [read('differential', q('50', 'bar'))] }),
  ],
  [
    'setting-due',
    'a point of a curve read at another point',
    () => atSpeed(without('settings')),
    () => atSpeed(evidence({ settings: [{ ...read('differential', q('20', 'bar')), conditions: turning('900') }] })),
  ],
  [
    'setting-due',
    'a setting read with a wrench',
    () => without('settings'),
    () => evidence({ settings: [read('differential', q('20', 'bar'), 'wrench-1')] }),
  ],
  [
    'setting-due',
    'a difference of a gauge and a wrench',
    () => without('settings'),
    () => evidence({ settings: [{ ...read('differential', q('20', 'bar')), second: 'wrench-1' }] }),
  ],
  [
    'setting-due',
    'a setting read with an unknown instrument',
    () => without('settings'),
    () => evidence({ settings: [read('differential', q('20', 'bar'), unknown)] }),
  ],
  ['setting-due', 'another setting', () => without('settings'), adjustment],
  [
    'setting-due',
    'a setting read on the shelf',
    conversionOnShelf,
    () =>
      change(evidence({ settings: [read('differential', q('20', 'bar')), read('pressure-limit', q('200', 'bar'))] }), {
        '/pump': null,
      }),
  ],
  [
    'setting-due',
    'a setting read while the control comes off',
    () => without('settings'),
    () => change(takingOff(), { '/body/settings': [read('differential', q('20', 'bar'))] }),
  ],
  [
    'joint-due',
    'a locknut closed on the shelf, before its setting',
    conversionOnShelf,
    () => change(evidence({ torques: [torqued('sense-adjuster-locknut', q('21', 'N.m'))] }), { '/pump': null }),
  ],
  [
    'check-due',
    'a check said to be passed on the shelf that can only be made on a pump',
    conversionOnShelf,
    () =>
      change(
        evidence({
          checks: ['leak-free', 'function-check', 'plate-marked'].map((check) => ({ check, result: 'passed' })),
        }),
        { '/pump': null },
      ),
  ],
  [
    'check-due',
    'a check said not to apply without a reason',
    () => change(conversionOnPump(), { '/body/checks/3': undefined }),
    () => evidence({ checks: [{ check: 'plate-marked', result: 'not-applicable' }] }),
  ],
  ['check-failed', 'a check not done', leaks, () => evidence({ checks: [{ check: 'leak-free', result: 'not-done' }] })],
  [
    'check-failed',
    'a check said not to apply',
    leaks,
    () => evidence({ checks: [{ check: 'leak-free', result: 'not-applicable', reason: 'no time' }] }),
  ],
  [
    'check-failed',
    'a check passed and failed again',
    leaks,
    () =>
      evidence({
        checks: [
          { check: 'leak-free', result: 'passed' },
          { check: 'leak-free', result: 'failed' },
        ],
      }),
  ],
  ['content-unknown', 'a look that could not tell', noName, () => looked({ 'bleed-seat': { unknown: 'no marking' } })],
  ['content-unknown', 'a look at another station', noName, () => looked({ 'pilot-seat': [{ element: 'plug-m5' }] })],
  [
    'content-unknown',
    'a function found, from which the content is only assumed',
    noName,
    () => change(inspection(), { '/body/found': { function: 'load-sense' } }),
  ],
  [
    'content-unknown',
    'another part without a name',
    noName,
    () => change(replugged({ lot: 'L-2402-7' }), { '/body/fitted/0/element': unknown }),
  ],
  [
    'unrecorded-work',
    'a look at another station',
    otherBleed,
    () => looked({ 'pilot-seat': [{ element: 'plug-m5' }] }),
  ],
  ['lot-unknown', 'a mere look at the part', noLot, () => looked({ 'bleed-seat': [{ element: 'plug-m5' }] })],
  ['not-of-lot', 'a mere look at the part', wrongLot, () => looked({ 'bleed-seat': [{ element: 'plug-m5' }] })],
  [
    'not-of-lot',
    'seals of another joint',
    wrongSealLot,
    () => evidence({ seals: [sealed('side-cap-body', 'seal-14-fkm')] }),
  ],
  [
    'no-function',
    'a function whose stations are only assumed',
    () => change(noFunction(), { '/body/fitted/0/element': unknown }),
    () => change(inspection(), { '/body/found': { function: 'load-sense' } }),
  ],
  [
    'no-function',
    'a conversion that declares a function of stations only assumed',
    () => change(noFunction(), { '/body/fitted/0/element': unknown }),
    () =>
      change(conversionOnPump(), {
        '/body/found': { function: 'load-sense' },
        '/body/removed': [],
        '/body/fitted': [],
      }),
  ],
  ['no-function', 'an adjustment', noFunction, adjustment],
];

const openOf = (rule: string, fact: string, setup: Setup) => {
  const { control, pump } = states(setup);
  return [...control.open, ...pump.open].filter((one) => one.rule === rule && one.fact === fact);
};

describe('a later record clears what an earlier one left open', () => {
  it.each(good)('%s: %s clears it', (rule, _, first, second) => {
    expect(openOf(rule, 'fact', first())).not.toEqual([]);
    expect(openOf(rule, 'fact', follow(first(), second()))).toEqual([]);
  });
});

describe('a relation between a setting of the control and one of the pump', () => {
  const { edition } = adjustment();
  const fun = edition.functions.findIndex((one) => one.id === 'load-sense-bled');
  const ofSize = edition.series[0]?.sizes.find((one) => one.id === '83')?.settings ?? [];
  const limited = change(adjustment(), {
    '/edition/series/0/sizes/1/settings': ofSize.map((one) => ({ ...one, quantity: 'pressure' })),
    [`/edition/functions/${fun}/relations`]: [
      {
        ...{ id: 'below-limit', text: 'the second limit is at most the first', atMost: '0' },
        sum: [{ setting: 'pump/torque-limit' }, { setting: 'pressure-limit', times: -1 }],
      },
    ],
  });
  const read = (setting: string, value: string) => ({ setting, reading: q(value, 'bar'), instrument: 'gauge-1' });
  const broken = change(limited, {
    '/body/settings': [read('pump/torque-limit', '215'), read('pressure-limit', '210')],
  });

  it('is left open once, and cleared by the setting of the control that says it clears it', () => {
    expect(openOf('relation-broken', 'fact', broken)).toMatchObject([
      { clearedBy: [{ place: 'pump/torque-limit' }, { place: 'pressure-limit' }, { kind: 'disposition' }] },
    ]);
    const raised = change(limited, { '/body/settings': [read('pressure-limit', '216')] });
    expect(openOf('relation-broken', 'fact', follow(broken, raised))).toEqual([]);
  });

  it('of the pump alone stays with the pump', () => {
    const alone = change(broken, { [`/edition/functions/${fun}/relations/0/sum/1`]: undefined });
    const { control, pump } = states(alone);
    const rules = (state: typeof control) => state.open.map((one) => one.rule);
    expect([rules(control), rules(pump)]).toEqual([
      expect.not.arrayContaining(['relation-broken']),
      ['relation-broken'],
    ]);
  });
});

describe('what is not good enough clears nothing', () => {
  it.each(bad)('%s: %s leaves it open', (rule, _, first, second) => {
    const open = openOf(rule, 'fact', first());
    expect(open).not.toEqual([]);
    expect(openOf(rule, 'fact', follow(first(), second()))).toEqual(open);
    expect(states(follow(first(), second())).control.status).not.toBe('released');
  });
});

describe('a check made on the shelf', () => {
  const made = (check: Readonly<Record<string, unknown>>) => {
    const id = 'looked-at';
    const edition = {
      '/edition/checks/-': { id, requiredBy: ['conversion'], by: 'anyone', kind: 'yes-no', text: '-', ...check },
    };
    const due = change(conversionOnPump(), edition);
    const passed = change(evidence({ checks: [{ check: id, result: 'passed' }] }), { '/pump': null });
    return openOf('check-due', 'fact', follow(due, passed)).map((one) => one.clearedBy[0]?.place);
  };

  it('clears what can be seen there', () => {
    expect(made({ role: 'other', where: 'anywhere' })).toEqual([]);
    expect(made({ role: 'safety', where: 'stand' })).toEqual([]);
  });

  it.each([
    { role: 'other', where: 'mounted' },
    { role: 'leak', where: 'anywhere' },
    { role: 'function', where: 'stand' },
    { role: 'plate', where: 'anywhere' },
  ])('leaves open what is of the pump: $role, $where', (check) => {
    expect(made(check)).toEqual(['looked-at']);
  });
});

describe('a setting that the function has not', () => {
  const electric = () =>
    change(conversionOnShelf(), {
      '/body/to': { function: 'electric-pressure' },
      '/body/for/voltage': '24 V',
      '/body/found': { stations: electricBefore },
      '/body/removed': [],
      '/body/fitted': [],
      '/body/torques': [],
      '/body/seals': [],
    });

  it('is no longer due once the work leaves another function: nobody could set it', () => {
    const due = (setup: Setup) =>
      states(setup).control.open.flatMap((one) => one.clearedBy.map((clear) => clear.place));
    expect(due(electric())).toContain('starting-current');
    const back = change(conversionOnShelf(), {
      '/body/found': { stations: electricBefore },
      '/body/removed': [],
      '/body/fitted': [],
      '/body/to': null,
    });
    expect(due(follow(electric(), back))).toContain('starting-current');
    const sensing = change(conversionOnShelf(), {
      '/body/found': { stations: { ...senseBefore, 'bleed-seat': [{ element: 'orifice-0.6' }] } },
    });
    expect(kept(follow(electric(), sensing)).judgement.function).toBe('load-sense');
    expect(due(follow(electric(), sensing))).not.toContain('starting-current');
    expect(due(follow(electric(), sensing))).toContain('differential');
  });
});

const one = (element: string) => [{ element }];
const electricBefore = {
  ...{ 'damping-stack': [{ element: 'washer-damping', quantity: 2 }], 'pilot-seat': one('orifice-0.8') },
  ...{ 'drain-seat': one('plug-m5'), 'sense-spring': one('spring-sense-16'), 'sense-bore': one('spool-remote') },
  ...{ 'bleed-seat': one('plug-m5'), 'coil-cavity': one('cartridge-electric-24'), 'signal-port': one('port-plug') },
};
const senseBefore = {
  'damping-stack': [{ element: 'washer-damping' }, { element: 'shim-0.5', quantity: 2 }],
  ...{ 'pilot-seat': one('plug-m5'), 'drain-seat': one('orifice-1.0'), 'sense-bore': one('spool-sense') },
  ...{ 'coil-cavity': one('cartridge-blank'), 'signal-port': one('port-fitting') },
};
