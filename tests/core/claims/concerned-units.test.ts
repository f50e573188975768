/** Which units a claim is about. Common practice, no published source. */
import { describe, expect, it } from 'vitest';
import { concernedUnits } from '../../../src/core/claims/concerned-units.ts';
import type { Effect, UnitEvent } from '../../../src/core/history/event.ts';

const day = (number: number, hour = '00') => `2026-04-${String(number).padStart(2, '0')}T${hour}:00:00.000000Z`;
let seq = 0;
const event = (fact: string, [from, to]: [string, string], effect: Effect): UnitEvent => ({
  ...{ unit: 'pump', seq: ++seq, prev: null, fact, kind: 'mounting', after: null, effect },
  ...{ performedFrom: from, performedTo: to, recordedAt: day(30) },
});
const mounted = (fact: string, at: number, control: string, on: boolean) =>
  event(fact, [day(at), day(at, '23')], { mounted: { with: control, on } });
const at = (number: number) => ({ from: day(number, '12'), to: day(number, '12') });

const events = [
  event('seen', [day(1), day(1)], { function: 'load-sense' }),
  mounted('on', 2, 'first', true),
  mounted('off', 10, 'first', false),
  mounted('on-again', 12, 'second', true),
  mounted('never-on', 13, 'third', false),
];

describe('the units that a claim is about', () => {
  it.each([
    ['before anything was on it', at(1), ['pump']],
    ['on the day on which it was put on', { from: day(2), to: day(2) }, ['pump', 'first']],
    ['while it was on', at(5), ['pump', 'first']],
    ['on the day on which it came off', at(10), ['pump', 'first']],
    ['between the two', at(11), ['pump']],
    ['under what is on it still', at(20), ['pump', 'second']],
    ['in a month in which both were', { from: day(1), to: day(30) }, ['pump', 'first', 'second']],
  ])('%s', (_, failed, concerned) => {
    expect(concernedUnits('pump', failed, events)).toEqual(concerned);
  });

  it('leave out what a mounting put on that was made void', () => {
    const undone = event('void', [day(2), day(2)], { replaces: 'on' });
    expect(concernedUnits('pump', at(5), [...events, undone])).toEqual(['pump']);
  });
});
