import { describe, expect, it } from 'vitest';
import { claimBody } from '../../../src/core/claims/claim-body.ts';
import type { ClaimCase, EvidenceCase, OnClaimCase } from '../../../src/core/judge/claim-case.ts';
import { claimRules, decisionRules, evidenceRules } from '../../../src/core/rules/claim-rules.ts';
import { findingsBy } from '../../../src/core/rules/rule.ts';
import { parseTime } from '../../../src/core/time/instant.ts';

const at = (time: string) => parseTime(`2026-${time}T00:00:00Z`);
const month = (of: string) => parseTime({ at: `2026-${of}-01T00:00:00Z`, precision: 'month' });
const digest = `sha256:${'0'.repeat(64)}`;
const claim = {
  ...{ pump: { maker: 'ardenholm', serial: 'P-1' }, reference: 'c', shop: 'north', technician: 't-17' },
  ...{ performedAt: '2026-09-01T00:00:00Z', failedAt: '2026-08-01T00:00:00Z', attachments: [digest] },
  ...{ part: 'pump', symptom: 'noise', failureMode: 'worn' },
};
const known = {
  ...{
    shops: new Set(['north']),
    attachments: new Set([digest]),
    approvals: [],
    instruments: new Map(),
    lots: new Map(),
  },
  technicians: new Map([['t-17', { id: 'p', subject: null, authorisations: [] }]]),
};
const said = { referenceUsedBy: null, performed: at('09-01'), now: at('09-02').from };
const bodyWith = (more: object) => claimBody.parse({ ...claim, ...more });
const good: ClaimCase = {
  ...{ ...said, body: bodyWith({}), known, unit: { name: 'P-1', builtAt: at('01-01').from } },
  ...{ failed: at('08-01'), startedUp: at('02-01'), replaces: null },
  words: { symptom: ['noise'], failureMode: ['worn'] },
};
const onClaim: OnClaimCase = { ...said, claim: { raised: at('09-01'), replacedBy: null } };
const evidence: EvidenceCase = { ...onClaim, body: good.body, known };

const refusals: readonly [string, string, Partial<ClaimCase>, Partial<ClaimCase>][] = [
  ['unknown-id', '/shop', { body: bodyWith({ shop: 'south' }) }, {}],
  [
    'unknown-id',
    '/technician',
    { body: bodyWith({ technician: 't-0' }) },
    { body: bodyWith({ technician: undefined }) },
  ],
  [
    'unknown-id',
    '/attachments/0',
    { known: { ...known, attachments: new Set() } },
    { body: bodyWith({ technician: { unknown: 'left' } }) },
  ],
  ['unknown-id', '/symptom', { words: { symptom: [], failureMode: ['worn'] } }, {}],
  ['unknown-id', '/failureMode', { words: { symptom: ['noise'], failureMode: [] } }, {}],
  ['reference-used', '/reference', { referenceUsedBy: 'other' }, {}],
  ['performed-in-future', '/performedAt', { performed: at('09-03') }, { performed: at('09-02') }],
  [
    'before-unit-existed',
    '/failedAt',
    { unit: { name: 'P-1', builtAt: at('08-02').from } },
    { unit: { name: 'P-1', builtAt: null } },
  ],
  [
    'before-unit-existed',
    '/failedAt',
    { unit: { name: 'P-1', builtAt: at('09-01').from }, failed: month('08') },
    { unit: { name: 'P-1', builtAt: at('08-20').from }, failed: month('08') },
  ],
  ['claim-before-failure', '/failedAt', { failed: at('09-02') }, { failed: month('09') }],
  ['claim-before-failure', '/startedUpAt', { startedUp: at('08-02') }, { startedUp: month('08') }],
  ['claim-before-failure', '/startedUpAt', { startedUp: at('08-02') }, { startedUp: null }],
  [
    'claim-corrects-another',
    '/replaces',
    { replaces: { isOwnOfUnit: false, replacedBy: null } },
    { replaces: { isOwnOfUnit: true, replacedBy: null } },
  ],
  ['claim-corrects-another', '/replaces', { replaces: { isOwnOfUnit: true, replacedBy: 'c-2' } }, {}],
];

describe('a claim', () => {
  it('against which nothing stands is taken', () => {
    expect(findingsBy(claimRules, good)).toEqual([]);
  });

  it.each(refusals)('is refused by %s at %s, and by nothing beside it', (rule, pointer, wrong, right) => {
    expect(findingsBy(claimRules, { ...good, ...wrong })).toMatchObject([{ rule, pointer, severity: 'refuse' }]);
    expect(findingsBy(claimRules, { ...good, ...right })).toEqual([]);
  });

  it('has a test for every rule', () => {
    const tested = new Set(refusals.map(([rule]) => rule));
    expect([...new Set(claimRules.map((rule) => rule.id))].filter((id) => !tested.has(id))).toEqual([]);
  });
});

describe('what is said of a claim', () => {
  it('is taken where nothing stands against it; evidence may be older than the claim', () => {
    expect(findingsBy(evidenceRules, { ...evidence, performed: at('08-05') })).toEqual([]);
    expect(findingsBy(decisionRules, onClaim)).toEqual([]);
    expect(findingsBy(decisionRules, { ...onClaim, claim: { raised: month('09'), replacedBy: null } })).toEqual([]);
  });

  it('is of the claim that counts, and a decision comes after it', () => {
    const replaced = { claim: { raised: at('09-01'), replacedBy: 'c-2' } };
    const finding = { rule: 'claim-replaced', found: 'c-2' };
    expect(findingsBy(evidenceRules, { ...evidence, ...replaced })).toMatchObject([finding]);
    expect(findingsBy(decisionRules, { ...onClaim, ...replaced })).toMatchObject([finding]);
    expect(findingsBy(decisionRules, { ...onClaim, performed: at('08-31') })).toMatchObject([
      { rule: 'decided-before-claim', pointer: '/performedAt' },
    ]);
  });

  it('names only what is known, and has a reference and a day of its own', () => {
    const body = { ...good.body, shop: 'south' };
    const wrong = { ...evidence, body, referenceUsedBy: 'e-1', performed: at('10-01') };
    expect(findingsBy(evidenceRules, wrong).map((one) => one.rule)).toEqual([
      ...['unknown-id', 'reference-used', 'performed-in-future'],
    ]);
    expect(findingsBy(decisionRules, { ...onClaim, referenceUsedBy: 'd-1', performed: at('10-01') })).toHaveLength(2);
  });
});
