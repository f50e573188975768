import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CoveredClaim, claimCoverage, type TermsVersion } from '../../../src/core/claims/claim-coverage.ts';
import { claimDates } from '../../../src/core/claims/claim-dates.ts';
import type { Dated } from '../../../src/core/claims/coverage.ts';
import { claimDecisionBody } from '../../../src/core/claims/decision-body.ts';
import { claimStatus } from '../../../src/core/claims/status.ts';
import { termsBody } from '../../../src/core/claims/terms-body.ts';
import { parseTime } from '../../../src/core/time/instant.ts';

const at = (date: string) => parseTime({ at: `${date}T00:00:00Z`, precision: 'day' });
const dated = (date: string, said: Dated['said'], record = `${said} ${date}`): Dated => ({
  at: at(date),
  record,
  said,
});
const failed = at('2026-06-01');

describe('since when a unit is delivered and started up', () => {
  const nothing = { claim: 'c', deliveredAt: null, startedUpAt: null };
  const onRecord = {
    delivered: [dated('2025-02-01', 'movement'), dated('2024-02-01', 'registration'), dated('2026-07-01', 'movement')],
    startedUp: [
      dated('2025-03-01', 'start-up', 'b'),
      dated('2025-03-01', 'start-up', 'a'),
      dated('2024-03-01', 'start-up'),
    ],
  };
  const said = (part: 'pump' | 'control' | 'kit-part' | 'workmanship', stated = nothing) => {
    const { delivered, startedUp } = claimDates(part, stated, failed, onRecord);
    return [delivered?.record, startedUp?.record];
  };

  it('is the first of a pump or control, and the last before the failure of what was done to it', () => {
    expect(said('pump')).toEqual(['registration 2024-02-01', 'start-up 2024-03-01']);
    expect(said('control')).toEqual(['registration 2024-02-01', 'start-up 2024-03-01']);
    expect(said('kit-part')).toEqual(['movement 2025-02-01', 'b']);
    expect(said('workmanship')).toEqual(['movement 2025-02-01', 'b']);
  });

  it('is what the claim says, where it says it', () => {
    const own = { claim: 'c', deliveredAt: at('2025-01-01'), startedUpAt: at('2025-01-02') };
    const dates = claimDates('pump', own, failed, onRecord);
    expect(dates.delivered).toEqual({ at: at('2025-01-01'), record: 'c', said: 'claim' });
    expect(dates.startedUp).toEqual({ at: at('2025-01-02'), record: 'c', said: 'claim' });
  });

  it('is not known where no record says so, and the same in whatever order they arrived', () => {
    expect(claimDates('pump', nothing, failed, { delivered: [], startedUp: [] })).toEqual({
      delivered: null,
      startedUp: null,
    });
    expect(claimDates('pump', nothing, at('2020-01-01'), onRecord)).toEqual({ delivered: null, startedUp: null });
    const { startedUp } = onRecord;
    fc.assert(
      fc.property(fc.shuffledSubarray(startedUp, { minLength: startedUp.length }), (shuffled) => {
        expect(claimDates('kit-part', nothing, failed, { ...onRecord, startedUp: shuffled }).startedUp?.record).toBe(
          'b',
        );
      }),
    );
  });
});

describe('the terms of a claim', () => {
  const version = (id: string, number: number, from: string, until: string | null, months: number): TermsVersion => ({
    ...{
      id,
      version: number,
      record: `${id}-${number}`,
      text: null,
      validUntil: until && parseTime(`${until}T00:00:00Z`).from,
    },
    ...{ validFrom: parseTime(`${from}T00:00:00Z`).from, parts: { pump: [{ months, from: 'delivery' }] } },
  });
  const versions = [
    version('standard', 1, '2020-01-01', null, 12),
    version('standard', 2, '2025-01-01', null, 24),
    version('marine', 1, '2024-01-01', '2025-01-01', 36),
  ];
  const claim = (delivered: Dated | null, startedUp: Dated | null = null): CoveredClaim => ({
    ...{ part: 'pump', delivered, startedUp, failed, hours: null },
  });
  const chosen = (one: CoveredClaim) =>
    claimCoverage(one, versions).map(({ terms, version: number, chosenBy }) => [terms, number, chosenBy]);

  it('are those that were in force when it was delivered', () => {
    expect(chosen(claim(dated('2024-06-01', 'movement')))).toEqual([
      ['marine', 1, 'delivery'],
      ['standard', 1, 'delivery'],
    ]);
    expect(chosen(claim(dated('2025-01-01', 'movement')))).toEqual([['standard', 2, 'delivery']]);
    expect(chosen(claim(dated('2019-12-31', 'movement')))).toEqual([]);
    const [covered] = claimCoverage(claim(dated('2025-06-02', 'movement')), versions);
    expect(covered).toMatchObject({
      ...{ statedBy: 'standard-2', because: 'standard, version 2, was in force at the delivery.' },
      coverage: { result: 'within', limits: [{ left: { least: '366' } }] },
    });
  });

  it('are those of the start-up or the failure where no more is known, and say so', () => {
    const byStart = claim(null, dated('2024-06-01', 'start-up'));
    expect(claimCoverage(byStart, versions)[1]).toMatchObject({
      ...{ version: 1, chosenBy: 'start-up', coverage: { result: 'unknown', missing: ['delivery'] } },
      because: 'standard, version 1, was in force at the start-up, since the delivery is not known.',
    });
    expect(claimCoverage(claim(null), versions)[0]).toMatchObject({
      because: 'standard, version 2, was in force at the failure, since neither delivery nor start-up is known.',
    });
  });

  it('are not known where the day of delivery may be on either side of a change, in the middle of it too', () => {
    const around = (from: string, to: string): Dated => ({
      at: { from: at(from).from, to: at(to).to },
      record: 'r',
      said: 'movement',
    });
    expect(chosen(claim(around('2024-12-01', '2025-01-31')))).toEqual([
      ['marine', null, 'delivery'],
      ['standard', null, 'delivery'],
    ]);
    expect(claimCoverage(claim(around('2024-12-01', '2025-01-31')), versions)[0]).toMatchObject({
      ...{ coverage: null, statedBy: null, because: expect.stringContaining('is not known') },
    });
    expect(chosen(claim(around('2023-01-01', '2026-01-01')))[0]).toEqual(['marine', null, 'delivery']);
  });

  it('state no limits for what they leave out', () => {
    const one = { ...claim(dated('2025-06-02', 'movement')), part: 'workmanship' as const };
    expect(claimCoverage(one, versions)).toMatchObject([
      { coverage: null, because: expect.stringContaining('It states no limits for workmanship.') },
    ]);
  });

  it('come out the same in whatever order they were stated', () => {
    const one = claim(dated('2024-06-01', 'movement'));
    fc.assert(
      fc.property(fc.shuffledSubarray(versions, { minLength: versions.length }), (shuffled) => {
        expect(claimCoverage(one, shuffled)).toEqual(claimCoverage(one, versions));
      }),
    );
  });
});

describe('how a claim stands', () => {
  const decision = (what: 'accepted' | 'declined' | 'more-evidence') => ({ decision: what });
  const evidence = { decision: null };

  it('is what was said of it last', () => {
    expect(claimStatus([], null)).toEqual({ status: 'open', reopened: false });
    expect(claimStatus([evidence], null)).toEqual({ status: 'open', reopened: false });
    expect(claimStatus([decision('declined')], null)).toEqual({ status: 'declined', reopened: false });
    expect(claimStatus([decision('declined'), evidence], null)).toEqual({ status: 'open', reopened: true });
    expect(claimStatus([decision('more-evidence'), evidence, decision('accepted')], null)).toEqual({
      ...{ status: 'accepted', reopened: false },
    });
    expect(claimStatus([decision('accepted')], 'c-2')).toEqual({ status: 'replaced', reopened: false });
  });
});

describe('the body of a decision', () => {
  const body = {
    reference: 'AR-1',
    performedAt: '2026-09-20T08:00:00Z',
    decision: 'accepted',
    reasons: 'worn within its time',
  };
  const takes = (more: object) => claimDecisionBody.safeParse({ ...body, ...more }).success;

  it('says what is asked for with more-evidence alone, and a cost as a decimal with its currency', () => {
    expect(takes({})).toBe(true);
    expect(takes({ decision: 'more-evidence' })).toBe(false);
    expect(takes({ decision: 'more-evidence', asks: ['a sample of the fluid'] })).toBe(true);
    expect(takes({ asks: ['a sample of the fluid'] })).toBe(false);
    expect(takes({ cost: { amount: '1240.00', currency: 'EUR' } })).toBe(true);
    for (const cost of [
      { amount: '1,5', currency: 'EUR' },
      { amount: '-1', currency: 'EUR' },
      { amount: '1', currency: 'eur' },
    ]) {
      expect([cost, takes({ cost })]).toEqual([cost, false]);
    }
  });
});

describe('the body of terms', () => {
  const terms = { validFrom: '2026-01-01T00:00:00Z', parts: { pump: [{ months: 24, from: 'delivery' }] } };
  const places = (more: object) =>
    termsBody.safeParse({ ...terms, ...more }).error?.issues.map((one) => one.path.join('/')) ?? [];

  it('has limits of one part at least, which end after they begin', () => {
    expect(places({})).toEqual([]);
    expect(places({ parts: {} })).toEqual(['parts']);
    expect(places({ validUntil: '2025-12-31T00:00:00Z' })).toEqual(['validUntil']);
    expect(places({ validUntil: '2026-12-31T00:00:00Z' })).toEqual([]);
    expect(places({ parts: { pump: [{ hours: 2000, proRataTo: 2000 }] } })).not.toEqual([]);
    expect(places({ parts: { pump: [{ months: 24, from: 'delivery', proRataTo: 12 }] } })).not.toEqual([]);
    expect(places({ parts: { pump: [{ hours: 2000, proRataTo: 2001 }], workmanship: [{ hours: 1 }] } })).toEqual([]);
    expect(places({ parts: { pump: [] } })).not.toEqual([]);
  });
});
