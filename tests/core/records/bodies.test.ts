import { describe, expect, it } from 'vitest';
import { adjustmentBody, conversionBody, inspectionBody, mountingBody } from '../../../src/core/records/bodies.ts';
import { measurement, torque } from '../../../src/core/records/parts.ts';
import { instrumentBody } from '../../../src/core/records/stock-bodies.ts';
import { adjustment, conversionOnPump, inspection, mounting, q, type Setup } from '../../support/cases.ts';

describe('the body of a record', () => {
  const kinds = [
    ['a conversion', conversionBody, conversionOnPump],
    ['an adjustment', adjustmentBody, adjustment],
    ['an inspection', inspectionBody, inspection],
  ] as const;

  it.each(kinds)('%s names its unit once: the control, or the pump under it', (_, schema, setup) => {
    const { control, ...rest } = bodyOf(setup);
    const pump = { maker: 'ardenholm', serial: 'P-4410' };
    expect(schema.safeParse({ ...rest, control }).success).toBe(true);
    expect(schema.safeParse({ ...rest, pump }).success).toBe(true);
    for (const wrong of [rest, { ...rest, control, pump }]) {
      expect(schema.safeParse(wrong).error?.issues).toMatchObject([
        { path: ['control'], message: 'name the unit once: "control", or "pump" for the control on it' },
      ]);
    }
  });

  it('a mounting names both units', () => {
    const { control, pump, ...rest } = bodyOf(mounting);
    expect(mountingBody.safeParse({ ...rest, control, pump }).success).toBe(true);
    expect(mountingBody.safeParse({ ...rest, control }).success).toBe(false);
    expect(mountingBody.safeParse({ ...rest, pump }).success).toBe(false);
  });
});

describe('a torque', () => {
  const reading = q('61', 'N.m');
  const read = (adapter: unknown) =>
    torque.safeParse({ joint: 'side-cap-body', how: 'set', reading, instrument: 'wrench-1', adapter });

  it('is taken in units of torque only', () => {
    const parse = (unit: string) =>
      torque.safeParse({ joint: 'side-cap-body', how: 'set', reading: q('61', unit), instrument: 'wrench-1' });
    expect(parse('lbf.in').success).toBe(true);
    expect(parse('bar').error?.issues).toMatchObject([
      { path: ['reading', 'unit'], message: 'this is a torque: use one of N.m, lbf.ft, lbf.in' },
    ]);
  });

  it('has at least one reading', () => {
    const parse = (readings: unknown) =>
      torque.safeParse({ joint: 'mounting', how: 'set', reading: readings, instrument: 'wrench-1' });
    expect(parse([]).success).toBe(false);
    expect(parse([reading]).success).toBe(true);
  });

  it('comes through an extension that has a length: with none, any torque would do', () => {
    expect(read({ arm: q('400', 'mm'), extension: q('50', 'mm') }).success).toBe(true);
    expect(read({ arm: q('400', 'mm'), extension: q('-50000', 'um') }).success).toBe(true);
    expect(read({ arm: q('0.000000001', 'mm'), extension: q('0', 'mm') }).success).toBe(true);
    expect(read({ arm: q('0', 'mm'), extension: q('0', 'mm') }).success).toBe(false);
    expect(read({ arm: q('-400', 'mm'), extension: q('500', 'mm') }).success).toBe(false);
  });

  it('comes through an extension measured in lengths: where it is not, that is said of each place', () => {
    const places = (adapter: unknown) => read(adapter).error?.issues.map((issue) => issue.path.join('/'));
    expect(places({ arm: q('400', 'bar'), extension: q('50', 'V') })).toEqual([
      'adapter/arm/unit',
      'adapter/extension/unit',
    ]);
    expect(places({ arm: q('', 'mm'), extension: q('50', 'mm') })).toEqual(['adapter/arm/value']);
    expect(read({ arm: q('400', 'mm'), extension: q('-400000', 'um') }).success).toBe(false);
    expect(read({ arm: q('0', 'mm'), extension: q('50', 'mm') }).error?.issues).toMatchObject([
      { path: ['adapter', 'arm'] },
    ]);
  });
});

describe('an instrument', () => {
  const parse = (min: unknown, max: unknown) =>
    instrumentBody.safeParse({ kind: 'torque-wrench', range: { min, max } });

  it('measures from one value to a higher one of the same quantity', () => {
    expect(parse(q('10', 'N.m'), q('100', 'lbf.ft')).success).toBe(true);
    expect(parse(q('10', 'N.m'), q('10', 'N.m')).success).toBe(true);
    expect(parse(q('100', 'N.m'), q('10', 'N.m')).error?.issues).toMatchObject([{ path: ['range', 'max'] }]);
    expect(parse(q('10', 'N.m'), q('100', 'bar')).error?.issues).toMatchObject([{ path: ['range', 'max'] }]);
  });

  it('with a value that is no number is told of that value alone', () => {
    expect(parse(q('', 'N.m'), q('100', 'N.m')).error?.issues).toMatchObject([{ path: ['range', 'min', 'value'] }]);
  });
});

function bodyOf(setup: () => Setup): Record<string, unknown> {
  return { ...setup().body };
}

describe('a flow through a station', () => {
  const read = (reading: unknown, pressure: unknown) =>
    measurement.safeParse({
      ...{ measured: 'bleed-flow', reading, instrument: 'stand-1' },
      through: { station: 'bleed-seat', pressure },
    });
  const flow = { value: '0.8', unit: 'L/min' };
  const bar = (value: string) => ({ value, unit: 'bar' });

  it('is a flow, at more than no pressure', () => {
    expect(read(flow, bar('0.1')).success).toBe(true);
    expect(read(bar('8'), bar('20')).error?.issues).toMatchObject([
      { path: ['reading', 'unit'], message: 'what goes through an orifice is a flow: use L/min or gal/min' },
    ]);
    for (const pressure of ['0', '-20']) {
      expect(read(flow, bar(pressure)).error?.issues).toMatchObject([
        { path: ['through', 'pressure', 'value'], message: 'nothing flows without a pressure' },
      ]);
    }
    expect(read(flow, flow).error?.issues).toMatchObject([{ path: ['through', 'pressure', 'unit'] }]);
    expect(read({ value: 'x', unit: 'bar' }, bar('0')).error?.issues).toMatchObject([
      { path: ['reading', 'value'] },
      {},
    ]);
  });
});
