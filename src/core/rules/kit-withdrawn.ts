import { lotLines } from '../judge/lot-lines.ts';
import { benchWork, type Rule } from './rule.ts';

export const kitWithdrawn: Rule = {
  id: 'kit-withdrawn',
  severity: 'note',
  kinds: benchWork,
  sentence: 'A part from a kit that the maker has withdrawn by the day of the work is noted.',
  basis: 'From that day job sheets offer it no more. What must not be used is withdrawn by its lot, and held.',
  clears: null,
  check: (judged) =>
    lotLines(judged).flatMap(({ pointer, stated: { part } }) => {
      const from = judged.edition.kits.find((kit) => kit.part === part)?.withdrawnFrom ?? null;
      if (from === null || judged.performed.from.slice(0, 10) < from) return [];
      return [{ pointer, found: part, because: `${part} is withdrawn from ${from}.` }];
    }),
};
