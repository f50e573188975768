/**
 * Sheets that were printed and recorded years ago keep their digests: these were taken before the planner was made fast. Where one differs,
 * records that name their sheet would be said to have been worked to another.
 */
import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Edition } from '../../../src/core/catalogue/edition.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { sheetDigest } from '../../../src/core/fit/sheet-digest.ts';
import { anyJob } from '../../support/bench/arbitrary-job.ts';
import { layoutOf } from '../../support/bench/layout.ts';
import { contentsFor, offeredIn, publishedEditions, situationsIn } from '../../support/bench/published.ts';

/** By edition the digest of all its sheets' digests; an edition's file that is changed changes its line. */
const published: Readonly<Record<string, string>> = {
  'adjustable-orifice': '33777204891086c2',
  'deep-access': 'fd177a67da419752',
  electric: '219be8bb0cab4aef',
  linkage: '5d05ee8779865345',
  ports: '0c0d6c59e4f783a5',
  rotation: 'd00ddd4ccd427bd4',
  small: '237ce749090cb9fe',
  springs: '0747cc0ebcfa0285',
  unloading: '8f1660b53c55d04e',
  'workshop-account': '01881c950b726545',
  'ardenholm-2026-1': '386f1abec997de0e',
};
/** By seed what is drawn, and the digest of the digests. Where the first differs, the second says nothing of the planner. */
const drawn: readonly (readonly [seed: number, jobs: string, digests: string])[] = [
  [1, '472bba71c17a5f07', 'fca990445664c6c0'],
  [2, 'dff4593b58c52757', 'e17baf6072477d8e'],
  [3, '16f08e5fe2e1c5a0', '6bac4f5567eca426'],
];

describe('the digests of all sheets', () => {
  it.each(Object.entries(published))('of %s are those of records that were kept', (name, digests) => {
    const edition = editionNamed(name);
    const jobs = situationsIn(edition).flatMap(({ body, pump, builtFor, ...on }) => {
      const layout = layoutOf(edition, body, pump);
      const offered = offeredIn(edition, { body, builtFor, ...on });
      return [...offered].flatMap(([from, start]) =>
        [...offered.keys()].flatMap((to) =>
          (['seen', 'assumed'] as const).map((basis): ConversionJob => {
            const contents = Object.entries(contentsFor(layout, start, 'last'));
            const fit = Object.fromEntries(contents.map(([id, elements]) => [id, { elements, basis }]));
            return { edition, body, pump, builtFor, fit, from, settings: {}, to, choices: {} };
          }),
        ),
      );
    });
    expect(jobs.length).toBeGreaterThan(0);
    expect(digestsOf(jobs)).toBe(digests);
  });

  it.each(drawn)('of editions drawn by seed %i are those that they were', (seed, ofJobs, digests) => {
    const jobs = fc.sample(anyJob, { seed, numRuns: 100 }).map(({ job }) => job);
    expect([shortened(JSON.stringify(jobs)), digestsOf(jobs)]).toEqual([ofJobs, digests]);
  });
});

function editionNamed(name: string): Edition {
  const found = publishedEditions().find((one) => one.name === `${name}.json`);
  if (found === undefined) throw new Error(`there is no edition ${name}`);
  return found.edition;
}

function digestsOf(jobs: readonly ConversionJob[]): string {
  const each = jobs.map((job) => {
    const plan = planConversion(job);
    return 'refused' in plan ? plan.refused : sheetDigest(plan);
  });
  return shortened(each.join('\n'));
}

function shortened(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}
