/** What of a unit's past is for who recorded it alone. */
import { describe, expect, it } from 'vitest';
import type { UnitEvent } from '../../../src/core/history/event.ts';
import { isForOwnerAlone } from '../../../src/core/history/owner-alone.ts';

const event = (fact: string, kind: UnitEvent['kind'], replaces?: string) =>
  ({ fact, kind, effect: replaces === undefined ? {} : { replaces } }) as UnitEvent;
const judging = (fact: string, judges: string, as?: string) => {
  const placed = as === undefined ? {} : { placed: { kind: as, recordedAt: '' } };
  return { fact, kind: 'judgement', effect: { judges, ...placed } } as UnitEvent;
};
const events = [
  event('moved', 'movement'),
  event('started', 'start-up'),
  event('converted', 'conversion'),
  event('put-right', 'correction', 'moved'),
  event('put-right-again', 'correction', 'put-right'),
  event('redone', 'correction', 'converted'),
  event('of-what-is-not-here', 'correction', 'elsewhere'),
  judging('judged-the-move', 'moved'),
  judging('judged-the-work', 'converted'),
  judging('brought-a-move', 'far-away', 'movement'),
  event('put-that-right', 'correction', 'far-away'),
];

describe('for its owner alone', () => {
  it.each([
    ['moved', true],
    ['started', true],
    ['put-right', true],
    ['put-right-again', true],
    ['converted', false],
    ['redone', false],
    ['of-what-is-not-here', false],
    ['judged-the-move', true],
    ['judged-the-work', false],
    ['brought-a-move', true],
    ['put-that-right', true],
  ])('%s: %s', (fact, alone) => {
    expect(isForOwnerAlone(events.find((one) => one.fact === fact) as UnitEvent, events)).toBe(alone);
  });
});
