import { describe, expect, it } from 'vitest';
import type { Edition } from '../../../src/core/catalogue/edition.ts';
import { contentsOf, drawnAs } from '../../../src/core/stock/contents.ts';
import { changed, editionNamed } from '../../support/editions/editions.ts';

const demo = editionNamed('demo');
const bleed = demo.kits.findIndex((kit) => kit.part === 'kit-bleed');
const leaner = changed(demo, { [`/kits/${bleed}/contents`]: [{ element: 'plug-m5', quantity: 3 }] }) as Edition;
const without = changed(demo, { '/kits': [] }) as Edition;
const editions = [
  { from: '2025-01-01T00:00:00.000000Z', edition: without },
  { from: '2026-01-01T00:00:00.000000Z', edition: demo },
  { from: '2026-07-01T00:00:00.000000Z', edition: leaner },
];
const first = { 'orifice-0.6': 1, 'plug-m5': 1, 'seal-22-fkm': 1 };
const second = { 'plug-m5': 3 };

describe('what is in a lot', () => {
  it.each([
    ['the edition in effect when it came in says, where nobody knows when it was made', null, '2026-06-30', first],
    ['from the day on which another edition takes effect that one', null, '2026-07-01', second],
    ['the edition in effect when it was made', '2026-03-01T00:00:00.000000Z', '2026-08-01', first],
    ['the first that knows the kit, where it came in before that', null, '2024-01-01', first],
  ])('of kits: %s', (_, madeAt, day, pieces) => {
    const contents = contentsOf('kit-bleed', madeAt, editions);
    if (contents.of !== 'kit') throw new Error(contents.of);
    expect(Object.fromEntries(contents.at(`${day}T00:00:00.000000Z`))).toEqual(pieces);
  });

  it('is the element that its part is', () => {
    const contents = contentsOf('orifice-0.6', null, editions);
    expect(contents).toEqual({ of: 'element', part: 'orifice-0.6' });
    expect(drawnAs(contents, 'plug-m5')).toBe('plug-m5');
  });

  it('has no name where no edition knows the part: whatever is used of it is of that part', () => {
    for (const known of [editions, []]) {
      const contents = contentsOf('bought-loose', null, known);
      expect(contents).toEqual({ of: 'unnamed', part: 'bought-loose' });
      expect(drawnAs(contents, 'plug-m5')).toBe('bought-loose');
    }
  });
});
