import { settingVerdicts } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';
import { saidRange } from './said.ts';

export const settingOutside: Rule = {
  id: 'setting-outside',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A setting lies within what the function, the fitted spring and the size allow together.',
  basis:
    'The allowed range is the function ∩ the spring ∩ the highest permitted setting of the size; simple acceptance, limits included.',
  clears: 'a later record with the setting within bounds, or a concession',
  check: (judged) =>
    settingVerdicts(judged).flatMap(({ pointer, place, reading, min, max, verdict }) => {
      const last = judged.record.settings.findLastIndex((one) => one.setting === place);
      if (verdict === 'conforms' || pointer !== `/settings/${last}/reading`) return [];
      const allowed = saidRange({ min, max });
      return [
        {
          pointer,
          expected: allowed,
          found: `${reading.value} ${reading.unit}`,
          because: `${place} is set to ${reading.value} ${reading.unit}; allowed is ${allowed}.`,
          clearedBy: [{ kind: 'setting', place }, concession(judged)],
        },
      ];
    }),
};
