import { functionOf, patternFor } from '../catalogue/lookup.ts';
import { satisfies } from '../fit/choose-contents.ts';
import { contentAt } from '../fit/layout.ts';
import type { Case } from '../judge/case.ts';
import { touchedBy } from '../judge/make-case.ts';
import { concession, type Rule } from './rule.ts';
import { said } from './said.ts';

export const laterWorkDisagrees: Rule = {
  id: 'later-work-disagrees',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'repair', 'inspection'],
  sentence: 'What a record that comes late leaves at a station fits the function that later work declared.',
  basis: 'The later work was judged without it; until somebody looks, nobody knows which of the two is right.',
  clears: 'a later record that states or changes what the station holds, or a concession',
  check: (judged) => {
    const later = functionDeclaredLater(judged);
    if (later === null) return [];
    const { edition, layout, record, after, pumpAtHand, builtFor } = judged;
    const fun = functionOf(edition, layout.body.id, later);
    const pattern = fun === null ? null : patternFor(fun, pumpAtHand ?? builtFor);
    const stated = [...new Set([...touchedBy(record), ...Object.keys(record.found?.stations ?? {})])];
    return stated.flatMap((station) => {
      const content = contentAt(layout, after, station);
      const demand = pattern?.stations[station] ?? 'keep';
      if (content.elements === null || satisfies(content, demand) || isStatedLater(judged, station)) return [];
      return [
        {
          pointer: '/performedAt',
          found: said(content.elements),
          because: `Later work is recorded that left ${later}, which can't have ${said(content.elements)} at ${station}.`,
          clearedBy: [{ kind: 'content', place: station }, concession(judged)],
        },
      ];
    });
  },
};

function functionDeclaredLater({ control }: Case): string | null {
  return control.later.findLast((event) => event.effect.function !== undefined)?.effect.function ?? null;
}

/** A unit's events say nothing of the other's stations. */
function isStatedLater({ control, pump }: Case, station: string): boolean {
  const later = [...control.later, ...(pump?.later ?? [])];
  return later.some(({ effect }) => effect.found?.[station] !== undefined || effect.changed?.[station] !== undefined);
}
