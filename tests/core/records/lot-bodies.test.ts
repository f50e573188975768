import { describe, expect, it } from 'vitest';
import {
  countBody,
  intakeBody,
  restockingBody,
  returnBody,
  scrappingBody,
} from '../../../src/core/records/lot-bodies.ts';
import { fitted } from '../../../src/core/records/parts.ts';

const frame = { reference: 'r', performedAt: '2026-03-01T08:00:00Z', shop: 'north', quantity: 2 };
const placesOf = (schema: { safeParse: (input: unknown) => unknown }, input: object) => {
  const { error } = schema.safeParse(input) as { error?: { issues: { path: PropertyKey[] }[] } };
  return error?.issues.map((one) => one.path.join('/')) ?? [];
};

describe('a number of a lot', () => {
  it.each([
    ['intake', intakeBody, {}],
    ['scrapping', scrappingBody, { reason: 'bent' }],
    ['return', returnBody, { reason: 'late' }],
    ['count', countBody, {}],
  ])('of an %s is of kits or of pieces, and of an item only of pieces', (_, schema, more) => {
    for (const said of [
      {},
      { counts: 'kits' },
      { counts: 'pieces' },
      { item: 'plug-m5' },
      { item: 'plug-m5', counts: 'pieces' },
    ]) {
      expect(placesOf(schema, { ...frame, ...more, ...said })).toEqual([]);
    }
    expect(placesOf(schema, { ...frame, ...more, item: 'plug-m5', counts: 'kits' })).toEqual(['counts']);
    expect(placesOf(schema, { ...frame, ...more, location: 'x', quantity: -1 })).toContain('quantity');
  });

  it('may be nothing where it is counted, and only there', () => {
    expect(placesOf(countBody, { ...frame, quantity: 0 })).toEqual([]);
    expect(placesOf(intakeBody, { ...frame, quantity: 0 })).toEqual(['quantity']);
  });

  it('that is put back says which record and station it came out of', () => {
    expect(placesOf(restockingBody, frame)).toEqual(['record', 'station', 'element']);
  });
});

describe('a part with a serial', () => {
  it('is one piece', () => {
    const line = { station: 'bleed-seat', element: 'plug-m5' };
    expect(placesOf(fitted, { ...line, quantity: 2 })).toEqual([]);
    expect(placesOf(fitted, { ...line, serial: 'S-1' })).toEqual([]);
    expect(placesOf(fitted, { ...line, serial: 'S-1', quantity: 2 })).toEqual(['quantity']);
  });
});
