/** The rules for claims, their evidence and decisions: only what can't be read or contradicts itself is refused. */
import { type WordList, wordLists } from '../claims/words.ts';
import type { ClaimCase, EvidenceCase, OnClaimCase } from '../judge/claim-case.ts';
import { isUnknown } from '../records/parts.ts';
import { beforeUnitExisted } from './before-unit-existed.ts';
import { performedInFuture } from './performed-in-future.ts';
import { referenceUsed } from './reference-used.ts';
import type { RuleOn, Violation } from './rule.ts';
import { missing } from './unknown-id.ts';

const unknownId: RuleOn<Pick<EvidenceCase, 'body' | 'known'>> = {
  id: 'unknown-id',
  severity: 'refuse',
  sentence: 'Every shop, technician, attachment and word of a claim is known.',
  basis: 'A name that nobody can look up proves nothing years later.',
  clears: null,
  check: ({ body: { shop, technician, attachments }, known }) => [
    ...(known.shops.has(shop) ? [] : [missing('/shop', 'shop', shop)]),
    ...(technician === undefined || isUnknown(technician) || known.technicians.has(technician)
      ? []
      : [missing('/technician', 'technician', technician)]),
    ...attachments.flatMap((digest, index) =>
      known.attachments.has(digest) ? [] : [missing(`/attachments/${index}`, 'attachment', digest)],
    ),
  ],
};

const unknownWord: RuleOn<ClaimCase> = {
  ...unknownId,
  check: ({ body, words }) =>
    (Object.keys(wordLists) as WordList[]).flatMap((list): Violation[] =>
      words[list].includes(body[list])
        ? []
        : [
            {
              pointer: `/${list}`,
              expected: words[list].join(', '),
              found: body[list],
              because: `${body[list]} is no word of this list.`,
            },
          ],
    ),
};

const failedBeforeBuilt: RuleOn<ClaimCase> = {
  ...beforeUnitExisted,
  check: ({ unit: { name, builtAt }, failed }) =>
    builtAt === null || failed.to >= builtAt
      ? []
      : [{ pointer: '/failedAt', found: failed.to, because: `${name} was built on ${builtAt}.` }],
};

const claimBeforeFailure: RuleOn<ClaimCase> = {
  id: 'claim-before-failure',
  severity: 'refuse',
  sentence: 'A claim is raised after the unit failed, and the unit failed after it was started up.',
  basis: 'What says otherwise contradicts itself.',
  clears: null,
  check: ({ failed, performed, startedUp }) => [
    ...(failed.from <= performed.to
      ? []
      : [
          {
            pointer: '/failedAt',
            expected: `not after ${performed.to}`,
            found: failed.from,
            because: 'The claim was raised before.',
          },
        ]),
    ...(startedUp === null || startedUp.from <= failed.to
      ? []
      : [
          {
            pointer: '/startedUpAt',
            expected: `not after ${failed.to}`,
            found: startedUp.from,
            because: 'The unit failed before.',
          },
        ]),
  ],
};

const corrects: RuleOn<ClaimCase> = {
  id: 'claim-corrects-another',
  severity: 'refuse',
  sentence: 'A claim corrects one own claim of the same unit, which no other has corrected.',
  basis: 'What stands in the place of another must be about the same thing, and only one can.',
  clears: null,
  check: ({ replaces }) => {
    if (replaces === null) return [];
    if (!replaces.isOwnOfUnit) return [{ pointer: '/replaces', because: 'You have no such claim of this unit.' }];
    if (replaces.replacedBy === null) return [];
    const because = `Claim ${replaces.replacedBy} corrects it already: correct that one.`;
    return [{ pointer: '/replaces', found: replaces.replacedBy, because }];
  },
};

const claimReplaced: RuleOn<OnClaimCase> = {
  id: 'claim-replaced',
  severity: 'refuse',
  sentence: 'Evidence and decisions are about a claim that no other has corrected.',
  basis: 'What is said of a claim that counts no more would be lost on the one that does.',
  clears: null,
  check: ({ claim: { replacedBy } }) =>
    replacedBy === null
      ? []
      : [{ pointer: '', found: replacedBy, because: `Claim ${replacedBy} stands in its place: say it of that one.` }],
};

const saidBeforeClaim: RuleOn<OnClaimCase> = {
  id: 'decided-before-claim',
  severity: 'refuse',
  sentence: 'A claim is decided after it was raised.',
  basis: 'Nobody decides about what is not there yet.',
  clears: null,
  check: ({ claim: { raised }, performed }) =>
    performed.to >= raised.from
      ? []
      : [
          {
            pointer: '/performedAt',
            expected: `not before ${raised.from}`,
            found: performed.to,
            because: 'The claim was raised later.',
          },
        ],
};

export const claimRules: readonly RuleOn<ClaimCase>[] = Object.freeze([
  unknownId,
  unknownWord,
  referenceUsed,
  performedInFuture,
  failedBeforeBuilt,
  claimBeforeFailure,
  corrects,
]);
/** What was found may be dated before the claim: a teardown comes first as often as not. */
export const evidenceRules: readonly RuleOn<EvidenceCase>[] = Object.freeze([
  unknownId,
  referenceUsed,
  performedInFuture,
  claimReplaced,
]);
export const decisionRules: readonly RuleOn<OnClaimCase>[] = Object.freeze([
  referenceUsed,
  performedInFuture,
  claimReplaced,
  saidBeforeClaim,
]);
