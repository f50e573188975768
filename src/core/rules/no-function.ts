import { satisfies } from '../fit/choose-contents.ts';
import { contentAt } from '../fit/layout.ts';
import type { Case } from '../judge/case.ts';
import { concession, type Rule } from './rule.ts';

export const noFunction: Rule = {
  id: 'no-function',
  severity: 'hold',
  kinds: ['conversion', 'repair', 'inspection'],
  sentence: 'The fit matches a function of the catalogue.',
  basis: 'What matches none does something that nobody has published.',
  clears: 'a later record that leaves a function, or a concession',
  check: (judged) => {
    const because = reason(judged);
    if (because === null) return [];
    return [
      {
        pointer: pointers[judged.kind] ?? '/found',
        because,
        clearedBy: [{ kind: 'function', place: 'control' }, concession(judged)],
      },
    ];
  },
};

const pointers: Partial<Record<Case['kind'], string>> = { conversion: '/to', repair: '/fitted' };

function reason(judged: Case): string | null {
  if (judged.kind === 'conversion') {
    return judged.record.to === null ? 'The work leaves a fit that matches no function.' : null;
  }
  const wrong = Object.entries(judged.pattern).filter(([station, demand]) => {
    const content = contentAt(judged.layout, judged.after, station);
    return content.elements !== null && !satisfies(content, demand);
  });
  return wrong.length === 0
    ? null
    : `What ${judged.kind === 'repair' ? 'is left' : 'was found'} at ${wrong.map(([station]) => station).join(' and ')} is not ${judged.functionFound}.`;
}
