/** The rules for dispositions, in the order in which findings are given. */
import type { DispositionCase } from '../judge/disposition-case.ts';
import { parseTime } from '../time/instant.ts';
import { performedInFuture } from './performed-in-future.ts';
import { referenceUsed } from './reference-used.ts';
import type { RuleOn } from './rule.ts';
import { scrapped } from './scrapped.ts';

type DispositionRule = RuleOn<DispositionCase>;

const decidedBeforeWork: DispositionRule = {
  id: 'decided-before-work',
  severity: 'refuse',
  sentence: 'A disposition is decided after the work that it is about.',
  basis: 'Nobody decides about a hold that is not there yet.',
  clears: null,
  check: ({ performed, record }) =>
    performed.to >= record.performedTo
      ? []
      : [
          {
            pointer: '/performedAt',
            expected: `not before ${record.performedTo}`,
            found: performed.to,
            because: 'The record that this decides about was performed later.',
          },
        ],
};

const concessionEnded: DispositionRule = {
  id: 'concession-ended',
  severity: 'refuse',
  sentence: 'A concession ends after it is given and recorded.',
  basis: 'One that has ended lets nobody use anything: the unit is held all the same.',
  clears: null,
  check: ({ body: { expires }, performed, now }) => {
    if (expires === undefined) return [];
    const until = parseTime(expires).from;
    if (until > performed.to && until > now) return [];
    const because = 'A concession that ends then has ended already.';
    return [{ pointer: '/expires', expected: `after ${performed.to} and ${now}`, found: until, because }];
  },
};

const nothingHeld: DispositionRule = {
  id: 'nothing-held',
  severity: 'refuse',
  sentence: 'A disposition decides about a record that holds its unit, or would without a concession.',
  basis: 'Where nothing is held there is nothing to decide.',
  clears: null,
  check: ({ units, record }) =>
    units.some((unit) => unit.open.some((one) => one.fact === record.id && one.severity === 'hold'))
      ? []
      : [{ pointer: '', because: 'Nothing of this record is held.' }],
};

const decidedByDoer: DispositionRule = {
  id: 'decided-by-doer',
  severity: 'refuse',
  sentence: 'A disposition is not decided by the person who did the work.',
  basis: 'Leave to use is given by somebody else; common practice, no published source.',
  clears: null,
  check: ({ doers, asker }) =>
    doers.some((doer) => doer.subject === asker)
      ? [{ pointer: '', because: 'You did this work: let somebody else decide.' }]
      : [],
};

const independenceUnproven: DispositionRule = {
  id: 'independence-unproven',
  severity: 'note',
  sentence:
    'Whether the decision is independent is only proven when everybody who did the work is tied to a token subject.',
  basis: 'Without that tie nobody can say that the two are not the same person.',
  clears: null,
  check: ({ doers }) =>
    doers.length > 0 && doers.every((doer) => doer.subject !== null)
      ? []
      : [{ pointer: '', because: 'Who did the work is not tied to a token subject: independence is unproven.' }],
};

export const dispositionRules: readonly DispositionRule[] = Object.freeze([
  referenceUsed,
  performedInFuture,
  decidedBeforeWork,
  concessionEnded,
  nothingHeld,
  decidedByDoer,
  scrapped,
  independenceUnproven,
]);
