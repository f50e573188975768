import { pointerOf } from '../json/pointer.ts';
import { conditionsMissed, lastSetting } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';
import { saidRange } from './said.ts';

export const readElsewhere: Rule = {
  id: 'read-elsewhere',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A setting that is a point of a curve is read at that point, where the record says at what it was read.',
  basis:
    'The edition says what must be so while a setting is read; what is read at another current is another point. What is not said is taken to be as the edition asks.',
  clears: 'a later record with the setting read at its point, or a concession',
  check: (judged) =>
    judged.record.settings.flatMap((entry, index) =>
      lastSetting(judged, entry.setting) !== entry
        ? []
        : conditionsMissed(judged, entry).map(({ name, value, range }) => ({
            pointer: pointerOf(['settings', index, 'conditions', name]),
            expected: saidRange(range),
            found: `${value.value} ${value.unit}`,
            because: `${entry.setting} was read with ${name} ${value.value} ${value.unit}; it is read with ${saidRange(range)}.`,
            clearedBy: [{ kind: 'setting' as const, place: entry.setting }, concession(judged)],
          })),
    ),
};
