import type { Case } from '../judge/case.ts';
import { lotLines } from '../judge/lot-lines.ts';
import { benchWork, type Rule } from './rule.ts';

export const intakeUnknown: Rule = {
  id: 'intake-unknown',
  severity: 'note',
  kinds: benchWork,
  sentence: 'A lot of which nothing is known to have come into the shop is noted.',
  basis: 'Without an intake or a count its balance is not known, and so not whether it is overdrawn.',
  clears: null,
  check: (judged) => (judged.edition.demands?.intakes === true ? [] : isNotTakenIn(judged)),
};

/** Each lot once. */
export function isNotTakenIn(judged: Case): { pointer: string; found: string; because: string }[] {
  const first = new Map(
    lotLines(judged)
      .toReversed()
      .map(({ lot, pointer }) => [lot, pointer]),
  );
  return [...first]
    .filter(([lot]) => !judged.stock.has(lot))
    .toReversed()
    .map(([lot, pointer]) => ({
      pointer,
      found: lot,
      because: `How much of lot ${lot} came into this shop is not known.`,
    }));
}
