/** What lies in a shop to be taken. That kits are counted by their pieces is common practice, no published source. */
import { describe, expect, it } from 'vitest';
import type { Contents } from '../../../src/core/stock/contents.ts';
import type { Move, Use } from '../../../src/core/stock/ledger.ts';
import { onShelf } from '../../../src/core/stock/shelf.ts';

const kit: Contents = { of: 'kit', part: 'kit', at: () => new Map(Object.entries({ plug: 2, seal: 1 })) };
const moved = (what: Move['what'], quantity: number, more: Partial<Move> = {}): Move => ({
  ...{ what, shop: 'north', at: `2026-01-0${what === 'intake' ? 1 : 3}T00:00:00.000000Z`, reference: what, quantity },
  ...{ counts: null, item: null, loose: [], ...more },
});
const used = (item: string, quantity: number): Use => ({
  ...{ fact: 'a', shop: 'north', at: '2026-01-02T00:00:00.000000Z', reference: 'a', item, quantity },
});
const all = () => true;
const shelf = (contents: Contents, moves: Move[], uses: Use[] = [], keeps: (item: string) => boolean = all) => {
  const { kits, pieces } = onShelf({ contents, moves, uses }, 'north', keeps);
  return [kits, Object.fromEntries(pieces)];
};

describe('on the shelf are', () => {
  it('the kits that are whole, and what is left of opened ones as loose pieces', () => {
    expect(shelf(kit, [moved('intake', 10)])).toEqual([10, {}]);
    // Three plugs and one seal are out of two kits: one plug and one seal of those are left.
    expect(shelf(kit, [moved('intake', 10)], [used('plug', 3), used('seal', 1)])).toEqual([8, { plug: 1, seal: 1 }]);
  });

  it('those that a count found, whatever came in before', () => {
    const counted = moved('count', 4, { counts: 'kits', loose: [{ item: 'plug', quantity: 1 }] });
    expect(shelf(kit, [counted])).toEqual([4, { plug: 1 }]);
    expect(shelf(kit, [moved('intake', 9), counted], [used('seal', 2)])).toEqual([4, { plug: 1 }]);
  });

  it('pieces of a lot of one element, and of one that no edition knows', () => {
    expect(shelf({ of: 'element', part: 'plug' }, [moved('intake', 7)], [used('plug', 2)])).toEqual([0, { plug: 5 }]);
    expect(shelf({ of: 'unnamed', part: 'x' }, [moved('intake', 7)], [used('plug', 2)])).toEqual([0, { x: 5 }]);
  });

  it('pieces of a kit that came back one by one', () => {
    expect(shelf(kit, [moved('restocking', 1, { item: 'plug', counts: 'pieces' })])).toEqual([0, { plug: 1 }]);
  });

  it('not what was overdrawn, nor what nobody knows to be there', () => {
    expect(shelf(kit, [moved('intake', 1)], [used('plug', 5)])).toEqual([0, { seal: 1 }]);
    expect(shelf(kit, [], [used('plug', 5)])).toEqual([0, {}]);
  });

  it('not what may not be used any more: a kit with such a piece is so many loose ones', () => {
    expect(shelf(kit, [moved('intake', 3)], [], (item) => item !== 'seal')).toEqual([0, { plug: 6 }]);
  });

  it('of a kit of which nobody knows what is in it, nothing', () => {
    expect(shelf({ of: 'kit', part: 'kit', at: () => new Map() }, [moved('intake', 3)])).toEqual([0, {}]);
  });
});
