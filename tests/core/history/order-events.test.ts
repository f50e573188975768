import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { UnitEvent } from '../../../src/core/history/event.ts';
import { endOf, orderEvents } from '../../../src/core/history/order-events.ts';
import type { TimeInput } from '../../../src/core/time/instant.ts';
import { at, event, onDay } from './events.ts';

const order = (...events: readonly UnitEvent[]) => orderEvents(events).map((one) => one.seq);
const wholeMonth: TimeInput = { at: at(1), precision: 'month' };

describe('the order of work', () => {
  it('goes by when the work ended, not by when it was recorded', () => {
    expect(order(event(1, { done: at(5) }), event(2, { done: at(3) }), event(3, { done: at(4) }))).toEqual([2, 3, 1]);
  });

  it('takes what is known to the day as done at its end', () => {
    expect(order(event(1, { done: onDay(5) }), event(2, { done: at(5, 9) }), event(3, { done: at(6) }))).toEqual([
      2, 1, 3,
    ]);
  });

  it('takes nothing as done later than it was recorded', () => {
    const month = event(1, { done: wholeMonth, recorded: at(4) });
    expect(order(month, event(2, { done: at(5) }), event(3, { done: at(3) }))).toEqual([3, 1, 2]);
    expect(endOf(month)).toBe('2026-03-04T00:00:00.000000Z');
  });

  it('goes by the number of the event where the ends are equal', () => {
    expect(order(event(2, { done: at(5) }), event(1, { done: at(5) }), event(3, { done: onDay(5) }))).toEqual([
      1, 2, 3,
    ]);
    expect(order(event(9, { done: onDay(5) }), event(8, { done: onDay(5) }))).toEqual([8, 9]);
  });

  it('follows "after" where the two intervals overlap', () => {
    const day = event(1, { done: onDay(5) });
    expect(order(day, event(2, { done: at(5, 9), after: 'f1' }))).toEqual([1, 2]);
    expect(order(day, event(2, { done: onDay(5), after: 'f1' }))).toEqual([1, 2]);
    expect(order(event(1, { done: onDay(5), after: 'f2' }), event(2, { done: onDay(5) }))).toEqual([2, 1]);
  });

  it('follows "after" where the two are of one instant', () => {
    expect(order(event(1, { done: at(5), after: 'f2' }), event(2, { done: at(5) }))).toEqual([2, 1]);
    expect(order(event(1, { done: onDay(5), after: 'f2' }), event(2, { done: at(5) }))).toEqual([2, 1]);
  });

  it('does not follow "after" where they do not overlap: then the times say', () => {
    expect(order(event(1, { done: at(5, 9) }), event(2, { done: at(5, 8), after: 'f1' }))).toEqual([2, 1]);
    expect(order(event(1, { done: onDay(6) }), event(2, { done: at(5, 23), after: 'f1' }))).toEqual([2, 1]);
  });

  it('does not follow an "after" that names no event of the unit', () => {
    expect(order(event(1, { done: at(5), after: 'f7' }), event(2, { done: at(4) }))).toEqual([2, 1]);
  });

  it('keeps two others apart that do not overlap, whatever comes after a day or a month', () => {
    const month = event(1, { done: wholeMonth });
    const nine = event(2, { done: at(5, 9), after: 'f1' });
    expect(order(month, nine, event(3, { done: at(5, 14) }))).toEqual([1, 2, 3]);
    expect(order(month, nine, event(3, { done: at(5, 8) }))).toEqual([3, 1, 2]);
  });

  it('follows a chain of "after"', () => {
    const first = event(1, { done: wholeMonth });
    const second = event(2, { done: wholeMonth, after: 'f1' });
    expect(order(event(3, { done: at(2), after: 'f2' }), second, first)).toEqual([1, 2, 3]);
    const day = event(2, { done: onDay(5), after: 'f1' });
    expect(order(first, day, event(3, { done: at(5, 6), after: 'f2' }))).toEqual([1, 2, 3]);
  });

  it('comes to an end where two events each claim to be after the other', () => {
    const one = event(1, { done: onDay(5), after: 'f2' });
    const other = event(2, { done: onDay(5), after: 'f1' });
    expect(order(one, other)).toEqual([2, 1]);
    expect(order(other, one)).toEqual([2, 1]);
    expect(order(event(1, { done: onDay(5), after: 'f1' }))).toEqual([1]);
  });
});

/** Some events of one month, some known to the hour and some to the day, some after an earlier one. */
const someEvents = fc
  .array(
    fc.record({
      day: fc.integer({ min: 1, max: 4 }),
      hour: fc.option(fc.integer({ min: 0, max: 23 }), { nil: null }),
      recordedDay: fc.integer({ min: 3, max: 6 }),
      after: fc.option(fc.nat(7), { nil: null }),
    }),
    { maxLength: 8 },
  )
  .map((list) =>
    list.map(({ day, hour, recordedDay, after }, index) =>
      event(index + 1, {
        done: hour === null ? onDay(day) : at(day, hour),
        recorded: at(recordedDay),
        after: after === null || after >= index ? null : `f${after + 1}`,
      }),
    ),
  );

describe('for any events the order of work', () => {
  it('is the same in whatever order they are given', () => {
    fc.assert(
      fc.property(someEvents, fc.infiniteStream(fc.nat(1000)), (events, random) => {
        const mixed = events
          .map((one) => ({ one, key: random.next().value }))
          .sort((a, b) => a.key - b.key)
          .map(({ one }) => one);
        expect(orderEvents(mixed)).toEqual(orderEvents(events));
      }),
    );
  });

  it('has each event once, and every "after" before it whose interval overlaps', () => {
    fc.assert(
      fc.property(someEvents, (events) => {
        const ordered = orderEvents(events);
        expect(ordered.toSorted((a, b) => a.seq - b.seq)).toEqual(events);
        for (const one of events) {
          const other = events.find((each) => each.fact === one.after);
          if (other === undefined || one.performedFrom > other.performedTo || other.performedFrom > one.performedTo)
            continue;
          expect(ordered.indexOf(other)).toBeLessThan(ordered.indexOf(one));
        }
      }),
    );
  });

  it('is that of the ends where nobody says "after"', () => {
    fc.assert(
      fc.property(someEvents, (events) => {
        const plain = orderEvents(events.map((one) => ({ ...one, after: null })));
        const ends = plain.map((one) => `${endOf(one)} ${String(one.seq).padStart(3, '0')}`);
        expect(ends).toEqual(ends.toSorted());
      }),
    );
  });

  it('puts nothing before what was over when it began, whatever one "after" says', () => {
    fc.assert(
      fc.property(someEvents, (events) => {
        const single = events.map((one, index) => ({ ...one, after: index === events.length - 1 ? one.after : null }));
        const recordedWell = single.map((one) => ({ ...one, recordedAt: '2026-03-28T00:00:00.000000Z' }));
        const ordered = orderEvents(recordedWell);
        for (const [index, one] of ordered.entries()) {
          const sooner = ordered.slice(index + 1).filter((later) => later.performedTo < one.performedFrom);
          expect(sooner).toEqual([]);
        }
      }),
    );
  });
});
