import { describe, expect, it } from 'vitest';
import { dispositionBody } from '../../../src/core/records/disposition-body.ts';

const given = { reference: 'd-1', performedAt: '2026-03-15T08:00:00Z', decision: 'concession', reason: 'seen' };
const placesOf = (more: object) =>
  dispositionBody.safeParse({ ...given, ...more }).error?.issues.map(({ path }) => path.join('/')) ?? [];
const limit = (what: string, unit: string) => ({ limits: [{ what, atMost: { value: '180', unit } }] });

describe('a concession', () => {
  it('may state limits in numbers and words, and an end', () => {
    const limits = [{ what: 'pressure', atMost: { value: '180.0', unit: 'bar' } }, { text: 'test stand only' }];
    const expires = '2026-06-30T00:00:00+02:00';
    expect(dispositionBody.parse({ ...given, limits, expires })).toMatchObject({ limits, expires });
    expect(placesOf({})).toEqual([]);
  });

  it.each([
    ['pressure', 'psi', 'N.m'],
    ['flow', 'gal/min', 'L'],
    ['speed', 'r/min', 'Hz'],
    ['shaft-torque', 'lbf.ft', 'bar'],
    ['oil-temperature', 'degF', 'bar'],
  ])('limits %s in %s and not in %s', (what, right, wrong) => {
    expect(placesOf(limit(what, right))).toEqual([]);
    expect(placesOf(limit(what, wrong))).not.toEqual([]);
  });

  it('is limited by what can be measured, in words that say something', () => {
    expect(placesOf(limit('colour', 'bar'))).not.toEqual([]);
    expect(placesOf({ limits: [] })).toEqual(['limits']);
    expect(placesOf({ limits: [{ text: ' ' }] })).not.toEqual([]);
    expect(placesOf({ expires: { at: '2026-06-30T00:00:00Z', precision: 'day' } })).toEqual(['expires']);
  });
});

describe('rework and scrapping', () => {
  it.each(['rework', 'scrap'])('%s has no limits and no end', (decision) => {
    expect(placesOf({ decision })).toEqual([]);
    expect(placesOf({ decision, ...limit('pressure', 'bar') })).toEqual(['limits']);
    expect(placesOf({ decision, expires: '2026-06-30T00:00:00Z' })).toEqual(['expires']);
  });
});
