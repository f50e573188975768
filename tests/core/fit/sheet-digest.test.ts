/** The digest of a sheet: of what is done, however it is said and whatever is on the shelf. */
import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import { describe, expect, it } from 'vitest';
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { fitDigest, sheetDigest } from '../../../src/core/fit/sheet-digest.ts';
import { demoJob, demoWith } from '../../support/bench/demo-job.ts';
import { planOf } from '../../support/bench/expected.ts';

const job = demoJob('load-sense-bled', 'remote-pressure');
const digestOf = (one: ConversionJob) => sheetDigest(planOf(one));
const sha256 = (value: unknown) =>
  `sha256:${createHash('sha256')
    .update(canonicalize(value) ?? '')
    .digest('hex')}`;

describe('the digest of a sheet', () => {
  it('is SHA-256 over the canonical JSON (RFC 8785) of changes, opened, joints, settings and steps', () => {
    const { changes, opened, joints, settings, steps } = planOf(job);
    expect(digestOf(job)).toBe(sha256({ changes, opened, joints, settings, steps }));
  });

  it('does not depend on wording or stock', () => {
    const edition = demoWith({ '/texts/en/station~1side-cap': 'left cap', '/elements/0/text': 'plug' });
    expect(digestOf(demoJob('load-sense-bled', 'remote-pressure', { edition }))).toBe(digestOf(job));
    expect(digestOf({ ...job, stock: {} })).toBe(digestOf(job));
    expect(digestOf({ ...job, day: '2026-03-14' })).toBe(digestOf(job));
  });

  it('changes with what is changed, opened, torqued or set', () => {
    const others: ConversionJob[] = [
      demoJob('load-sense', 'remote-pressure'),
      { ...job, opened: ['sense-adjuster', 'sense-spring', 'side-cap', 'test-port'] },
      demoJob('load-sense-bled', 'remote-pressure', {
        edition: demoWith({ '/bodies/0/joints/2/torque/target/value': '35' }),
      }),
      { ...job, settings: { 'pressure-limit': { value: '200', unit: 'bar' } } },
    ];
    const digests = [job, ...others].map(digestOf);
    expect(new Set(digests).size).toBe(5);
  });
});

describe('the digest of a fit', () => {
  const held = [{ element: 'plug-m5', quantity: 1 }];

  it('is of what sits where, not of how that is known', () => {
    expect(fitDigest({ 'bleed-seat': { elements: held, basis: 'seen' } })).toBe(sha256({ 'bleed-seat': held }));
    expect(fitDigest({ 'bleed-seat': { elements: held, basis: 'assumed' } })).toBe(sha256({ 'bleed-seat': held }));
    expect(fitDigest({ 'bleed-seat': { elements: null, basis: 'unknown' } })).toBe(sha256({ 'bleed-seat': null }));
  });
});
