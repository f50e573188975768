/** Each rule for what is said of which unit is which, with its accepted neighbour; and what follows for the units. */
import { describe, expect, it } from 'vitest';
import type { UnitEvent } from '../../../src/core/history/event.ts';
import { fold } from '../../../src/core/history/fold.ts';
import type { IdentityCase, NamedUnit } from '../../../src/core/judge/identity-case.ts';
import { judgeIdentity } from '../../../src/core/judge/judge-identity.ts';
import { type IdentityBody, identityBody } from '../../../src/core/records/bodies.ts';
import { identityRules } from '../../../src/core/rules/identity-rules.ts';
import { at, event, instant } from '../history/events.ts';

const frame = {
  reference: 'I-1',
  performedAt: at(20),
  shop: 'north',
  technician: 't-17',
  reason: 'seen at the bench',
};
const ref = (serial: string) => ({ maker: 'ardenholm', serial });
const body = (rest: object): IdentityBody => identityBody.parse({ ...frame, ...rest });
const retagged = body({ what: 'retagged', control: ref('K-1'), tag: 'T-1' });
const merged = body({ what: 'merged', control: ref('K-1'), with: ref('K-2') });
const exchanged = body({ what: 'exchanged', pump: ref('P-1'), control: ref('K-2') });

const control = (unit: string, effect: UnitEvent['effect'] = {}, lastDone = instant(2)): NamedUnit => ({
  state: fold(unit, [event(1, { unit, effect: { born: { kind: 'control', body: 'curlew-block' }, ...effect } })]),
  name: unit,
  lastDone,
});
const pump = (unit: string, effect: UnitEvent['effect'] = {}, size = '83'): NamedUnit => ({
  ...control(unit),
  state: fold(unit, [
    event(1, {
      unit,
      effect: { born: { kind: 'pump', series: 'curlew', size, rotation: 'clockwise', fluid: null }, ...effect },
    }),
  ]),
});
const on = (unit: string) => ({ mounted: { with: unit, on: true } });

const accepted: IdentityCase = {
  fact: 'fact',
  body: retagged,
  unit: control('k1'),
  other: null,
  otherPump: null,
  nameTakenBy: null,
  referenceUsedBy: null,
  shopIsKnown: true,
  technicianIsKnown: true,
  performed: { from: instant(20), to: instant(20) },
  now: instant(28),
};
const with_ = (change: Partial<IdentityCase>): IdentityCase => ({ ...accepted, ...change });
const merging = with_({ body: merged, other: control('k2') });
const exchange = with_({ body: exchanged, unit: pump('p1', on('k1')), other: control('k2') });
const wrongPlate = (rest: object) => body({ what: 'wrong-plate', control: ref('K-1'), ...rest });

const tests: readonly [string, IdentityCase, IdentityCase, string][] = [
  ['unknown-id', with_({ shopIsKnown: false }), accepted, '/shop'],
  [
    'unknown-id',
    with_({ technicianIsKnown: false }),
    with_({ technicianIsKnown: false, body: { ...retagged, technician: { unknown: 'no initials' } } }),
    '/technician',
  ],
  ['reference-used', with_({ referenceUsedBy: 'other' }), accepted, '/reference'],
  [
    'performed-in-future',
    with_({ performed: { from: '2026-03-28T00:05:00.000001Z', to: instant(29) } }),
    with_({ performed: { from: '2026-03-28T00:05:00.000000Z', to: instant(29) } }),
    '/performedAt',
  ],
  ['name-taken', with_({ nameTakenBy: 'K-9' }), accepted, '/tag'],
  [
    'name-taken',
    with_({ nameTakenBy: 'K-9', body: body({ what: 're-plated', control: ref('K-1'), serial: 'K-9' }) }),
    with_({ body: body({ what: 're-plated', control: ref('K-1'), serial: 'K-9' }) }),
    '/serial',
  ],
  ['tag-needed', with_({ body: wrongPlate({}) }), with_({ body: wrongPlate({ serial: 'K-3' }) }), '/serial'],
  [
    'tag-needed',
    with_({ body: body({ what: 'wrong-plate', pump: ref('P-1'), tag: 'T-1' }), unit: pump('p1') }),
    with_({ body: wrongPlate({ tag: 'T-1' }) }),
    '/serial',
  ],
  ['not-exchanged', { ...exchange, other: control('k1') }, exchange, '/control'],
  ['not-one-unit', { ...merging, other: control('k1') }, merging, '/with'],
  [
    'not-one-unit',
    { ...merging, other: control('k2', { born: { kind: 'control', body: 'curlew-wedge' } }) },
    { ...merging, other: control('k2', { born: { kind: 'control', body: 'curlew-block' } }) },
    '/with',
  ],
  [
    'not-one-unit',
    { ...merging, unit: pump('p1'), other: pump('p2', {}, '52') },
    { ...merging, unit: pump('p1'), other: pump('p2') },
    '/with',
  ],
  [
    'not-one-unit',
    { ...merging, unit: control('k1', on('p1')), other: control('k2', on('p2')) },
    { ...merging, unit: control('k1', on('p1')), other: control('k2', on('p1')) },
    '/with',
  ],
];

describe('what is said of which unit is which', () => {
  it.each(tests)('is refused by %s for one field (%#), and taken with its neighbour', (rule, wrong, right, pointer) => {
    expect(judgeIdentity(wrong)).toMatchObject({ refused: [{ rule, severity: 'refuse', pointer }] });
    expect(judgeIdentity(right)).not.toHaveProperty('refused');
  });

  it('is held against every rule that refuses', () => {
    const refusing = identityRules.filter((rule) => rule.severity === 'refuse');
    expect([...new Set(tests.map(([rule]) => rule))]).toEqual(refusing.map((rule) => rule.id));
  });

  it('does nothing to a unit that is only named anew', () => {
    expect(judgeIdentity(accepted)).toEqual({ findings: [], effects: [{ unit: 'k1', effect: {} }] });
  });
});

describe('an exchange', () => {
  it('moves both controls, and holds the one that was found', () => {
    const result = judgeIdentity({ ...exchange, other: control('k2', on('p2')), otherPump: 'p2' });
    expect(result).toMatchObject({
      findings: [{ rule: 'exchanged-unrecorded', severity: 'hold', found: 'k2' }],
      effects: [
        { unit: 'p1', effect: { mounted: { with: 'k2', on: true } } },
        { unit: 'k2', effect: { mounted: { with: 'p1', on: true }, opens: [{ rule: 'exchanged-unrecorded' }] } },
        { unit: 'k1', effect: { mounted: { with: 'p1', on: false } } },
        { unit: 'p2', effect: { mounted: { with: 'k2', on: false } } },
      ],
    });
    const bare = judgeIdentity({ ...exchange, unit: pump('p1') });
    expect('effects' in bare && bare.effects.map(({ unit }) => unit)).toEqual(['p1', 'k2']);
  });

  it('names a control', () => {
    expect(judgeIdentity({ ...exchange, other: null })).toEqual({ findings: [], effects: [] });
  });
});

describe('a merging', () => {
  const found = { 'bleed-seat': { elements: [{ element: 'plug-m5', quantity: 1 }], basis: 'seen' as const } };
  const opens = [{ rule: 'torque-outside', severity: 'hold' as const, pointer: '/torques/0', clearedBy: [] }];

  it('takes over the contents of the unit that was worked on later, and its holds in any case', () => {
    const other = control('k2', { found, function: 'load-sense', opens }, instant(9));
    const [later] = effectsOf({ ...merging, other });
    expect(later).toEqual({ unit: 'k1', effect: { found, function: 'load-sense', builtFor: {}, opens, merges: 'k2' } });
    const [earlier] = effectsOf({ ...merging, other: { ...other, lastDone: instant(1) } });
    expect(earlier).toEqual({ unit: 'k1', effect: { opens, merges: 'k2' } });
  });

  it('takes over what the other unit is mounted with, unless it has something itself', () => {
    const settings = { differential: { value: '14', unit: 'bar' as const } };
    const circuit = { 'system-relief': { value: '260', unit: 'bar' as const } };
    const other = control('k2', { ...on('p2'), settings, circuit });
    expect(effectsOf({ ...merging, other })).toEqual([
      { unit: 'k1', effect: { mounted: { with: 'p2', on: true }, settings, circuit, merges: 'k2' } },
      { unit: 'k2', effect: { mergedInto: 'k1', mounted: { with: 'p2', on: false } } },
      { unit: 'p2', effect: { mounted: { with: 'k1', on: true } } },
    ]);
    expect(effectsOf({ ...merging, unit: control('k1', on('p2')), other })).toEqual([
      { unit: 'k1', effect: { merges: 'k2' } },
      { unit: 'k2', effect: { mergedInto: 'k1' } },
    ]);
    expect(effectsOf({ ...merging, other: null })).toEqual([]);
  });
});

function effectsOf(judged: IdentityCase) {
  const result = judgeIdentity(judged);
  return 'effects' in result ? result.effects : [];
}
