/** What a reach may be asked of. */
import { describe, expect, it } from 'vitest';
import { elementAlone, type ReachCriteria, reachCriteria, seeksParts } from '../../../src/core/reach/criteria.ts';

const problemsOf = (value: unknown) =>
  (reachCriteria.safeParse(value).error?.issues ?? []).map((one) => `${one.path.join('.')}: ${one.message}`);

describe('criteria', () => {
  it('are kept as they were stated', () => {
    const whole = {
      ...{ lot: 'ardenholm/L 2/7', element: 'plug-m5', part: 'kit-bleed', instrument: 'tw-3', technician: 'T_17' },
      ...{ shop: 'north', edition: '2026-1', function: 'load-sense', distributor: 'brackwater', maker: 'ardenholm' },
      ...{ from: '2026-03-01T00:00:00+01:00', to: '2026-04-01T00:00:00+02:00' },
    };
    expect(reachCriteria.parse(whole)).toEqual(whole);
  });

  it('that seek nothing by themselves are refused', () => {
    const detail = 'lot: name at least one of lot, element, part, instrument, technician, shop, edition, function';
    expect(problemsOf({})).toEqual([detail]);
    expect(problemsOf({ maker: 'ardenholm', from: '2026-03-01T00:00:00Z' })).toEqual([detail]);
  });

  it('name a lot with its maker', () => {
    expect(reachCriteria.safeParse({ lot: 'ardenholm/L' }).success).toBe(true);
    for (const lot of ['L-1', '/L-1', 'ardenholm/', 'ardenholm/ L', 'Ardenholm/L', `ardenholm/${'L'.repeat(65)}`])
      expect(problemsOf({ lot })).toEqual(['lot: name the lot as MAKER/NUMBER']);
  });

  it('name a period that is one', () => {
    const period = (from: string, to: string) => problemsOf({ shop: 'north', from, to });
    expect(period('2026-03-01T00:00:00Z', '2026-03-01T00:00:00.000001Z')).toEqual([]);
    expect(period('2026-03-01T00:00:00+01:00', '2026-02-28T23:00:00Z')).toEqual(['to: "to" must be later than "from"']);
    expect(period('2026-03-02T00:00:00Z', '2026-03-01T00:00:00Z')).toEqual(['to: "to" must be later than "from"']);
    expect(period('yesterday', '2026-03-01T00:00:00Z')).toHaveLength(1);
    expect(period('2026-03-01T00:00:00Z', 'today')).toHaveLength(1);
  });

  it('know whether they seek parts, and whether an element whatever it is from', () => {
    const cases: readonly (readonly [ReachCriteria, boolean, string | null])[] = [
      [{ lot: 'a/1' }, true, null],
      [{ part: 'kit' }, true, null],
      [{ element: 'plug' }, true, 'plug'],
      [{ element: 'plug', shop: 'north' }, true, 'plug'],
      [{ element: 'plug', lot: 'a/1' }, true, null],
      [{ element: 'plug', part: 'kit' }, true, null],
      [{ shop: 'north' }, false, null],
    ];
    for (const [criteria, parts, element] of cases)
      expect([criteria, seeksParts(criteria), elementAlone(criteria)]).toEqual([criteria, parts, element]);
  });
});
