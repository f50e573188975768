import { isSure, sameHeld } from '../fit/fit.ts';
import { contentAt } from '../fit/layout.ts';
import { concession, type Rule } from './rule.ts';
import { said } from './said.ts';

export const unrecordedWork: Rule = {
  id: 'unrecorded-work',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'repair', 'inspection'],
  sentence: 'What was found is what the records say.',
  basis:
    'If not, somebody opened joints and moved settings and nobody knows which: the unit is looked at before it ships.',
  clears: 'a later record that states or changes what the station holds, or a concession',
  check: (judged) =>
    Object.keys(judged.record.found?.stations ?? {}).flatMap((station) => {
      const recorded = contentAt(judged.layout, judged.before, station);
      const { elements: was } = recorded;
      const { elements: is } = contentAt(judged.layout, judged.found, station);
      if (was === null || is === null || !isSure(recorded) || sameHeld(was, is)) return [];
      return [
        {
          pointer: `/found/stations/${station.replace('/', '~1')}`,
          expected: said(was),
          found: said(is),
          because: `By the records ${station} holds ${said(was)}; it was found to hold ${said(is)}.`,
          clearedBy: [{ kind: 'content', place: station }, concession(judged)],
        },
      ];
    }),
};
