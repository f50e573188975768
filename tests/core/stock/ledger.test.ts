/**
 * Balances and who is held, against numbers worked out by hand and against a naive recount that shares no code with them.
 * That a balance is what came in less what went out, and that a count's difference is booked, is common practice, no
 * published source; the 200 on 120 is the acceptance case of this service.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Contents } from '../../../src/core/stock/contents.ts';
import {
  balanceOf,
  type Ledger,
  type Move,
  moveKinds,
  overdrawnBy,
  piecesMoved,
  type Use,
} from '../../../src/core/stock/ledger.ts';

const kit: Contents = { of: 'kit', part: 'kit', at: () => new Map(Object.entries({ plug: 2, seal: 1 })) };
const unnamed: Contents = { of: 'unnamed', part: 'loose' };
const element: Contents = { of: 'element', part: 'plug' };

const time = (minute: number) => new Date(Date.UTC(2026, 0, 1, 0, minute)).toISOString().replace('Z', '000Z');
const move = (what: Move['what'], quantity: number, minute = 0, more: Partial<Move> = {}): Move => ({
  ...{ what, shop: 'north', at: time(minute), reference: `${what}-${minute}`, quantity },
  ...{ counts: null, item: null, loose: [], ...more },
});
const use = (fact: string, item: string, quantity: number, minute: number, more: Partial<Use> = {}): Use => ({
  ...{ fact, shop: 'north', at: time(minute), reference: fact, item, quantity, ...more },
});
const items = (ledger: Ledger) =>
  Object.fromEntries((balanceOf(ledger, 'north')?.items ?? []).map(({ item, ...one }) => [item, one]));
const held = (ledger: Ledger) => [...overdrawnBy(ledger, 'north').keys()].sort();

describe('a balance', () => {
  it('counts a kit as the pieces in it, and shows what is left of opened ones', () => {
    const ledger = {
      contents: kit,
      moves: [move('intake', 10), move('return', 2), move('scrapping', 1, 1, { item: 'seal' })],
      uses: [use('a', 'plug', 3, 2), use('b', 'seal', 1, 3)],
    };
    const none = { restocked: 0, counted: 0 };
    expect(items(ledger)).toEqual({
      plug: { ...none, takenIn: 20, used: 3, scrapped: 0, returned: 4, balance: 13 },
      seal: { ...none, takenIn: 10, used: 1, scrapped: 1, returned: 2, balance: 6 },
    });
    // Eight kits are there less what was taken: three plugs and two seals are out of two of them.
    expect(balanceOf(ledger, 'north')?.kits).toEqual({
      ...{ takenIn: 8, opened: 2 },
      remainder: [{ item: 'plug', quantity: 1 }],
    });
  });

  it('opens no more kits than there were, whatever was taken', () => {
    const ledger = {
      contents: kit,
      moves: [move('intake', 2)],
      uses: [use('a', 'plug', 9, 1), use('b', 'shim', 1, 1)],
    };
    expect(balanceOf(ledger, 'north')?.kits).toEqual({
      takenIn: 2,
      opened: 2,
      remainder: [{ item: 'seal', quantity: 2 }],
    });
    expect(items(ledger)['shim']).toMatchObject({ takenIn: 0, used: 1, balance: -1 });
  });

  it('has no kits where only pieces of them came in', () => {
    const ledger = { contents: kit, moves: [move('intake', 4, 0, { item: 'plug' })], uses: [] };
    expect(balanceOf(ledger, 'north')).toMatchObject({ kits: null, items: [{ item: 'plug', balance: 4 }] });
  });

  it('is one of all that is used from a lot without names', () => {
    const ledger = {
      contents: unnamed,
      moves: [move('intake', 5)],
      uses: [use('a', 'plug', 2, 1), use('a', 'seal', 1, 1)],
    };
    expect(items(ledger)).toMatchObject({ loose: { takenIn: 5, used: 3, balance: 2 } });
  });

  it('is not known without anything that came in, nor of kits of which nobody knows what is in them', () => {
    const uses = [use('a', 'plug', 2, 1)];
    for (const moves of [
      [],
      [move('scrapping', 1), move('return', 1)],
      [move('intake', 5, 0, { shop: 'south' })],
      [move('intake', 5, 0, { counts: 'kits' })],
    ]) {
      const ledger = { contents: unnamed, moves, uses };
      expect(balanceOf(ledger, 'north')).toBe(null);
      expect(held(ledger)).toEqual([]);
    }
    expect(balanceOf({ contents: unnamed, moves: [move('count', 5)], uses }, 'north')).not.toBe(null);
    expect(balanceOf({ contents: unnamed, moves: [move('restocking', 5)], uses }, 'north')).not.toBe(null);
  });

  it('is that of its shop alone', () => {
    const ledger = {
      contents: element,
      moves: [move('intake', 5), move('intake', 7, 0, { shop: 'south' })],
      uses: [use('a', 'plug', 1, 1), use('b', 'plug', 8, 1, { shop: 'south' })],
    };
    expect(items(ledger)).toMatchObject({ plug: { balance: 4 } });
    expect([held(ledger), [...overdrawnBy(ledger, 'south').keys()]]).toEqual([[], ['b']]);
  });
});

describe('a count', () => {
  const uses = [use('early', 'plug', 50, 10), use('late', 'plug', 30, 30)];
  it('shows what left unrecorded', () => {
    const ledger = { contents: element, moves: [move('intake', 120), move('count', 55, 20)], uses };
    expect(items(ledger)).toMatchObject({ plug: { counted: -15, balance: 25 } });
  });

  it('shows what came in unrecorded, and nobody is held for that any more', () => {
    const before = { contents: element, moves: [move('intake', 40)], uses };
    expect(held(before)).toEqual(['early', 'late']);
    const ledger = { ...before, moves: [...before.moves, move('count', 20, 20)] };
    expect(items(ledger)).toMatchObject({ plug: { counted: 30, balance: -10 } });
    expect(held(ledger)).toEqual(['late']);
  });

  it('takes in work that was done before it and recorded after', () => {
    const moves = [move('intake', 120), move('count', 55, 20)];
    const ledger = { contents: element, moves, uses: [...uses, use('forgotten', 'plug', 15, 15)] };
    expect(items(ledger)).toMatchObject({ plug: { counted: 0, balance: 25 } });
  });

  it('that is the last one says what was there, whatever earlier ones found', () => {
    const moves = [move('count', 60, 25), move('count', 55, 20), move('intake', 120)];
    expect(items({ contents: element, moves, uses })).toMatchObject({ plug: { counted: -10, balance: 30 } });
  });

  it('of kits counts loose pieces beside them, and says nothing of an item that is counted alone', () => {
    const moves = [move('intake', 3), move('count', 2, 5, { loose: [{ item: 'plug', quantity: 1 }] })];
    expect(items({ contents: kit, moves, uses: [] })).toMatchObject({ plug: { counted: -1 }, seal: { counted: -1 } });
    const one = [move('intake', 3), move('count', 5, 5, { item: 'plug' })];
    expect(items({ contents: kit, moves: one, uses: [] })).toMatchObject({
      plug: { counted: -1 },
      seal: { counted: 0 },
    });
    const odd = move('count', 0, 5, { loose: [{ item: 'shim', quantity: 1 }] });
    expect(piecesMoved(kit, odd)?.get('shim')).toBe(1);
  });
});

describe('two hundred on a lot of 120', () => {
  const all = Array.from({ length: 200 }, (_, nth) => use(`r-${String(nth).padStart(3, '0')}`, 'plug', 1, nth));
  const last80 = all.slice(120).map((one) => one.fact);
  it('hold the last eighty in the order of the work, in whatever order they arrive', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(all, { minLength: 200 }), (uses) => {
        const ledger = { contents: element, moves: [move('intake', 120, 500)], uses };
        expect(held(ledger)).toEqual(last80);
        expect(items(ledger)).toMatchObject({ plug: { balance: -80 } });
      }),
      { numRuns: 20 },
    );
  });

  it('hold none once eighty more are taken in', () => {
    const moves = [move('intake', 120), move('intake', 80, 600)];
    expect(held({ contents: element, moves, uses: all })).toEqual([]);
  });
});

describe('records of one time', () => {
  it('are taken in the order of their references', () => {
    const uses = [use('b', 'plug', 1, 0), use('a', 'plug', 1, 0)];
    expect(held({ contents: element, moves: [move('intake', 1)], uses })).toEqual(['b']);
  });

  it('and of one reference, which are of two kinds, are held together', () => {
    const uses = [use('b', 'plug', 1, 0, { reference: 'r' }), use('a', 'plug', 1, 0, { reference: 'r' })];
    expect(held({ contents: element, moves: [move('intake', 1)], uses })).toEqual(['a', 'b']);
  });

  it('that take two items lack each for itself', () => {
    const uses = [use('a', 'plug', 3, 0), use('a', 'seal', 2, 0)];
    expect([...overdrawnBy({ contents: kit, moves: [move('intake', 1)], uses }, 'north')]).toEqual([
      [
        'a',
        [
          { item: 'plug', used: 3, supply: 2 },
          { item: 'seal', used: 2, supply: 1 },
        ],
      ],
    ]);
  });
});

/** Walks through everything minute by minute, a piece at a time, as somebody with a pencil would. */
function recount({ moves, uses }: Ledger, item: string, perKit: number): { left: number; short: string[] } {
  const pieces = (one: Move) => (one.item === null ? one.quantity * perKit : one.item === item ? one.quantity : 0);
  const says = (one: Move) => one.what !== 'count' || one.item === null || one.item === item;
  const steps = [
    ...moves.filter(says).map((one) => ({ at: one.at, rank: one.what === 'count' ? 2 : 0, name: one.reference, one })),
    ...uses.filter((one) => one.item === item).map((one) => ({ at: one.at, rank: 1, name: one.reference, one })),
  ].sort((a, b) => (a.at === b.at ? a.rank - b.rank || (a.name < b.name ? -1 : 1) : a.at < b.at ? -1 : 1));
  let shelf = 0;
  let unrecorded = 0;
  let came = 0;
  for (const { one } of steps) {
    if (!('what' in one)) shelf -= one.quantity;
    else if (one.what === 'count') {
      unrecorded += pieces(one) - shelf;
      shelf = pieces(one);
    } else {
      const sign = one.what === 'intake' || one.what === 'restocking' ? 1 : -1;
      shelf += sign * pieces(one);
      came += sign * pieces(one);
    }
  }
  let purse = came + unrecorded;
  const short: string[] = [];
  for (const { one } of steps) {
    if ('what' in one) continue;
    purse -= one.quantity;
    if (purse < 0) short.push(one.fact);
  }
  return { left: shelf, short: [...new Set(short)].sort() };
}

describe('a naive recount', () => {
  const quantity = fc.integer({ min: 0, max: 6 });
  const minute = fc.integer({ min: 0, max: 40 });
  const anyMove = fc.record({
    what: fc.constantFrom(...moveKinds),
    quantity,
    minute,
    item: fc.constantFrom(null, 'plug', 'seal'),
  });
  const anyUse = fc.record({ item: fc.constantFrom('plug', 'seal'), quantity: fc.integer({ min: 1, max: 3 }), minute });
  it('comes to the same balances, and holds the same records', () => {
    let holding = 0;
    fc.assert(
      fc.property(fc.array(anyMove, { maxLength: 8 }), fc.array(anyUse, { maxLength: 25 }), (moved, used) => {
        const ledger = {
          contents: kit,
          moves: moved.map((one, nth) =>
            move(one.what, one.quantity, one.minute, { item: one.item, reference: `m-${nth}` }),
          ),
          uses: used.map((one, nth) => use(`r-${String(nth).padStart(2, '0')}`, one.item, one.quantity, one.minute)),
        };
        const balance = balanceOf(ledger, 'north');
        if (balance === null) {
          expect(moved.some((one) => ['intake', 'count', 'restocking'].includes(one.what))).toBe(false);
          return;
        }
        const over = overdrawnBy(ledger, 'north');
        for (const { item, balance: left } of balance.items) {
          const expected = recount(ledger, item, item === 'plug' ? 2 : 1);
          const short = [...over].filter(([, list]) => list.some((one) => one.item === item)).map(([fact]) => fact);
          expect([item, left, short.sort()]).toEqual([item, expected.left, expected.short]);
          holding += short.length;
        }
      }),
      { numRuns: 500 },
    );
    expect(holding).toBeGreaterThan(100);
  });
});
