/** Answers about claims under warranty and the terms that they are held against. */
import { z } from 'zod';
import { claimedParts } from '../../core/claims/claim-body.ts';
import { cost, decisions } from '../../core/claims/decision-body.ts';
import { covers } from '../../core/claims/share.ts';
import { claimStatuses } from '../../core/claims/status.ts';
import { asKept, count, instant, interval, list, pageOf, unitName, uuid } from './common-shapes.ts';
import { checkedOf, id, receipt } from './record-shapes.ts';

const claimUnit = z
  .strictObject({ unit: uuid, kind: z.enum(['pump', 'control']), maker: z.string(), name: unitName })
  .meta({ id: 'ClaimUnit', description: 'The unit that is claimed' });
const status = z.enum(claimStatuses).meta({
  id: 'ClaimStatus',
  description: 'open: not decided, or evidence came after the decision; replaced: another claim corrects it',
});

export const claimOutcome = z
  .strictObject({ id, unit: claimUnit, status, receipt })
  .meta({ id: 'ClaimOutcome', description: 'The claim as kept' });
export const claimChecked = checkedOf(claimOutcome, 'ClaimChecked');
export const evidenceOutcome = z
  .strictObject({ id, claim: uuid, status, receipt })
  .meta({ id: 'ClaimEvidenceOutcome', description: 'The evidence as kept; the claim is open' });
export const evidenceChecked = checkedOf(evidenceOutcome, 'ClaimEvidenceChecked');
export const claimDecisionOutcome = z
  .strictObject({ id, claim: uuid, status, receipt })
  .meta({ id: 'ClaimDecisionOutcome', description: 'The decision as kept, and how the claim stands by it' });
export const claimDecisionChecked = checkedOf(claimDecisionOutcome, 'ClaimDecisionChecked');
export const termsOutcome = z
  .strictObject({ id, maker: z.string(), terms: z.string(), version: count, receipt })
  .meta({ id: 'TermsOutcome', description: 'The version of the terms as kept' });

const part = z.enum(claimedParts);
const said = {
  claim: uuid,
  status,
  reopened: z.boolean().meta({ description: 'Evidence was recorded after a decision: reopened by a new record' }),
  replaces: uuid.nullable().meta({ description: 'The claim that this one corrects' }),
  replacedBy: uuid.nullable().meta({ description: 'The claim that corrects this one' }),
  distributor: z.string(),
  unit: claimUnit,
  part,
  symptom: z.string(),
  failureMode: z.string(),
  failed: interval.meta({ description: 'When it failed; both ends belong to it' }),
  raised: interval.meta({ description: 'When the claim was raised' }),
  recordedAt: instant,
};
const statement = asKept('As sent, with people by the ids of the service');
const texts = z.unknown().meta({
  type: ['object', 'null'],
  description: 'Free text, for the distributor and the people of the maker; null: none, or erased',
});

const dated = z
  .strictObject({
    at: interval,
    record: uuid,
    said: z
      .enum(['claim', 'movement', 'registration', 'start-up'])
      .meta({ description: 'Which kind of record says so' }),
  })
  .nullable()
  .meta({ description: 'Null: it is not known' });
const percent = z
  .strictObject({ least: z.string(), most: z.string() })
  .nullable()
  .meta({ description: 'In % of the cost, the least and the most that it can be; null: nothing can be said' });
const result = z.enum(covers).meta({
  id: 'Cover',
  description:
    'within: covered in full; pro-rata: by a share; exceeded: not covered any more; unknown: it may be either',
});
const limitCoverage = z
  .strictObject({
    limit: asKept('The limit as the terms state it'),
    result,
    countedFrom: dated,
    ends: z
      .strictObject({ earliest: z.string(), latest: z.string() })
      .nullable()
      .meta({ description: 'The last day of full cover, in UTC: the first and the last that it can be' }),
    left: z
      .strictObject({ unit: z.enum(['day', 'h']), least: z.string(), most: z.string() })
      .nullable()
      .meta({ description: 'Of the full cover at the failure; below 0 it was over by so much' }),
    share: percent,
    missing: z.enum(['delivery', 'start-up', 'hours']).nullable().meta({ description: 'What would have to be known' }),
    text: z.string().meta({ description: 'One sentence or two for people' }),
  })
  .meta({ id: 'LimitCoverage', description: 'One limit, and how far the failure is within it' });
const coverage = z
  .strictObject({ result, share: percent, missing: list(z.string()), limits: list(limitCoverage) })
  .meta({ id: 'Coverage', description: 'All limits must hold: the least share counts. Computed, never decided' });
const termsCoverage = z
  .strictObject({
    terms: z.string(),
    version: count.nullable().meta({ description: 'Null: which one was in force is not known' }),
    statedBy: uuid.nullable().meta({ description: 'The fact that states this version' }),
    text: z.string().nullable(),
    chosenBy: z.enum(['delivery', 'start-up', 'failure']),
    coverage: coverage
      .nullable()
      .meta({ description: 'Null: the terms state no limits for this part, or their version is not known' }),
    because: z.string(),
  })
  .meta({ id: 'TermsCoverage', description: 'What the terms of the maker that were in force give for the claim' });

export const claimAnswer = z
  .strictObject({
    ...said,
    known: instant
      .nullable()
      .meta({ description: 'For what is asked as known then: the horizon where later was asked' }),
    settled: z.boolean().meta({ description: 'Whether the same question will have the same answer for ever' }),
    horizon: instant,
    statement,
    private: texts,
    evidence: list(
      z
        .strictObject({ record: uuid, performed: interval, recordedAt: instant, statement, private: texts })
        .meta({ id: 'ClaimEvidence', description: 'What came to light later' }),
    ),
    decisions: list(
      z
        .strictObject({
          record: uuid,
          decision: z.enum(decisions),
          performed: interval,
          recordedAt: instant,
          reference: z.string(),
          reasons: z.string(),
          cost: cost.meta({ id: 'Cost' }).optional(),
          asks: list(z.string()).optional(),
        })
        .meta({ id: 'ClaimDecision', description: 'A decision of the maker' }),
    ),
    delivered: dated,
    startedUp: dated,
    coverage: list(termsCoverage),
  })
  .meta({ id: 'ClaimWhole', description: 'A claim with its evidence, decisions and coverage' });

const listed = z
  .strictObject({ ...said, reference: z.string() })
  .meta({ id: 'ClaimListed', description: 'A claim, and how it stands' });
export const claimPage = pageOf(listed, 'In the order in which they were recorded');

export const termsAnswer = z
  .strictObject({
    maker: z.string(),
    terms: z.string(),
    versions: list(
      z
        .strictObject({
          ...{ version: count, record: uuid, validFrom: instant, validUntil: instant.nullable(), recordedAt: instant },
          text: z.string().optional(),
          parts: asKept('The limits by part; all limits of a part must hold'),
        })
        .meta({ id: 'TermsVersion', description: 'Of several that are valid at one time the latest counts' }),
    ),
  })
  .meta({ id: 'Terms', description: 'Terms of warranty, every version that was stated' });
