/** The chain of a unit out of a small log: where it breaks, and which places nothing ties to the unit. */
import { describe, expect, it } from 'vitest';
import { type Chain, chainFault, chainSchema, untied } from '../../../src/core/log/chain.ts';
import { entryOfLeaf, leafNumber, smallLog, strangers, testKey, unit } from './small-log.ts';

const key = testKey(1);
const first = leafNumber(1, null);
const second = leafNumber(2, entryOfLeaf(first));
const leaves = [first, second, leafNumber(3, entryOfLeaf(second))];
const log = smallLog([...strangers(2), ...leaves.map(entryOfLeaf), ...strangers(1)], key);
const chain: Chain = {
  unit,
  checkpoint: log.checkpoint(),
  entries: leaves.map((leaf, at) => {
    const { checkpoint: _, ...proof } = log.inclusion(at + 2);
    return { seq: at + 1, leaf, ...proof };
  }),
};
const at = (index: number) => chain.entries[index] as Chain['entries'][number];
const withEntry = (index: number, change: object): Chain => ({
  ...chain,
  entries: chain.entries.with(index, { ...at(index), ...change }),
});

describe('a chain', () => {
  it('that is whole breaks nowhere, sent and read again', () => {
    const sent = chainSchema.parse(JSON.parse(JSON.stringify(chain)));
    expect([chainFault(sent, [key]), untied(sent)]).toEqual([null, []]);
  });

  it.each<[string, Chain, object]>([
    ['no entries', { ...chain, entries: [] }, { fault: 'place-missing', seq: 1 }],
    ['no first place', { ...chain, entries: chain.entries.slice(1) }, { fault: 'place-missing', seq: 1 }],
    ['a gap', { ...chain, entries: chain.entries.toSpliced(1, 1) }, { fault: 'place-missing', seq: 2 }],
    ['a place twice', { ...chain, entries: chain.entries.with(2, at(1)) }, { fault: 'place-missing', seq: 3 }],
    ['a wrong proof', withEntry(1, { index: 0 }), { fault: 'not-in-the-log', seq: 2 }],
    ['a cut checkpoint', { ...chain, checkpoint: 'x' }, { fault: 'checkpoint-malformed', seq: 1 }],
    [
      'a leaf that says something else',
      withEntry(2, { leaf: { ...leaves[2], kind: 'test' } }),
      { fault: 'entry-of-another-record', seq: 3 },
    ],
    ['another unit', { ...chain, unit: `${unit.slice(0, -1)}b` }, { fault: 'not-of-this-unit', seq: 1 }],
    [
      'a leaf of another place',
      { ...chain, entries: [at(0), { ...at(2), seq: 2 }] },
      { fault: 'not-of-this-unit', seq: 2 },
    ],
    [
      'another entry in a place that is withheld',
      { ...chain, entries: [at(0), { ...at(0), seq: 2, leaf: null }, at(2)] },
      { fault: 'chain-broken', seq: 3 },
    ],
  ])('with %s breaks', (_, broken, fault) => {
    expect(chainFault(broken, [key])).toEqual(fault);
  });

  it('holds where leaves are withheld, and tells which places are tied by nothing', () => {
    const hidden = (...places: number[]): Chain => ({
      ...chain,
      entries: chain.entries.map((one) => (places.includes(one.seq) ? { ...one, leaf: null } : one)),
    });
    const seen = (...places: number[]) => [chainFault(hidden(...places), [key]), untied(hidden(...places))];
    expect(seen(2)).toEqual([null, []]);
    expect(seen(1, 2)).toEqual([null, [1]]);
    expect(seen(3)).toEqual([null, [3]]);
    expect(seen(1, 2, 3)).toEqual([null, [1, 2, 3]]);
  });
});
