import { describe, expect, it } from 'vitest';
import { fold } from '../../../src/core/history/fold.ts';
import { judgeRegistration, type RegistrationInput } from '../../../src/core/judge/judge-registration.ts';
import { controlRegistration, pumpRegistration } from '../../../src/core/records/bodies.ts';
import { parseTime } from '../../../src/core/time/instant.ts';
import { conversionOnPump, inputOf, loadSenseBled, q } from '../../support/cases.ts';
import { changed } from '../../support/editions/editions.ts';

const { known, edition, now } = inputOf(conversionOnPump());
const seen = { edition: '2026-1', performedAt: '2026-03-01T08:00:00Z' };
const control = { ...seen, body: 'curlew-block', function: 'load-sense-bled' };
const pump = {
  ...{ ...seen, series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' },
  control: {
    serial: 'K-1',
    body: 'curlew-block',
    function: 'load-sense-bled',
    choices: { 'bleed-seat': 'orifice-0.8' },
  },
};

function judgeBody(of: 'control' | 'pump', body: unknown, builtAt: string | null = null) {
  const registers: RegistrationInput['registers'] =
    of === 'control'
      ? { of, unit: 'unit-control', name: 'K-1', body: controlRegistration.parse(body) }
      : { of, unit: 'unit-pump', name: 'P-1', control: 'unit-control', body: pumpRegistration.parse(body) };
  const performed = parseTime(registers.body.performedAt);
  return judgeRegistration({ fact: 'fact', performed, now, edition, newerEdition: null, known, builtAt, registers });
}
const register = (
  of: 'control' | 'pump',
  changes: Readonly<Record<string, unknown>> = {},
  builtAt: string | null = null,
) => judgeBody(of, changed(of === 'control' ? control : pump, changes), builtAt);

function accepted(...args: Parameters<typeof register>) {
  const result = register(...args);
  if (!('effects' in result)) throw new Error(JSON.stringify(result));
  return result;
}
function effectOn(unit: string, result: ReturnType<typeof accepted>) {
  return result.effects.find((one) => one.unit === unit)?.effect;
}
/** The rules that refuse, each with its place. */
function refusals(...args: Parameters<typeof register>) {
  const result = register(...args);
  return 'refused' in result ? result.refused.map((one) => `${one.rule} ${one.pointer}`) : [];
}

describe('the registration of a control', () => {
  it('fills its stations from its function, choices and statements, each with its basis', () => {
    const { judgement, effects } = accepted('control', {
      '/choices': { 'pressure-adjuster': 'adjuster-320' },
      '/stations': {
        'test-port': { content: [{ element: 'test-coupling' }], basis: 'seen' },
        'pilot-seat': { content: { unknown: 'not opened' } },
        'coil-cavity': { content: [{ element: 'cartridge-blank' }] },
      },
    });
    expect(judgement).toMatchObject({ status: 'released', findings: [], function: 'load-sense-bled' });
    expect(judgement.fit).toMatchObject({
      'sense-bore': { elements: [{ element: 'spool-sense', quantity: 1 }], basis: 'plate' },
      'vent-seat': { elements: [], basis: 'plate' },
      'pressure-adjuster': { elements: [{ element: 'adjuster-320', quantity: 1 }], basis: 'plate' },
      'bleed-seat': { elements: [{ element: 'orifice-0.6', quantity: 1 }], basis: 'assumed' },
      'test-port': { elements: [{ element: 'test-coupling', quantity: 1 }], basis: 'seen' },
      'pilot-seat': { elements: null, basis: 'unknown' },
      'coil-cavity': { elements: [{ element: 'cartridge-blank', quantity: 1 }], basis: 'plate' },
    });
    expect(Object.keys(judgement.fit).sort()).toEqual(Object.keys(loadSenseBled).sort());
    expect(effects).toMatchObject([
      { unit: 'unit-control', effect: { born: { kind: 'control', body: 'curlew-block' } } },
    ]);
  });

  it('knows nothing of its stations where it knows no function, or nothing of how it is known', () => {
    const bare = accepted('control', { '/function': undefined });
    expect(Object.values(bare.judgement.fit).every((one) => one.elements === null)).toBe(true);
    expect(bare.judgement.function).toBeNull();
    const unknown = accepted('control', { '/basis': 'unknown' });
    expect(unknown.judgement.fit['sense-bore']).toEqual({ elements: null, basis: 'unknown' });
  });

  it('is a state from which work goes on', () => {
    const [event] = accepted(
      'control',
      { '/for': { size: '83' }, '/builtAt': '2026-01-01T00:00:00Z' },
      '2026-01-01T00:00:00.000000Z',
    ).effects;
    const at = '2026-03-01T08:00:00.000000Z';
    const state = fold('unit-control', [
      {
        ...{ unit: 'unit-control', seq: 1, prev: null, fact: 'fact', kind: 'registration', after: null },
        ...{ performedFrom: at, performedTo: at, recordedAt: at, effect: event?.effect ?? {} },
      },
    ]);
    expect(state).toMatchObject({
      function: 'load-sense-bled',
      builtFor: { size: '83' },
      builtAt: '2026-01-01T00:00:00.000000Z',
    });
  });

  it('is refused where the function, a station, an element or a name is not one', () => {
    expect(refusals('control', { '/function': 'load-sensing' })).toEqual([
      'unknown-id /function',
      'function-not-offered /function',
    ]);
    expect(refusals('control', { '/function': 'electric-pressure' })).toEqual(['function-not-offered /function']);
    expect(refusals('control', { '/shop': 'nowhere', '/technician': 't-99' })).toEqual([
      'unknown-id /shop',
      'unknown-id /technician',
    ]);
    const seat = (element: string) => ({ '/stations': { 'pilot-seat': { content: [{ element }] } } });
    expect(refusals('control', seat('orifice-1.0'))).toEqual([
      'element-not-accepted /stations/pilot-seat/content/0/element',
      'not-as-declared /function',
    ]);
    expect(refusals('control', seat('plug-m5'))).toEqual([]);
    const two = { '/stations': { 'pilot-seat': { content: [{ element: 'plug-m5', quantity: 2 }] } } };
    expect(refusals('control', two)).toEqual(['two-in-one-seat /stations/pilot-seat/content']);
    expect(refusals('control', { '/body': 'curlew-drum' })).toEqual([]);
    expect(register('control', { '/body': 'curlew-drum' })).toEqual({
      unknown: "edition 2026-1 doesn't know the body of control K-1",
    });
  });

  it('points at the choice that its station cannot hold', () => {
    expect(refusals('control', { '/choices': { 'bleed-seat': 'orifice-1.0' } })).toEqual([
      'element-not-accepted /choices/bleed-seat',
      'not-as-declared /function',
    ]);
    expect(refusals('control', { '/choices': { 'bleed-seat': 'orifice-0.8' } })).toEqual([]);
  });

  it('is refused where the control was seen before it was built', () => {
    const built = '2026-03-01T08:00:00.000001Z';
    expect(refusals('control', {}, built)).toEqual(['before-unit-existed /performedAt']);
    expect(refusals('control', {}, '2026-03-01T08:00:00.000000Z')).toEqual([]);
    expect(refusals('pump', { '/control': null }, built)).toEqual(['before-unit-existed /performedAt']);
  });

  it('says which declaration to change where the stations are not the function', () => {
    const result = register('control', { '/stations': { 'pilot-seat': { content: [{ element: 'orifice-0.8' }] } } });
    expect(result).toMatchObject({
      refused: [{ because: expect.stringContaining('declare "function": null if it matches no function') }],
    });
  });

  it('notes what is ahead or older, and is refused in the future', () => {
    expect(refusals('control', { '/performedAt': '2026-03-15T00:00:00Z' })).toEqual([
      'performed-in-future /performedAt',
    ]);
    const ahead = accepted('control', { '/performedAt': '2026-03-14T12:01:00Z' });
    expect(ahead.judgement.findings.map((one) => one.rule)).toEqual(['performed-ahead']);
    expect(ahead.judgement.status).toBe('released');
  });
});

describe('the registration of a pump', () => {
  it('makes two units that are on each other, with the settings of the pair at the control', () => {
    const settings = { 'pressure-limit': q('210', 'bar') };
    const result = accepted('pump', { '/control/settings': settings });
    expect(effectOn('unit-pump', result)).toMatchObject({
      born: { kind: 'pump', series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' },
      mounted: { with: 'unit-control', on: true },
      found: { 'pump/linkage': { elements: [], basis: 'plate' } },
    });
    expect(effectOn('unit-control', result)).toMatchObject({
      ...{ mounted: { with: 'unit-pump', on: true }, settings, function: 'load-sense-bled' },
      found: { 'bleed-seat': { elements: [{ element: 'orifice-0.8', quantity: 1 }], basis: 'plate' } },
    });
    expect(Object.keys(effectOn('unit-control', result)?.found ?? {})).not.toContain('pump/linkage');
    expect(effectOn('unit-control', accepted('pump'))?.settings).toBeUndefined();
  });

  it('may be of a bare pump', () => {
    const result = accepted('pump', {
      '/control': null,
      '/fluid': undefined,
      '/basis': 'built',
      '/stations': { 'pump/linkage': { content: [{ element: 'link-torque' }] } },
    });
    expect(result.effects).toHaveLength(1);
    expect(effectOn('unit-pump', result)).toMatchObject({ born: { fluid: null } });
    expect(effectOn('unit-pump', result)?.mounted).toBeUndefined();
    expect(result.judgement.fit).toEqual({
      'pump/displacement-stop': { elements: null, basis: 'unknown' },
      'pump/linkage': { elements: [{ element: 'link-torque', quantity: 1 }], basis: 'built' },
      'pump/torque-spring': { elements: null, basis: 'unknown' },
      'pump/torque-adjuster': { elements: null, basis: 'unknown' },
    });
    expect(accepted('pump', { '/control': null }).judgement.fit['pump/linkage']).toEqual({
      elements: null,
      basis: 'unknown',
    });
  });

  it('has a basis for the pump and one for the control', () => {
    const { fit } = accepted('pump', {
      '/basis': 'built',
      '/control/basis': 'seen',
      '/control/serial': undefined,
    }).judgement;
    expect(fit['pump/linkage']?.basis).toBe('built');
    expect(fit['sense-bore']?.basis).toBe('seen');
  });

  it('points at the control for what is wrong with it, and at the pump for its own stations', () => {
    expect(refusals('pump', { '/control/function': 'load-sensing' })).toEqual([
      'unknown-id /control/function',
      'function-not-offered /control/function',
    ]);
    expect(refusals('pump', { '/control/settings': { 'pressure-limit': q('1', 'A') } })).toEqual([
      'unit-wrong /control/settings/pressure-limit/unit',
    ]);
    const linked = { '/stations': { 'pump/linkage': { content: [{ element: 'plug-m5' }] } } };
    expect(refusals('pump', linked)).toEqual([
      'element-not-accepted /stations/pump~1linkage/content/0/element',
      'not-as-declared /control/function',
    ]);
    expect(
      refusals('pump', { '/control/stations': { 'pilot-seat': { content: [{ element: 'orifice-1.0' }] } } }),
    ).toEqual([
      'element-not-accepted /control/stations/pilot-seat/content/0/element',
      'not-as-declared /control/function',
    ]);
  });

  it('is refused with a body that does not go on its size, or a size that is none', () => {
    const wedge = { ...pump, size: '52', control: { body: 'curlew-wedge', function: null } };
    const onlyBlocks = changed(edition, { '/series/0/sizes/0/bodies': ['curlew-block'] }) as typeof edition;
    const registers = {
      of: 'pump',
      unit: 'u',
      name: 'P-1',
      control: 'c',
      body: pumpRegistration.parse(wedge),
    } as const;
    const performed = parseTime(seen.performedAt);
    const result = (on: typeof edition) =>
      judgeRegistration({
        fact: 'f',
        performed,
        now,
        edition: on,
        newerEdition: null,
        known,
        builtAt: null,
        registers,
      });
    expect(result(onlyBlocks)).toMatchObject({
      refused: [
        { rule: 'function-not-offered', pointer: '/control/body', expected: 'curlew-block', found: 'curlew-wedge' },
      ],
    });
    expect(result(edition)).toMatchObject({ judgement: { status: 'released' } });
    expect(register('pump', { '/size': '250' })).toEqual({
      unknown: "edition 2026-1 doesn't know size 250 of series curlew",
    });
  });

  it('keeps how long the pump has run, and of a control on the shelf how long that has', () => {
    const hours = { value: '1200', unit: 'h' };
    const both = accepted('pump', { '/hours': hours });
    expect(effectOn('unit-pump', both)?.hours).toEqual(hours);
    expect(effectOn('unit-control', both)).not.toHaveProperty('hours');
    expect(effectOn('unit-control', accepted('control', { '/hours': hours }))?.hours).toEqual(hours);
    expect(effectOn('unit-control', accepted('control'))).not.toHaveProperty('hours');
  });

  it('keeps since when both exist', () => {
    const { effects } = accepted('pump', { '/builtAt': '2025-01-01T00:00:00Z' }, '2025-01-01T00:00:00.000000Z');
    expect(effects.map((one) => one.effect.builtAt)).toEqual([
      '2025-01-01T00:00:00.000000Z',
      '2025-01-01T00:00:00.000000Z',
    ]);
  });
});
