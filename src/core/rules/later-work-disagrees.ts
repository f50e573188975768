import { contentAt } from '../fit/layout.ts';
import type { UnitEvent } from '../history/event.ts';
import { agrees } from '../history/fold.ts';
import type { Case, UnitAtHand } from '../judge/case.ts';
import { touchedBy } from '../judge/make-case.ts';
import { concession, type Rule, type Violation } from './rule.ts';
import { said } from './said.ts';

export const laterWorkDisagrees: Rule = {
  id: 'later-work-disagrees',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'repair', 'inspection'],
  sentence: 'What a record that comes late leaves is what the unit was later registered with, or said to be.',
  basis:
    'Later work is judged again with it. A registration only states what was there: until somebody looks, nobody knows which of the two is right.',
  clears: 'a later record that states or changes what the station holds, a correction of the mounting, or a concession',
  check: (judged) => [...stationsDiffer(judged), ...mountingsDiffer(judged)],
};

/** Stated by whoever registered a unit or said which it is: such a record is not judged by what was there before. */
function isOnlyStated({ kind }: UnitEvent): boolean {
  return kind === 'registration' || kind === 'identity';
}

function stationsDiffer(judged: Case): Violation[] {
  const { layout, record, after, control, pump } = judged;
  const later = [...control.later, ...(pump?.later ?? [])];
  const left = [...new Set([...touchedBy(record), ...Object.keys(record.found?.stations ?? {})])];
  return left.flatMap((station) => {
    const content = contentAt(layout, after, station);
    const next = later.find(
      ({ effect }) => effect.found?.[station] !== undefined || effect.changed?.[station] !== undefined,
    );
    const found = next?.effect.found?.[station];
    if (next === undefined || !isOnlyStated(next) || found === undefined || found.basis === 'assumed') return [];
    if (content.elements === null || found.elements === null || agrees(content, found)) return [];
    return [
      {
        pointer: '/performedAt',
        expected: said(found.elements),
        found: said(content.elements),
        because: `This leaves ${said(content.elements)} at ${station}; a ${next.kind} of later work says that ${said(found.elements)} was there.`,
        clearedBy: [{ kind: 'content' as const, place: station }, concession(judged)],
      },
    ];
  });
}

/** On and off take turns. */
function mountingsDiffer(judged: Case): Violation[] {
  const { control, pump, record, fact } = judged;
  if (record.mounting === null || pump === null) return [];
  const puts = record.mounting.on;
  const clearedBy = [{ kind: 'correction' as const, place: fact }, concession(judged)];
  const differs = (unit: UnitAtHand, other: UnitAtHand) => {
    const next = unit.later.find((event) => event.effect.mounted !== undefined);
    const is = next?.effect.mounted;
    if (next === undefined || is === undefined || !isOnlyStated(next)) return [];
    if (puts ? is.with === other.unit : is.on) return [];
    const because = `By this ${unit.name} is ${puts ? 'on' : 'off'}; a ${next.kind} of later work has it otherwise.`;
    return [{ pointer: '/on', because, clearedBy }];
  };
  return [...differs(control, pump), ...differs(pump, control)];
}
