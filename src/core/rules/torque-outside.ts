import { lastTorque, lastVerdicts } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';
import { saidEstimate, saidRange } from './said.ts';

export const torqueOutside: Rule = {
  id: 'torque-outside',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'The last torque of a joint lies within the limits of the edition, as well as its wrench can tell.',
  basis:
    'Simple acceptance of the best estimate, limits included (JCGM 106), or with a guard band where one is demanded; with an extension the torque that arrives, M·(L+E)/L, counts (lever rule).',
  clears: 'a later record with a torque of the joint within limits, or a concession',
  check: (judged) =>
    lastVerdicts(judged).flatMap((one) => {
      const { pointer, of, place, reading, min, max, verdict } = one;
      if (of !== 'torque' || verdict !== 'outside') return [];
      const limits = saidRange({ min, max });
      const through = lastTorque(judged, place)?.adapter === undefined ? '' : ' through an extension';
      return [
        {
          pointer,
          expected: limits,
          found: `${reading.value} ${reading.unit}`,
          because: `${place} was closed with ${reading.value} ${reading.unit}${through}${saidEstimate(one)}; its limits are ${limits}.`,
          clearedBy: [{ kind: 'torque', place }, concession(judged)],
        },
      ];
    }),
};
