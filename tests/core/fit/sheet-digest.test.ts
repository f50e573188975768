/** The digest of a sheet: of what is done, however it is said and whatever is on the shelf. */
import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { digestForJob, mostRemembered } from '../../../src/core/fit/digest-for-job.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { fitDigest, sheetDigest } from '../../../src/core/fit/sheet-digest.ts';
import { anyJob } from '../../support/bench/arbitrary-job.ts';
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

describe('the digest for a job', () => {
  const afresh = (one: ConversionJob) => {
    const plan = planConversion(one);
    return 'refused' in plan ? null : sheetDigest(plan);
  };

  it('is that of its sheet, however often it is asked for, and none where there is no plan', () => {
    fc.assert(
      fc.property(anyJob, fc.integer({ min: 0, max: 2 }), (drawn, nth) => {
        const jobs = [drawn.job, { ...drawn.job, opened: [] }, { ...drawn.job, to: 'nothing' }];
        const asked = [...jobs, ...jobs.slice(nth), ...jobs];
        expect(asked.map(digestForJob)).toEqual(asked.map(afresh));
      }),
      { numRuns: 100 },
    );
  });

  it('is so too when more was asked for than is remembered', () => {
    const edition = demoWith({});
    const jobs = Array.from({ length: mostRemembered + 2 }, (_, nth) => ({
      ...demoJob('load-sense-bled', nth % 2 === 0 ? 'remote-pressure' : 'load-sense', { edition }),
      settings: { 'pressure-limit': { value: String(nth), unit: 'bar' } },
    }));
    expect(jobs.map(digestForJob)).toEqual(jobs.map(afresh));
    expect(jobs.map(digestForJob)).toEqual(jobs.map(afresh));
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
