/** What a start-up says of the circuit: judged by the relations of the pair's function, on the demo edition. */
import { describe, expect, it } from 'vitest';
import type { Effect } from '../../../src/core/history/event.ts';
import { fold } from '../../../src/core/history/fold.ts';
import { judgeLife } from '../../../src/core/judge/judge-life.ts';
import type { LifeCase, LifeUnit } from '../../../src/core/judge/life-case.ts';
import { lifeBodies } from '../../../src/core/records/life-bodies.ts';
import { q } from '../../support/cases.ts';
import { editionNamed } from '../../support/editions/editions.ts';
import { at, event, instant } from '../history/events.ts';

function unit(kind: 'pump' | 'control', effect: Effect): LifeUnit {
  const id = kind === 'pump' ? 'p1' : 'k1';
  const state = fold(id, [event(1, { unit: id, effect })]);
  return { unit: id, kind, name: id, hasName: true, state, later: [], hours: null, covers: [] };
}

const pump = unit('pump', {
  born: { kind: 'pump', series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' },
});
const control = (more: Effect = {}) =>
  unit('control', {
    born: { kind: 'control', body: 'curlew-block' },
    function: 'load-sense-bled',
    settings: { 'pressure-limit': q('215', 'bar'), differential: q('20', 'bar') },
    ...more,
  });

/** On a pump with a limit of 215 bar and a differential of 20. */
function started(circuit: Record<string, unknown>, change: Partial<LifeCase> = {}): LifeCase {
  const body = {
    ...{ pump: { maker: 'ardenholm', serial: 'P-1' }, reference: 'L-1', performedAt: at(20), shop: 'north' },
    ...{ technician: 't-17', machine: 'press 4', circuit },
  };
  return {
    ...{ fact: 'f20', record: { kind: 'start-up', body: lifeBodies['start-up'].parse(body) }, unit: pump },
    ...{ other: control(), tagTakenBy: null, referenceUsedBy: null, afterIsKnown: true },
    edition: editionNamed('demo'),
    known: {
      shops: new Set(['north']),
      technicians: new Map([['t-17', { id: 'person-17', subject: null, authorisations: [] }]]),
      attachments: new Set(),
    },
    performed: { from: instant(20), to: instant(20) },
    now: instant(28),
    ...change,
  };
}

const kept = (judged: LifeCase) => {
  const result = judgeLife(judged);
  if ('refused' in result) throw new Error(result.refused.map((one) => one.text).join('\n'));
  return result;
};
const said = (judged: LifeCase) => kept(judged).findings.map(({ rule, severity, found }) => [rule, severity, found]);
const effectOn = (id: string, judged: LifeCase) => kept(judged).effects.find((one) => one.unit === id)?.effect;

const whole = { 'system-relief': q('260', 'bar'), 'highest-signal': q('180', 'bar') };

describe('a start-up with values of the circuit', () => {
  it('with which every relation holds is remembered, and clears what they had broken', () => {
    expect(said(started(whole))).toEqual([]);
    expect(effectOn('p1', started(whole))).toEqual({});
    const clears = ['system-relief', 'highest-signal'].map((place) => ({ kind: 'circuit', place }));
    expect(effectOn('k1', started(whole))).toEqual({ circuit: whole, clears });
  });

  it('holds the control where a relief is set too low, with the numbers', () => {
    // 234 − 215 − 20 = −1 bar.
    const low = started({ ...whole, 'system-relief': q('234', 'bar') });
    const clearedBy = [
      { kind: 'circuit', place: 'system-relief' },
      { kind: 'setting', place: 'pressure-limit' },
      { kind: 'disposition', place: 'f20' },
    ];
    expect(kept(low).findings).toMatchObject([
      {
        ...{
          rule: 'relation-broken',
          severity: 'hold',
          pointer: '/circuit',
          expected: 'at least 0',
          found: '-1.0 bar',
        },
        because:
          'relief-above-limit: the system relief valve must open at least 20 bar above the pressure limit. system-relief 234 bar − pressure-limit 215 bar − 20 bar is -1.0 bar, and must be at least 0.',
        clearedBy,
      },
    ]);
    expect(effectOn('k1', low)).toEqual({
      circuit: { ...whole, 'system-relief': q('234', 'bar') },
      opens: [{ rule: 'relation-broken', severity: 'hold', pointer: '/circuit', clearedBy }],
      clears: [{ kind: 'circuit', place: 'highest-signal' }],
    });
    expect(said(started({ ...whole, 'system-relief': q('235', 'bar') }))).toEqual([]);
  });

  it('takes what was stated before of the same pair', () => {
    const other = control({ circuit: { 'highest-signal': q('181', 'bar') } });
    const relief = { 'system-relief': q('260', 'bar') };
    expect(said(started(relief, { other }))).toEqual([['relation-broken', 'hold', '1.0 bar']]);
    expect(kept(started(relief, { other })).findings[0]?.because).toMatch(/Stated earlier: highest-signal\.$/);
    expect(said(started(whole, { other }))).toEqual([]);
  });

  it('notes what is not known, and then clears nothing', () => {
    const relief = { 'system-relief': q('260', 'bar') };
    expect(said(started(relief))).toEqual([['relation-unknown', 'note', 'highest-signal']]);
    const unset = control({ settings: {} });
    expect(said(started(whole, { other: unset }))).toEqual([
      ['relation-unknown', 'note', 'differential, pressure-limit'],
      ['relation-unknown', 'note', 'pressure-limit'],
      ['relation-unknown', 'note', 'pressure-limit'],
    ]);
    expect(effectOn('k1', started(whole, { other: unset }))).toEqual({ circuit: whole });
  });

  it('says nothing of the circuit where there is no pair, no function, no edition, or no value', () => {
    const low = { ...whole, 'system-relief': q('100', 'bar') };
    const broken = [['relation-broken', 'hold', '-135.0 bar']];
    expect(said(started(low))).toEqual(broken);
    expect(said(started(low, { unit: control(), other: pump }))).toEqual(broken);
    for (const change of [
      { other: null },
      { unit: control(), other: null },
      { other: control({ function: null }) },
      { edition: null },
    ]) {
      expect(said(started(low, change))).toEqual([]);
    }
    expect(effectOn('k1', started(low, { unit: control(), other: null }))).toEqual({});
    expect(effectOn('k1', started({}))).toEqual({});
  });

  it('states what no relation asks for, which is remembered and clears nothing', () => {
    const level = { 'oil-level': q('200', 'mm') };
    expect(effectOn('k1', started(level))).toMatchObject({ circuit: level });
    expect(effectOn('k1', started(level))).not.toHaveProperty('clears');
  });
});
