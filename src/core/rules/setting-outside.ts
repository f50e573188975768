import { lastSetting, settingVerdicts } from '../judge/evidence.ts';
import { concession, type Rule } from './rule.ts';

export const settingOutside: Rule = {
  id: 'setting-outside',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'adjustment', 'inspection'],
  sentence: 'A setting lies within what the function, the fitted spring and the size allow together.',
  basis:
    'The allowed range is the function ∩ the spring ∩ the highest permitted setting of the size; simple acceptance, limits included.',
  clears: 'a later record with the setting within bounds, or a concession',
  check: (judged) =>
    settingVerdicts(judged).flatMap(({ pointer, place, reading, min, max, verdict }) => {
      const last = lastSetting(judged, place);
      if (verdict === 'conforms' || last === undefined) return [];
      if (pointer !== `/settings/${judged.record.settings.indexOf(last)}/reading`) return [];
      const bounds = [min && `at least ${min.value} ${min.unit}`, max && `at most ${max.value} ${max.unit}`]
        .filter(Boolean)
        .join(', ');
      return [
        {
          pointer,
          expected: bounds,
          found: `${reading.value} ${reading.unit}`,
          because: `${place} is set to ${reading.value} ${reading.unit}; allowed is ${bounds}.`,
          clearedBy: [{ kind: 'setting', place }, concession(judged)],
        },
      ];
    }),
};
