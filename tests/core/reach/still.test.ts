/** Whether a unit still holds what went into it. */
import { describe, expect, it } from 'vitest';
import type { UnitState } from '../../../src/core/history/fold.ts';
import { heldBy, standsOf, stillIn, stillOfParts } from '../../../src/core/reach/still.ts';

const holds = (record: string, ...elements: readonly string[]) => ({
  elements: elements.map((element) => ({ element, quantity: 2 })),
  basis: 'seen' as const,
  record,
});
const part = { fact: 'first', role: 'element', place: 'seat', item: 'plug' } as const;

describe('a part', () => {
  it('is in where its station holds what its record put there', () => {
    expect(stillIn(part, { seat: holds('first', 'plug') })).toBe('in');
  });
  it('is out where the station holds none of its kind', () => {
    expect(stillIn(part, { seat: holds('later', 'orifice') })).toBe('out');
    expect(stillIn(part, { seat: holds('later') })).toBe('out');
  });
  it('is unknown where another of its kind was put in, where nobody knows what sits there, and of a seal', () => {
    expect(stillIn(part, { seat: holds('later', 'plug') })).toBe('unknown');
    expect(stillIn(part, { seat: { elements: null, basis: 'unknown', record: 'later' } })).toBe('unknown');
    expect(stillIn(part, {})).toBe('unknown');
    expect(stillIn(part, undefined)).toBe('unknown');
    expect(stillIn({ ...part, role: 'seal' }, { seat: holds('first', 'plug') })).toBe('unknown');
  });
  it('that is in makes its unit one that holds it now, whatever is known of others', () => {
    expect(stillOfParts(['out', 'unknown', 'in'])).toBe('now');
    expect(stillOfParts(['out', 'unknown'])).toBe('unknown');
    expect(stillOfParts(['out'])).toBe('once');
    expect(stillOfParts([])).toBe('once');
  });
});

describe('a record', () => {
  const bare: UnitState = {
    ...{ unit: 'u', seq: 3, born: null, builtAt: null, stations: {}, function: null, builtFor: {}, mounted: null },
    ...{ settings: {}, custody: null, retired: null, hours: null, open: [], mergedInto: null, status: 'released' },
  };
  it('stands as long as a station, a setting or the mounting is as it left it', () => {
    expect(standsOf('first', bare)).toBe(false);
    expect(standsOf('first', { ...bare, stations: { seat: holds('first') } })).toBe(true);
    expect(standsOf('first', { ...bare, settings: { limit: { value: '1', unit: 'bar', record: 'first' } } })).toBe(
      true,
    );
    expect(standsOf('first', { ...bare, mounted: { with: 'p', record: 'first', since: '2026' } })).toBe(true);
    expect(standsOf('first', { ...bare, stations: { seat: holds('later') }, hours: null })).toBe(false);
  });
  it('tells which stations hold an element by it, and how many', () => {
    const stations = {
      ...{ seat: holds('first', 'plug'), bore: holds('later', 'plug'), port: holds('first', 'orifice') },
      adjuster: { elements: null, basis: 'unknown' as const, record: 'first' },
    };
    expect(heldBy('first', 'plug', { stations })).toEqual([{ place: 'seat', quantity: 2 }]);
  });
});
