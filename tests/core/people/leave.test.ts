/** Half-open times, as ISO 8601-1:2019 leaves them to agreement: from the first instant on, up to but without the last. */
import { describe, expect, it } from 'vitest';
import { coverageOf, type Leave, stateAt } from '../../../src/core/people/leave.ts';
import { type Given, runningOut } from '../../../src/core/people/running-out.ts';
import { addMicroseconds } from '../../../src/core/time/instant.ts';

const day = (n: number, month = '03') => `2026-${month}-${String(n).padStart(2, '0')}T00:00:00.000000Z`;
const leave = (from: string, until: string | null, scope: Leave['scope'] = {}): Leave => ({
  ...{ id: 'a', from, until, scope },
});
const work = { maker: 'ardenholm', series: ['curlew'], body: 'curlew-block', function: 'load-sense' };
const at = (instant: string) => ({ from: instant, to: instant });
const days = (from: number, to: number) => ({ from: day(from), to: day(to) });

describe('leave', () => {
  it('covers an instant from its beginning on, and not its end', () => {
    const march = [leave(day(1), day(10))];
    expect(coverageOf(march, work, at(day(1)))).toBe('whole');
    expect(coverageOf(march, work, at(addMicroseconds(day(10), -1)))).toBe('whole');
    expect(coverageOf(march, work, at(day(10)))).toBe('none');
    expect(coverageOf(march, work, at(addMicroseconds(day(1), -1)))).toBe('none');
  });

  it.each([
    ['all of it', [leave(day(1), day(21))], 'whole'],
    ['all but its last instant', [leave(day(1), day(20))], 'partly'],
    ['two that meet', [leave(day(12), null), leave(day(1), day(12))], 'whole'],
    ['two with an instant between them', [leave(addMicroseconds(day(12), 1), null), leave(day(1), day(12))], 'partly'],
    ['a short one within a long one', [leave(day(1), day(30)), leave(day(10), day(11))], 'whole'],
    ['a short one within one that ends too soon', [leave(day(1), day(15)), leave(day(3), day(11))], 'partly'],
    ['one that ends before it begins', [leave(day(15), day(12))], 'none'],
    ['one before and one after', [leave(day(1), day(10)), leave(day(21), null)], 'none'],
    ['none', [], 'none'],
  ] as const)('for ten days is asked for all of them: %s', (_, leaves, coverage) => {
    expect(coverageOf(leaves, work, days(10, 20))).toBe(coverage);
  });

  it('does not cover in part by what is for other work', () => {
    const other = leave(day(1), null, { bodies: ['curlew-wedge'] });
    expect(coverageOf([other], work, at(day(5)))).toBe('none');
    expect(coverageOf([other, leave(day(1), null)], work, at(day(5)))).toBe('whole');
  });

  it('for a series says nothing sure of a body that sits on none', () => {
    const limited = [leave(day(1), null, { series: ['curlew'] })];
    expect(coverageOf(limited, { ...work, series: [] }, at(day(5)))).toBe('partly');
  });

  it.each([
    ['to come', day(1), null, day(10), addMicroseconds(day(1), -1)],
    ['in force', day(1), null, day(10), day(1)],
    ['expired', day(1), null, day(10), day(10)],
    ['in force', day(1), day(5), day(5), addMicroseconds(day(5), -1)],
    ['withdrawn', day(1), day(5), day(5), day(5)],
    ['withdrawn', day(1), day(5), day(5), day(20)],
    ['expired', day(1), day(15), day(10), day(20)],
    ['in force', day(1), null, null, day(20)],
  ] as const)('is %s from %s on, withdrawn from %s, until %s, at %s', (state, from, withdrawn, until, then) => {
    expect(stateAt({ from, until }, withdrawn, then)).toBe(state);
  });
});

describe('what runs out', () => {
  const now = day(1);
  const given = (id: string, until: string | null, more: Partial<Given> = {}): Given => ({
    ...{ id, person: id, tasks: ['assemble'], scope: {}, from: day(1, '01'), until, withdrawnFrom: null },
    ...more,
  });
  const listed = (all: readonly Given[], within = 60, expired = false) =>
    runningOut(all, now, { within, expired }).map((one) => [one.id, one.daysLeft]);

  it('is told by whole days, the soonest first', () => {
    const all = [
      given('c', day(3)),
      given('b', day(3)),
      given('a', day(20)),
      given('last day', addMicroseconds(day(2), -1)),
      given('for ever', null),
    ];
    expect(listed(all)).toEqual([
      ['last day', 0],
      ['b', 2],
      ['c', 2],
      ['a', 19],
    ]);
    expect(listed(all, 2).map(([id]) => id)).toEqual(['last day', 'b', 'c']);
    expect(listed(all, 1).map(([id]) => id)).toEqual(['last day']);
  });

  it('has what is over before all else, where that is asked for', () => {
    const all = [
      given('soon', day(3)),
      given('just over', now),
      given('over', addMicroseconds(now, -1)),
      given('long over', day(27, '02')),
    ];
    expect(listed(all)).toEqual([['soon', 2]]);
    expect(listed(all, 60, true)).toEqual([
      ['long over', -2],
      ['over', -1],
      ['just over', 0],
      ['soon', 2],
    ]);
  });

  it('leaves out what was withdrawn, but not what will be', () => {
    const withdrawn = (from: string) => ({ withdrawnFrom: from });
    expect(listed([given('gone', day(20, '02'), withdrawn(day(20, '02')))], 60, true)).toEqual([]);
    // Withdrawn from a time on that is its end, as it reckons with the withdrawal.
    expect(listed([given('going', day(5), withdrawn(day(5)))])).toEqual([['going', 4]]);
  });

  const old = given('old', day(10), { person: 'one', scope: { bodies: ['a'] } });
  it.each([
    ['another as wide without a gap', { from: day(10), scope: { bodies: ['a', 'b'] } }, false],
    ['one without an end and limits', { from: day(2), until: null, tasks: ['inspect', 'assemble'] }, false],
    ['one after a gap', { from: addMicroseconds(day(10), 1) }, true],
    ['one that ends with it', { until: day(10) }, true],
    ['one of somebody else', { person: 'two' }, true],
    ['one for another task', { tasks: ['inspect'] }, true],
    ['one for less', { scope: { bodies: ['b'] } }, true],
    ['one that is limited where it is not', { scope: { makers: ['ardenholm'] } }, true],
  ])('where it is followed by %s is listed: %s', (_, more, isListed) => {
    const next = given('next', day(20, '12'), { person: 'one', ...more });
    expect(listed([old, next], 30).some(([id]) => id === 'old')).toBe(isListed);
  });
});
