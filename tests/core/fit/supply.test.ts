/**
 * What a job takes off the shelf and what must be bought. That what lies loose is used before a kit is opened is common
 * practice, no published source; the kits are the demo edition's.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Need } from '../../../src/core/fit/plan.ts';
import { sheetOf } from '../../../src/core/fit/sheet.ts';
import { sheetLayout } from '../../../src/core/fit/sheet-layout.ts';
import { requirementsOf, supplyOfPlan } from '../../../src/core/fit/shop-bench.ts';
import { type Stock, supplyFor } from '../../../src/core/fit/supply.ts';
import { instrumentBody } from '../../../src/core/records/stock-bodies.ts';
import { demoJob, demoWith, pump83 } from '../../support/bench/demo-job.ts';
import { planOf } from '../../support/bench/expected.ts';
import { q } from '../../support/cases.ts';

const edition = demoWith({});
const shelf = { edition, body: 'curlew-block', fluid: 'mineral', day: '2026-03-14' };
const nothing: Stock = { kits: {}, pieces: {} };
const job = planOf(demoJob('load-sense-bled', 'load-sense'));
const needs: readonly Need[] = [
  { element: 'plug-m5', quantity: 1 },
  { seal: 'seal-22', quantity: 1 },
];
const kit = 'kit-bleed';

describe('a job in a shop', () => {
  it('takes what lies loose first, a seal of its size that stands the fluid', () => {
    const stock = { kits: { [kit]: 1 }, pieces: { 'plug-m5': 3, 'seal-22-fkm': 1, 'spool-sense': 1 } };
    expect(supplyFor(needs, shelf, stock)).toEqual({
      pieces: [
        { element: 'plug-m5', quantity: 1 },
        { element: 'seal-22-fkm', quantity: 1 },
      ],
      cover: { kits: [], loose: [], leftOver: [], cost: 0 },
      buy: { kits: [], loose: [], cost: 0 },
    });
  });

  it('takes kits of the shelf for the rest, and buys what is still missing', () => {
    const { pieces, cover, buy } = supplyFor(needs, shelf, { kits: { [kit]: 1 }, pieces: { 'plug-m5': 1 } });
    expect([pieces, cover.kits, buy]).toEqual([
      [{ element: 'plug-m5', quantity: 1 }],
      [{ part: kit, quantity: 1 }],
      { kits: [], loose: [], cost: 0 },
    ]);
    const bought = supplyFor(needs, shelf, nothing);
    expect(bought.cover).toEqual({ kits: [], loose: needs, leftOver: [], cost: 0 });
    expect(bought.buy.kits).toHaveLength(1);
  });

  it('splits a need between what lies loose and what is bought', () => {
    const many: Need[] = [{ element: 'plug-m5', quantity: 3 }];
    const { pieces, cover } = supplyFor(many, shelf, { kits: {}, pieces: { 'plug-m5': 2 } });
    expect([pieces, cover.loose]).toEqual([
      [{ element: 'plug-m5', quantity: 2 }],
      [{ element: 'plug-m5', quantity: 1 }],
    ]);
  });

  it('takes no seal that the fluid would eat', () => {
    const seals: Need[] = [{ seal: 'seal-22', quantity: 1 }];
    const stock = { kits: {}, pieces: { 'seal-22-nbr': 1 } };
    expect(supplyFor(seals, { ...shelf, fluid: 'ester' }, stock).pieces).toEqual([]);
    expect(supplyFor(seals, { ...shelf, fluid: null }, stock).pieces).toEqual([
      { element: 'seal-22-nbr', quantity: 1 },
    ]);
  });

  it('takes nothing twice, and all that is needed is loose, in a kit or to be bought', () => {
    const some = fc.record({ plugs: fc.nat(4), fkm: fc.nat(2), nbr: fc.nat(2), kits: fc.nat(2), want: fc.nat(5) });
    fc.assert(
      fc.property(some, ({ plugs, fkm, nbr, kits, want }) => {
        const asked: Need[] = [
          { element: 'plug-m5', quantity: want + 1 },
          { seal: 'seal-22', quantity: 2 },
        ];
        const stock = { kits: { [kit]: kits }, pieces: { 'plug-m5': plugs, 'seal-22-fkm': fkm, 'seal-22-nbr': nbr } };
        const { pieces, cover } = supplyFor(asked, shelf, stock);
        const taken = (element: string) => pieces.find((one) => one.element === element)?.quantity ?? 0;
        expect(taken('plug-m5')).toBe(Math.min(plugs, want + 1));
        expect(taken('seal-22-fkm') + taken('seal-22-nbr')).toBe(Math.min(fkm + nbr, 2));
        expect([taken('seal-22-fkm') <= fkm, taken('seal-22-nbr') <= nbr]).toEqual([true, true]);
        expect(cover.kits.every(({ quantity }) => quantity <= kits)).toBe(true);
      }),
    );
  });
});

describe('a plan beside a shop', () => {
  const layout = sheetLayout(edition, { control: { body: 'curlew-block' }, pump: pump83 });
  const at = '2026-03-14T08:00:00.000000Z';
  const wrench = instrumentBody.parse({
    kind: 'torque-wrench',
    how: 'set',
    class: 'A',
    range: { min: q('20', 'N.m'), max: q('100', 'N.m') },
  });
  const gauge = instrumentBody.parse({
    kind: 'gauge',
    class: '1.0',
    range: { min: q('0', 'bar'), max: q('400', 'bar') },
  });
  const instruments = [
    { instrument: 'tw', stated: wrench, events: [] },
    { instrument: 'pg', stated: gauge, events: [] },
  ];

  it('has the elements to put in and the seals of its joints as its needs', () => {
    const { cover } = supplyOfPlan(job, { edition, layout, fluid: 'mineral' }, { stock: nothing, at });
    expect(cover.loose).toEqual([
      ...job.changes.flatMap((change) => change.in),
      ...job.joints.flatMap((joint) => joint.seals),
    ]);
  });

  it('names for every torque and setting the instruments that measure it', () => {
    const read = requirementsOf(job, { edition, layout }, { instruments, at });
    expect(read.map(({ of, place, instruments: those }) => [of, place, ...those.map((one) => one.instrument)])).toEqual(
      [
        ...job.joints.map(({ joint }) => ['torque', joint, 'tw']),
        ...job.settings.map(({ setting }) => ['setting', setting, 'pg']),
      ],
    );
  });

  it('asks for none where there is no limit, and for those of the only one', () => {
    const read = (min: null, max: 'kept' | null) => {
      const settings = job.settings.map((one) => ({ ...one, min, max: max === null ? null : one.max }));
      return requirementsOf({ joints: [], settings }, { edition, layout }, { instruments, at }).length;
    };
    expect([read(null, null), read(null, 'kept')]).toEqual([0, job.settings.length]);
  });

  it('stands on a sheet that is for that shop, whose kits are then those of its shelf', () => {
    const shop = { stock: { kits: { [kit]: 1 }, pieces: {} }, instruments, at };
    const supply = supplyOfPlan(job, { edition, layout, fluid: 'mineral' }, shop);
    const requirements = requirementsOf(job, { edition, layout }, shop);
    const unit = { unit: 'u', maker: 'ardenholm', name: 'K-1' };
    const heads = {
      control: { ...unit, body: 'curlew-block', builtFor: {} },
      ...{ pump: { ...unit, ...pump83 }, from: { function: null, fit: '' }, to: { function: 'load-sense' } },
    };
    const sheet = sheetOf(job, edition, [], heads, { shop: 'north', supply, requirements });
    expect(sheet.atShop).toEqual({ shop: 'north', pieces: [], buy: supply.buy, requirements });
    expect(sheet.kits).toEqual([{ part: kit, quantity: 1 }]);
    expect(sheetOf(job, edition, [], heads).atShop).toBe(null);
  });

  it('asks for no instrument where turns are counted', () => {
    const turns = layout.settings.map((one) => ({ ...one, quantity: 'angle' as const }));
    const read = requirementsOf(job, { edition, layout: { ...layout, settings: turns } }, { instruments, at });
    expect(read.every(({ of }) => of === 'torque')).toBe(true);
  });

  it('asks by the rule and the demands of its edition', () => {
    const strict = demoWith({ '/demands': { guardBand: 5, calibrated: true } });
    const read = requirementsOf(job, { edition: strict, layout }, { instruments, at });
    const against = read.map(({ of, instruments: those }) => [of, ...those.flatMap((one) => one.against)]);
    expect(against[0]).toEqual(['torque', 'never-calibrated', 'cannot-decide']);
  });
});
