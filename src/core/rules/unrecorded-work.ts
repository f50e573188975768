import { isSure, notKnown } from '../fit/fit.ts';
import { agrees } from '../history/fold.ts';
import { concession, type Rule } from './rule.ts';
import { said } from './said.ts';

export const unrecordedWork: Rule = {
  id: 'unrecorded-work',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'inspection'],
  sentence: 'What was found is what the records say.',
  basis:
    'If not, somebody opened joints and moved settings and nobody knows which: the unit is looked at before it ships.',
  clears: 'a later record that states or changes what the station holds, or a concession',
  check: (judged) =>
    Object.keys(judged.record.found?.stations ?? {}).flatMap((station) => {
      const recorded = judged.before[station] ?? notKnown;
      const found = judged.found[station] ?? notKnown;
      if (!isSure(recorded) || agrees(recorded, found)) return [];
      return [
        {
          pointer: `/found/stations/${station.replace('/', '~1')}`,
          expected: said(recorded),
          found: said(found),
          because: `By the records ${station} holds ${said(recorded)}; it was found to hold ${said(found)}.`,
          clearedBy: [{ kind: 'content', place: station }, concession(judged)],
        },
      ];
    }),
};
