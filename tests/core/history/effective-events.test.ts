/** Where a correction stands: where the record stood that it replaces. */
import { describe, expect, it } from 'vitest';
import { effectiveEvents, firstSaid } from '../../../src/core/history/effective-events.ts';
import { orderEvents } from '../../../src/core/history/order-events.ts';
import { at, event, onDay } from './events.ts';

const orderOf = (events: ReturnType<typeof event>[]) => orderEvents(effectiveEvents(events)).map(({ fact }) => fact);

describe('of work of one day, told in the order in which it was done', () => {
  const morning = event(1, { done: onDay(5), recorded: at(5, 10) });
  const afternoon = event(2, { done: onDay(5), recorded: at(5, 16) });

  it('what is corrected days later stands where it stood, and so does a correction of that', () => {
    const corrected = event(3, { done: onDay(5), recorded: at(9), effect: { replaces: 'f1' } });
    expect(orderOf([morning, afternoon, corrected])).toEqual(['f3', 'f2']);
    const again = event(4, { done: onDay(5), recorded: at(10), effect: { replaces: 'f3' } });
    expect(orderOf([morning, afternoon, corrected, again])).toEqual(['f4', 'f2']);
  });

  it('what is corrected to another day stands there', () => {
    const later = event(3, { done: onDay(6), recorded: at(9), effect: { replaces: 'f1' } });
    expect(orderOf([morning, afternoon, later])).toEqual(['f2', 'f3']);
    const sooner = event(3, { done: onDay(4), recorded: at(9), effect: { replaces: 'f2' } });
    expect(orderOf([morning, afternoon, sooner])).toEqual(['f3', 'f1']);
  });
});

describe('what was first said of a piece of work', () => {
  it('is the record that the corrections began with, or itself', () => {
    const events = [
      event(1),
      event(2),
      event(3, { effect: { replaces: 'f1' } }),
      event(4, { effect: { replaces: 'f3' } }),
    ];
    expect(firstSaid('f4', events)?.fact).toBe('f1');
    expect(firstSaid('f2', events)?.fact).toBe('f2');
    expect(firstSaid('f9', events)).toBe(null);
  });
});
