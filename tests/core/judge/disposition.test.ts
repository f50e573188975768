import { describe, expect, it } from 'vitest';
import { fold } from '../../../src/core/history/fold.ts';
import type { DispositionCase } from '../../../src/core/judge/disposition-case.ts';
import { judgeDisposition } from '../../../src/core/judge/judge-disposition.ts';
import { dispositionBody } from '../../../src/core/records/disposition-body.ts';
import { dispositionRules } from '../../../src/core/rules/disposition-rules.ts';
import { change, controlUnit, conversionOnPump, events, q, states } from '../../support/cases.ts';

/** A conversion whose torque is too low: its unit is held by it. */
const held = change(conversionOnPump(), { '/body/torques/1/reading': q('50', 'N.m') });
const body = (decision: string, more: object = {}) =>
  dispositionBody.parse({
    reference: 'BR-D-1',
    performedAt: '2026-03-15T08:00:00Z',
    decision,
    reason: 'tested at 320 bar',
    ...more,
  });

const good: DispositionCase = {
  ...{ fact: 'decision', body: body('concession'), asker: 'lead', referenceUsedBy: null },
  record: { id: 'fact', performedTo: '2026-03-14T09:25:00.000000Z' },
  units: [states(held).control, states(held).pump],
  doers: [{ subject: 'fitter' }],
  performed: { from: '2026-03-15T08:00:00.000000Z', to: '2026-03-15T08:00:00.000000Z' },
  now: '2026-03-15T09:00:00.000000Z',
};
const later = (at: string) => ({ performed: { from: at, to: at } });

function controlAfter(decision: string, more: object = {}, units = good.units) {
  const result = judgeDisposition({ ...good, units, body: body(decision, more) });
  if ('refused' in result) throw new Error(JSON.stringify(result.refused));
  const before = events(held).control;
  const effect = result.effects.find((one) => one.unit === controlUnit)?.effect ?? {};
  const at = good.performed.from;
  return fold(controlUnit, [
    ...before,
    {
      ...{ unit: controlUnit, seq: before.length + 1, prev: null, fact: 'decision', kind: 'disposition', after: null },
      ...{ performedFrom: at, performedTo: at, recordedAt: good.now, effect },
    },
  ]);
}

describe('a disposition', () => {
  it('that leaves to use clears what the record holds, on each of its units', () => {
    expect(states(held).control.status).toBe('held');
    expect(controlAfter('concession')).toMatchObject({ status: 'released', open: [] });
    expect(judgeDisposition(good)).toMatchObject({
      independence: 'proven',
      judgement: { status: 'released', findings: [] },
      effects: [{ unit: 'unit-control' }, { unit: 'unit-pump' }],
    });
  });

  it('that asks to make good leaves it held until it is', () => {
    expect(controlAfter('rework').open).toEqual(states(held).control.open);
  });

  it('that gives leave with limits or an end lets the finding be, and keeps words out of the unit', () => {
    const pressure = { what: 'pressure', atMost: q('180', 'bar') };
    const expires = '2026-06-30T00:00:00+02:00';
    const { open } = controlAfter('concession', { expires, limits: [pressure, { text: 'stand only' }] });
    expect(open).toMatchObject([
      {
        rule: 'torque-outside',
        concession: { record: 'decision', until: '2026-06-29T22:00:00.000000Z', limits: [pressure, { inWords: true }] },
      },
    ]);
    expect(controlAfter('concession', { limits: [pressure] }).open).toMatchObject([{ concession: { until: null } }]);
    expect(controlAfter('concession', { expires }).open).toMatchObject([{ concession: { limits: [] } }]);
  });

  it('that asks to make good takes such leave back', () => {
    const conceded = controlAfter('concession', { expires: '2026-06-30T00:00:00Z' });
    const result = judgeDisposition({ ...good, units: [conceded], body: body('rework') });
    expect(result).toMatchObject({
      effects: [{ effect: { concedes: { clear: { kind: 'disposition', place: 'fact' }, concession: null } } }],
    });
  });

  it('that scraps holds the unit for good: only a correction of the decision clears that', () => {
    const { status, open } = controlAfter('scrap');
    expect(status).toBe('held');
    expect(open.at(-1)).toMatchObject({ rule: 'scrapped', clearedBy: [{ kind: 'correction', place: 'decision' }] });
    expect(judgeDisposition({ ...good, body: body('scrap') })).toMatchObject({
      judgement: { status: 'held', findings: [{ rule: 'scrapped', severity: 'hold' }] },
    });
    const unproven = judgeDisposition({ ...good, body: body('scrap'), doers: [] });
    expect(unproven).toMatchObject({ effects: [{ effect: { opens: [{ rule: 'scrapped' }] } }, {}] });
  });

  it('does not clear what only a correction clears', () => {
    const nameless = change(conversionOnPump(), {
      ...{
        '/body/technician': { unknown: 'no name' },
        '/body/removed': [],
        '/body/fitted': [],
        '/body/to': { function: 'load-sense-bled' },
      },
      ...{ '/body/seals': [], '/body/torques': [], '/body/settings': [] },
    });
    const state = states(nameless).control;
    const after = fold(controlUnit, [
      ...events(nameless).control,
      {
        ...{ unit: controlUnit, seq: 9, prev: null, fact: 'decision', kind: 'disposition', after: null },
        ...{ performedFrom: good.now, performedTo: good.now, recordedAt: good.now },
        effect: { clears: [{ kind: 'disposition', place: 'fact' }] },
      },
    ]);
    expect(state.open.map((one) => one.rule)).toEqual(['technician-unknown', 'nothing-known']);
    expect(after.open.map((one) => one.rule)).toEqual(['nothing-known']);
    expect(after.status).toBe('held');
  });
});

type Row = [
  rule: string,
  says: string,
  wrong: Partial<DispositionCase>,
  right: Partial<DispositionCase>,
  pointer: string,
];
const rows: Row[] = [
  [
    'reference-used',
    'refuses a reference that another record has',
    { referenceUsedBy: 'r' },
    { referenceUsedBy: null },
    '/reference',
  ],
  [
    'performed-in-future',
    'refuses what is decided more than five minutes ahead',
    later('2026-03-15T09:05:00.000001Z'),
    later('2026-03-15T09:05:00.000000Z'),
    '/performedAt',
  ],
  [
    'decided-before-work',
    'refuses what is decided before the work',
    later('2026-03-14T09:24:59.999999Z'),
    later('2026-03-14T09:25:00.000000Z'),
    '/performedAt',
  ],
  [
    'concession-ended',
    'refuses a concession that has ended when it is recorded',
    { body: body('concession', { expires: '2026-03-15T09:00:00Z' }) },
    { body: body('concession', { expires: '2026-03-15T09:00:00.000001Z' }) },
    '/expires',
  ],
  [
    'concession-ended',
    'refuses a concession that ends before it is given',
    { ...later('2026-03-15T09:05:00.000000Z'), body: body('concession', { expires: '2026-03-15T09:04:00Z' }) },
    { ...later('2026-03-15T09:05:00.000000Z'), body: body('concession', { expires: '2026-03-15T09:06:00Z' }) },
    '/expires',
  ],
  [
    'nothing-held',
    'refuses to decide about a record that holds nothing',
    { record: { ...good.record, id: 'another' } },
    { record: good.record },
    '',
  ],
  [
    'nothing-held',
    'refuses to decide about what is only due',
    { units: [states(change(conversionOnPump(), { '/body/checks/1': undefined })).control] },
    { units: good.units },
    '',
  ],
  [
    'decided-by-doer',
    'refuses the person who did the work, or a part of it',
    { doers: [{ subject: 'fitter' }, { subject: 'lead' }] },
    { doers: [{ subject: 'fitter' }, { subject: 'helper' }] },
    '',
  ],
  ['scrapped', 'holds what is decided to be scrap', { body: body('scrap') }, { body: body('rework') }, '/decision'],
  [
    'independence-unproven',
    'notes that a doer is tied to nobody',
    { doers: [{ subject: 'fitter' }, { subject: null }] },
    { doers: [{ subject: 'fitter' }] },
    '',
  ],
  ['independence-unproven', 'notes that no doer is known', { doers: [] }, { doers: [{ subject: 'fitter' }] }, ''],
];

describe('a rule of dispositions finds one wrong field, and nothing in its accepted neighbour', () => {
  const found = (judged: Partial<DispositionCase>) => {
    const result = judgeDisposition({ ...good, ...judged });
    return 'refused' in result ? result.refused : result.judgement.findings;
  };

  for (const [rule, says, wrong, right, pointer] of rows) {
    it(`${rule}: ${says}`, () => {
      const severity = dispositionRules.find((one) => one.id === rule)?.severity;
      expect(found(wrong)).toMatchObject([{ rule, pointer, severity }]);
      expect('refused' in judgeDisposition({ ...good, ...wrong })).toBe(severity === 'refuse');
      expect(found(right)).toEqual([]);
    });
  }

  it('has a test by name for every rule', () => {
    expect(new Set(rows.map(([rule]) => rule))).toEqual(new Set(dispositionRules.map((rule) => rule.id)));
  });

  it('says that independence is unproven where a doer is tied to nobody', () => {
    expect(judgeDisposition({ ...good, doers: [{ subject: null }] }).independence).toBe('unproven');
    expect(judgeDisposition({ ...good, doers: [] }).independence).toBe('unproven');
    expect(judgeDisposition({ ...good, doers: [{ subject: 'fitter' }, { subject: null }] }).independence).toBe(
      'unproven',
    );
    expect(judgeDisposition({ ...good, referenceUsedBy: 'r' }).independence).toBe('proven');
  });
});
