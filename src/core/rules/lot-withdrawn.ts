import { lotLines, lotsBehind } from '../judge/lot-lines.ts';
import { parseTime } from '../time/instant.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const lotWithdrawn: Rule = {
  id: 'lot-withdrawn',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Nothing is used of a lot that is withdrawn, nor of a kit that holds pieces of one.',
  basis: 'What is withdrawn is under suspicion; work of which only the day is known may have been done after it was.',
  clears:
    'a later record that takes out what the station holds or renews the seals of the joint, a statement of the lot that withdraws it later or not, or a concession',
  check: (judged) =>
    lotLines(judged).flatMap((line) =>
      lotsBehind(judged, line).flatMap(({ lot, stated: { withdrawn } }) => {
        if (withdrawn === undefined || judged.performed.to < parseTime(withdrawn.from).from) return [];
        return [
          {
            pointer: line.pointer,
            found: lot,
            because: `Lot ${lot} is withdrawn: ${withdrawn.why}`,
            clearedBy: [line.clear, concession(judged)],
          },
        ];
      }),
    ),
};
