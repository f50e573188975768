/** The short form of `npm run -s bulk:try`: that it does what it says. How much memory is held is for the long form to show. */
import { expect, it } from 'vitest';
import { bulkTry } from './bulk-try.ts';

it('an upload of a history is recorded line by line', async () => {
  const told: string[] = [];
  const { statuses, samples } = await bulkTry(600, (line) => told.push(line));
  expect(statuses).toEqual({ 201: 604 });
  expect(samples.map((one) => one.records)).toEqual(Array.from({ length: 21 }, (_, nth) => nth * 30));
  for (const { rss } of samples) expect(rss).toBeGreaterThan(0);
  expect(told).toHaveLength(20);
});
