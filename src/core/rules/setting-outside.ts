import { lastVerdicts } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';
import { saidEstimate, saidRange } from './said.ts';

export const settingOutside: Rule = {
  id: 'setting-outside',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A setting lies within what the function, the fitted spring and the size allow together.',
  basis:
    'The allowed range is the function ∩ the spring ∩ the highest permitted setting of the size; simple acceptance, limits included.',
  clears: 'a later record with the setting within bounds, or a concession',
  check: (judged) =>
    lastVerdicts(judged).flatMap((one) => {
      const { pointer, of, place, reading, min, max, verdict } = one;
      if (of !== 'setting' || verdict !== 'outside') return [];
      const allowed = saidRange({ min, max });
      return [
        {
          pointer,
          expected: allowed,
          found: `${reading.value} ${reading.unit}`,
          because: `${place} is set to ${reading.value} ${reading.unit}${saidEstimate(one)}; allowed is ${allowed}.`,
          clearedBy: [{ kind: 'setting', place }, concession(judged)],
        },
      ];
    }),
};
