import { satisfies } from '../fit/choose-contents.ts';
import { contentAt } from '../fit/layout.ts';
import { builtForAnother } from '../fit/plan-mounting.ts';
import type { Case } from '../judge/case.ts';
import { concession, type Rule } from './rule.ts';

export const notForPump: Rule = {
  id: 'not-for-pump',
  severity: 'hold',
  kinds: ['mounting'],
  sentence:
    'A control is put on a pump of the size and rotation that it is built for, with what its function demands there.',
  basis: 'Patterns differ by rotation and size; a control built for the other one works wrongly without looking wrong.',
  clears: 'a later record that leaves a function, or a concession',
  check: (judged) =>
    reasons(judged).map((because) => ({
      pointer: '/pump',
      because,
      clearedBy: [{ kind: 'function', place: 'control' }, concession(judged)],
    })),
};

function reasons({ record, builtFor, pumpAtHand, layout, target, pattern, after, control }: Case): string[] {
  if (record.mounting?.on !== true || pumpAtHand === null) return [];
  const misfit = builtForAnother(builtFor, pumpAtHand);
  if (misfit !== null) return [`${misfit.charAt(0).toUpperCase()}${misfit.slice(1)}.`];
  if (layout.size?.bodies.includes(layout.body.id) !== true)
    return [`Body ${layout.body.id} doesn't go on size ${pumpAtHand.size}.`];
  if (target === null) return [`${control.name} matches no function.`];
  if ('refused' in target) return [`On this pump ${target.refused}.`];
  return Object.entries(pattern).flatMap(([station, demand]) => {
    const content = contentAt(layout, after, station);
    if (content.elements === null || satisfies(content, demand)) return [];
    return [`${station} doesn't hold what ${target.function.id} demands on this pump.`];
  });
}
