/** Leave to use with limits and an end: ISO 9000:2015, 3.12.5, whose note says that it is limited so (from memory). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { asAt, type Concession, statusOf } from '../../../src/core/history/concession.ts';
import type { Effect, OpenFinding } from '../../../src/core/history/event.ts';
import { fold } from '../../../src/core/history/fold.ts';
import type { Clear } from '../../../src/core/rules/finding.ts';
import { at, event, instant } from './events.ts';

const clear: Clear = { kind: 'disposition', place: 'f1' };
const hold: OpenFinding = {
  ...{ rule: 'torque-outside', severity: 'hold', pointer: '/torques/0' },
  clearedBy: [{ kind: 'torque', place: 'front' }, clear],
};
const nothingKnown: OpenFinding = {
  ...{ rule: 'nothing-known', severity: 'hold', pointer: '' },
  clearedBy: [{ kind: 'correction', place: 'f1' }],
};
const limits = [{ what: 'pressure', atMost: { value: '180', unit: 'bar' } }, { inWords: true }] as const;
const until = (day: number): Concession => ({ until: instant(day), limits });

/** The work of day 1, then these, a day each. */
function workThen(opens: readonly OpenFinding[], ...later: readonly Effect[]) {
  const all = [{ opens }, ...later];
  return fold(
    'u',
    all.map((effect, index) => event(index + 1, { done: at(index + 1), effect })),
  );
}
const given = (concession: Concession | null): Effect => ({ concedes: { clear, concession } });
const statusAt = (state: ReturnType<typeof workThen>, day: number, hour = 0) => asAt(state, instant(day, hour)).status;

describe('a concession that ends', () => {
  it('releases the unit up to its end, and from that instant on holds it again, without an event', () => {
    const state = workThen([hold], given(until(10)));
    expect(statusAt(state, 9, 23)).toBe('released');
    expect(asAt(state, '2026-03-09T23:59:59.999999Z').status).toBe('released');
    expect(statusAt(state, 10)).toBe('held');
  });

  it('stays with the finding, with its limits, its record and whether it has ended', () => {
    const state = workThen([hold], given(until(10)));
    const concession = { record: 'f2', until: instant(10), limits };
    expect(state.open).toEqual([{ ...hold, fact: 'f1', concession }]);
    expect(asAt(state, instant(9)).open).toMatchObject([{ concession: { ...concession, ended: false } }]);
    expect(asAt(state, instant(10)).open).toMatchObject([{ concession: { ...concession, ended: true } }]);
  });

  it('is kept the same at all times: a folded state counts what will hold again as held', () => {
    expect(workThen([hold], given(until(10))).status).toBe('held');
    expect(workThen([hold], given({ until: null, limits })).status).toBe('released');
  });

  it('can be given again, and the last decides, also a shorter one', () => {
    expect(statusAt(workThen([hold], given(until(10)), given(until(20))), 15)).toBe('released');
    expect(statusAt(workThen([hold], given(until(20)), given(until(10))), 15)).toBe('held');
    expect(statusAt(workThen([hold], given(until(10)), given({ until: null, limits })), 28)).toBe('released');
  });

  it('is taken back by asking for rework', () => {
    const state = workThen([hold], given(until(10)), given(null));
    expect(state.open).toEqual([{ ...hold, fact: 'f1' }]);
    expect(statusAt(state, 5)).toBe('held');
  });

  it('is gone with its finding once evidence clears that', () => {
    const state = workThen([hold], given(until(10)), { clears: [{ kind: 'torque', place: 'front' }] });
    expect(state.open).toEqual([]);
    expect(statusAt(state, 20)).toBe('released');
  });

  it('is for what a concession can clear, and for what stood when it was given', () => {
    const [one, other] = workThen([hold, nothingKnown], given(until(10))).open;
    expect([one?.concession?.record, other?.concession]).toEqual(['f2', undefined]);
    const later = workThen([], given(until(10)), { opens: [hold] });
    expect(later.open).toEqual([{ ...hold, fact: 'f3' }]);
  });

  it('lets a due be as it lets a hold be', () => {
    const due: OpenFinding = { ...hold, severity: 'due' };
    const state = workThen([due], given(until(10)));
    expect([statusAt(state, 9), statusAt(state, 10)]).toEqual(['released', 'incomplete']);
  });

  it('with limits but no end never holds again, and the limits stay to be read', () => {
    const state = workThen([hold], given({ until: null, limits }));
    expect(asAt(state, '2999-01-01T00:00:00.000000Z')).toMatchObject({
      status: 'released',
      open: [{ concession: { until: null, ended: false, limits } }],
    });
  });
});

describe('a status', () => {
  it('is held, incomplete or released by what stands, not by what is under a concession', () => {
    const ended = { record: 'c', until: instant(1), limits: [], ended: true };
    const running = { ...ended, ended: false };
    expect(statusOf([])).toBe('released');
    expect(statusOf([{ severity: 'due' }, { severity: 'hold' }])).toBe('held');
    expect(statusOf([{ severity: 'due' }, { severity: 'hold', concession: running }])).toBe('incomplete');
    expect(
      statusOf([
        { severity: 'due', handedOver: 'r' },
        { severity: 'hold', concession: running },
      ]),
    ).toBe('released');
    expect(
      statusOf([
        { severity: 'due', handedOver: 'r' },
        { severity: 'hold', concession: ended },
      ]),
    ).toBe('held');
  });

  it('of a unit only ever grows worse with time while nothing is recorded', () => {
    const rank = { released: 0, incomplete: 1, held: 2 };
    const concession = fc.option(fc.integer({ min: 4, max: 20 }).map(until));
    fc.assert(
      fc.property(concession, fc.boolean(), fc.integer({ min: 3, max: 27 }), (one, isDue, day) => {
        const state = workThen([{ ...hold, severity: isDue ? 'due' : 'hold' }], given(one));
        expect(rank[statusAt(state, day)]).toBeLessThanOrEqual(rank[statusAt(state, day + 1)]);
      }),
    );
  });
});
