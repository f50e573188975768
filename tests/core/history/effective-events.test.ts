/** Where a correction stands: where the record stood that it replaces; and where what was judged again stands. */
import { describe, expect, it } from 'vitest';
import { effectiveEvents, effectiveOfEach, firstSaid } from '../../../src/core/history/effective-events.ts';
import type { Effect } from '../../../src/core/history/event.ts';
import { fold } from '../../../src/core/history/fold.ts';
import { orderEvents } from '../../../src/core/history/order-events.ts';
import { at, event, instant, onDay } from './events.ts';

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

describe('a record that only a judgement brought to the unit', () => {
  const placed = {
    kind: 'movement',
    performedFrom: instant(5),
    performedTo: instant(5),
    recordedAt: instant(6),
    after: null,
  };
  const before = event(1, { done: at(5), recorded: at(5, 1) });
  const after = event(2, { done: at(5), recorded: at(7) });
  const judged = (seq: number, effect: Effect) =>
    event(seq, { kind: 'judgement', done: at(20), recorded: at(20), effect: { judges: 'm', ...effect } });
  const brought = judged(3, { placed, custody: 'out' });

  it('stands where it would have stood, as what it is, and does what it was judged to do last', () => {
    expect(orderOf([before, after, brought])).toEqual(['f1', 'm', 'f2']);
    const [, moved] = orderEvents(effectiveEvents([before, after, brought]));
    expect(moved).toMatchObject({ fact: 'm', kind: 'movement', performedTo: instant(5), effect: { custody: 'out' } });
    expect(moved?.effect).toEqual({ custody: 'out' });
    const again = judged(4, { placed, custody: 'in' });
    expect(fold('u', [before, brought, again]).custody).toEqual({ record: 'm', is: 'in' });
    const once = effectiveEvents([before, after, brought, again]);
    expect(effectiveEvents(once)).toEqual(once);
  });

  it('stands behind others that were brought there, as they were recorded', () => {
    const other = { ...placed, recordedAt: instant(6, 1) };
    const later = event(4, { kind: 'judgement', recorded: at(20, 1), effect: { judges: 'n', placed: other } });
    expect(orderOf([before, after, { ...later, seq: 3 }, { ...brought, seq: 4 }])).toEqual(['f1', 'm', 'n', 'f2']);
  });

  it('stands there no more where it turns out to have left the unit alone, nor where it was itself recorded of it', () => {
    expect(orderOf([before, brought, judged(4, { placed: null })])).toEqual(['f1']);
    const own = event(2, { fact: 'm', done: at(5) });
    expect(orderOf([before, own, judged(3, { placed: null })])).toEqual(['f1']);
    expect(fold('u', [before, own, judged(3, { placed: null }), judged(4, { custody: 'in' })]).custody).toEqual({
      record: 'm',
      is: 'in',
    });
  });

  it('gives way to its correction, which stands in its place', () => {
    const corrected = event(4, { kind: 'correction', done: at(5), recorded: at(21), effect: { replaces: 'm' } });
    expect(orderOf([before, after, brought, corrected])).toEqual(['f1', 'f4', 'f2']);
    expect(firstSaid('f4', [before, after, brought, corrected])?.fact).toBe('m');
  });

  it('is left on one unit while it stays on the other', () => {
    const own = event(1, { fact: 'm', done: at(5) });
    const events = [
      own,
      judged(2, { placed: null }),
      { ...own, unit: 'v' },
      { ...judged(2, { custody: 'in' }), unit: 'v' },
    ];
    expect(effectiveOfEach(events).map(({ unit, effect }) => [unit, effect])).toEqual([['v', { custody: 'in' }]]);
  });
});
