/** Which units in stock serve an order, and in which order they are offered. Invented stock of the demo edition. */
import { describe, expect, it } from 'vitest';
import { type Option, type Order, type StockUnit, stockOptions } from '../../../src/core/fit/stock-options.ts';
import type { Stock } from '../../../src/core/fit/supply.ts';
import { fold, type UnitState } from '../../../src/core/history/fold.ts';
import { demoJob, demoWith } from '../../support/bench/demo-job.ts';

const edition = demoWith({});
const order: Order = { function: 'load-sense', size: '83', rotation: 'clockwise' };
const empty: Stock = { kits: {}, pieces: {} };
const builtFor = { size: '83', rotation: 'clockwise' } as const;

function unit(id: string, state: Partial<UnitState>, more: Partial<StockUnit> = {}): StockUnit {
  const since = '2026-04-01T08:00:00.000000Z';
  return { shop: 'north', since, isStated: true, state: { ...fold(id, []), ...state }, ...more };
}
function control(id: string, fun: string, state: Partial<UnitState> = {}, more: Partial<StockUnit> = {}): StockUnit {
  const { fit } = demoJob(fun, fun, { pump: null, builtFor });
  const stations = Object.fromEntries(Object.entries(fit).map(([at, content]) => [at, { ...content, record: 'r' }]));
  const born = { kind: 'control', body: 'curlew-block' } as const;
  return unit(id, { born, builtFor, function: fun, stations, ...state }, more);
}
function pump(id: string, state: Partial<UnitState> = {}, more: Partial<StockUnit> = {}): StockUnit {
  const born = { kind: 'pump', series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' } as const;
  const none = { elements: [], basis: 'seen', record: 'r' } as const;
  const own = ['pump/linkage', 'pump/torque-spring', 'pump/torque-adjuster'].map((at) => [at, none]);
  return unit(id, { born, stations: Object.fromEntries(own), ...state }, more);
}
const on = (other: string) => ({ mounted: { with: other, record: 'r', since: '2026-01-01T00:00:00.000000Z' } });
function asked(units: readonly StockUnit[], more: Partial<Order> = {}, stock: Stock = empty): Option[] {
  const at = '2026-05-01T08:00:00.000000Z';
  return stockOptions({ edition, order: { ...order, ...more }, units, stockOf: () => stock, at });
}
const ids = (options: readonly Option[]) =>
  options.map((one) => [one.pump?.state.unit, one.control.state.unit].filter((id) => id !== undefined).join('+'));

describe('what serves an order', () => {
  it('is a control on the shelf, a pump with its control, and a bare pump with a control of its shop', () => {
    const mounted = control('k-on', 'load-sense-bled', on('p-on'));
    const units = [control('k', 'load-sense'), mounted, pump('p-on', on('k-on')), pump('p')];
    expect(ids(asked(units)).toSorted()).toEqual(['k', 'p+k', 'p-on+k-on']);
    const [, pair] = asked(units).filter((one) => one.mounting !== null || one.pump === null);
    expect(pair?.mounting?.joints.map(({ joint }) => joint)).toContain('mounting');
  });

  it('is no pump of another series, size or sense of rotation, and no bare pump without a control in its shop', () => {
    expect(ids(asked([pump('p')]))).toEqual([]);
    const units = [control('k', 'load-sense'), pump('p')];
    for (const more of [{ series: 'other' }, { size: '124' }, { rotation: 'counterclockwise' }] as const)
      expect(ids(asked(units, more)).filter((id) => id.startsWith('p'))).toEqual([]);
    expect(ids(asked([control('k', 'load-sense', {}, { shop: 'south' }), pump('p')]))).toEqual(['k']);
    expect(ids(asked(units, { size: undefined, rotation: undefined }))).toContain('p+k');
  });

  it('is no pump whose control is not in stock, nor one that can’t have the function', () => {
    expect(ids(asked([pump('p', on('away'))]))).toEqual([]);
    expect(ids(asked([control('k', 'load-sense'), unit('strange', {})], { function: 'nothing' }))).toEqual([]);
    const mounted = control('k', 'load-sense', on('p'));
    expect(ids(asked([mounted, pump('p', on('k'))], { function: 'nothing' }))).toEqual([]);
    expect(ids(asked([control('k', 'load-sense'), pump('p')], { function: 'nothing' }))).toEqual([]);
  });

  it('is a bare pump with the control that takes the least there', () => {
    const units = [control('k-far', 'remote-pressure'), control('k-near', 'load-sense'), pump('p')];
    expect(ids(asked(units)).filter((id) => id.startsWith('p'))).toEqual(['p+k-near']);
  });

  it('may be for a voltage', () => {
    const found = asked([control('k', 'load-sense')], { function: 'electric-pressure', voltage: '24 V' });
    expect(found[0]?.supply.buy.kits).toContainEqual({ part: 'kit-electric-24', quantity: 1 });
    expect(asked([control('k', 'load-sense')], { function: 'electric-pressure' })).toEqual([]);
  });

  it('is planned on a control with unknown stations too: what comes out is looked at', () => {
    const { stations } = control('k', 'load-sense-bled').state;
    const { 'sense-bore': _, ...known } = stations;
    const unknown = { ...known, 'bleed-seat': { elements: null, basis: 'unknown', record: 'r' } as const };
    const options = asked([control('k', 'load-sense-bled', { stations: unknown }), pump('p')]);
    expect(ids(options)).toEqual(['k', 'p+k']);
    expect(options[0]?.conversion.steps.map(({ action }) => action)).toContain('look');
  });
});

describe('a control that does not go on the pump that is there', () => {
  it('is no pair with it, though another series has a size of that name on which it goes', () => {
    const [series] = edition.series;
    const sizes = series?.sizes.filter(({ id }) => id === '83').map((one) => ({ ...one, bodies: ['curlew-wedge'] }));
    const two = { ...edition, series: [...edition.series, { id: 'heron', sizes: sizes ?? [] }] };
    const born = { kind: 'pump', series: 'heron', size: '83', rotation: 'clockwise', fluid: null } as const;
    const units = [control('k', 'load-sense'), pump('p', { born }), pump('q')];
    const at = '2026-05-01T08:00:00.000000Z';
    const found = stockOptions({ edition: two, order, units, stockOf: () => empty, at });
    expect(ids(found).toSorted()).toEqual(['k', 'q+k']);
  });
});

describe('the order in which they are offered', () => {
  const bled = (id: string, state: Partial<UnitState> = {}, more: Partial<StockUnit> = {}) =>
    control(id, 'load-sense-bled', state, more);

  it('has held units last, of the pump too', () => {
    expect(ids(asked([control('a-held', 'load-sense', { status: 'held' }), bled('b')]))).toEqual(['b', 'a-held']);
    const mounted = control('k', 'load-sense', on('p'));
    const units = [mounted, pump('p', { ...on('k'), status: 'held' }), bled('z')];
    expect(ids(asked(units))).toEqual(['z', 'p+k']);
  });

  it('then has what takes the fewest pieces that must be bought, then the least work, then the cheapest kits', () => {
    const units = [control('far', 'remote-pressure'), bled('near'), control('so', 'load-sense')];
    expect(ids(asked(units))).toEqual(['so', 'near', 'far']);
    const stock = { kits: { 'kit-sense': 1 }, pieces: {} };
    const [, near] = asked(units, {}, stock);
    expect([near?.supply.cover.kits, near?.cost]).toEqual([[{ part: 'kit-sense', quantity: 1 }], 150]);
    const both = { kits: { 'kit-sense': 1, 'kit-bleed': 1 }, pieces: {} };
    expect(asked(units, {}, both)[1]?.cost).toBe(28);
  });

  it('has what costs nobody knows what after what has a cost', () => {
    const unpriced = { ...edition, kits: edition.kits.map(({ cost: _, ...kit }) => kit) };
    const at = '2026-05-01T08:00:00.000000Z';
    const job = { order, units: [bled('k'), bled('l')], stockOf: () => empty, at };
    expect(stockOptions({ ...job, edition: unpriced })[0]?.cost).toBe(null);
    expect(stockOptions({ ...job, edition })[0]?.cost).toBe(28);
  });

  it('then has what is known to be there, what has lain longest, and at last goes by the id', () => {
    const early = '2026-03-01T08:00:00.000000Z';
    const units = [
      bled('b'),
      bled('a', {}, { isStated: false, since: early }),
      bled('d', {}, { since: early }),
      bled('c'),
    ];
    expect(ids(asked(units))).toEqual(['d', 'b', 'c', 'a']);
    const twice = bled('same');
    expect(ids(asked([twice, twice]))).toEqual(['same', 'same']);
    const mounted = [bled('k', on('p')), pump('p', on('k'), { isStated: false }), bled('z')];
    expect(ids(asked(mounted)).toSorted()).toEqual(['p+k', 'z']);
  });
});
