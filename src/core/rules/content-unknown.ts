import { contentAt } from '../fit/layout.ts';
import { isUnknown } from '../records/parts.ts';
import { concession, type Rule } from './rule.ts';

export const contentUnknown: Rule = {
  id: 'content-unknown',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'What sits at a station that the function decides is known.',
  basis: 'A function is only as sure as the stations that make it.',
  clears: 'a later record that states or changes what the station holds, or a concession',
  check: (judged) =>
    Object.entries(judged.pattern).flatMap(([station, demand]) => {
      if (demand === 'keep' || contentAt(judged.layout, judged.after, station).elements !== null) return [];
      const index = judged.record.fitted.findIndex((one) => one.station === station && isUnknown(one.element));
      return [
        {
          pointer: index < 0 ? '/found' : `/fitted/${index}/element`,
          because: `What ${station} holds is not known.`,
          clearedBy: [{ kind: 'content', place: station }, concession(judged)],
        },
      ];
    }),
};
