import { torqueVerdicts } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';
import { saidRange } from './said.ts';

export const torqueOutside: Rule = {
  id: 'torque-outside',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'The last torque of a joint lies within the limits of the edition.',
  basis:
    'Simple acceptance, limits included; with an extension the torque that arrives, M·(L+E)/L, counts (lever rule).',
  clears: 'a later record with a torque of the joint within limits, or a concession',
  check: (judged) =>
    torqueVerdicts(judged).flatMap(({ pointer, place, reading, min, max, verdict }) => {
      const last = judged.record.torques.findLastIndex((one) => one.joint === place);
      if (verdict === 'conforms' || !pointer.startsWith(`/torques/${last}/`)) return [];
      const limits = saidRange({ min, max });
      const through = judged.record.torques[last]?.adapter === undefined ? '' : ' through an extension';
      return [
        {
          pointer,
          expected: limits,
          found: `${reading.value} ${reading.unit}`,
          because: `${place} was closed with ${reading.value} ${reading.unit}${through}; its limits are ${limits}.`,
          clearedBy: [{ kind: 'torque', place }, concession(judged)],
        },
      ];
    }),
};
