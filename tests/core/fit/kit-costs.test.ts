/** What a kit costs decides between covers that leave as little loose; a cost that nobody states never passes for none. */
import { describe, expect, it } from 'vitest';
import type { Edition } from '../../../src/core/catalogue/edition.ts';
import { sheetDigest } from '../../../src/core/fit/sheet-digest.ts';
import { demoJob, demoWith } from '../../support/bench/demo-job.ts';
import { planOf } from '../../support/bench/expected.ts';

/** The kit for remote pressure, and another with the same in it that comes first by its number. */
function editionWith(cost: number | undefined, other: number | undefined): Edition {
  const edition = demoWith({});
  const kit = edition.kits.find(({ part }) => part === 'kit-remote');
  if (kit === undefined) throw new Error('the demo edition has no kit for remote pressure');
  const { cost: _, ...same } = kit;
  const priced = (part: string, price: number | undefined) => ({
    ...same,
    part,
    ...(price !== undefined && { cost: price }),
  });
  return { ...edition, kits: [priced('kit-a', other), priced('kit-remote', cost)] };
}

const planWith = (cost: number | undefined, other: number | undefined) =>
  planOf(demoJob('load-sense', 'remote-pressure', { edition: editionWith(cost, other) }));

describe('of two kits that bring the same', () => {
  it.each([
    ['the one with a stated cost is taken, however high', 140, undefined, 'kit-remote', 140],
    ['one that is free is not one of which nobody says the cost', 0, undefined, 'kit-remote', 0],
    ['the cheaper is taken', 140, 139.9, 'kit-a', 139.9],
    [
      'the first by part number is taken where neither cost is known, and the cost is not known',
      undefined,
      undefined,
      'kit-a',
      null,
    ],
  ])('%s', (_, cost, other, part, total) => {
    const { cover } = planWith(cost, other);
    expect([cover.kits, cover.cost]).toEqual([[{ part, quantity: 1 }], total]);
  });
});

it('a kit of unknown cost is taken all the same where less is loose with it', () => {
  const { kits } = editionWith(undefined, undefined);
  const edition = { ...demoWith({}), kits: kits.slice(1) };
  const { cover } = planOf(demoJob('load-sense', 'remote-pressure', { edition }));
  expect([cover.kits, cover.cost]).toEqual([[{ part: 'kit-remote', quantity: 1 }], null]);
});

it('costs are not in the digest of a sheet', () => {
  expect(sheetDigest(planWith(140, undefined))).toBe(sheetDigest(planWith(undefined, 1)));
});
