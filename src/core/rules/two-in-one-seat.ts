import { type Content, notKnown } from '../fit/fit.ts';
import type { Layout } from '../fit/layout.ts';
import { pointerOf } from '../json/pointer.ts';
import type { Case } from '../judge/case.ts';
import type { Rule, Violation } from './rule.ts';
import { said } from './said.ts';

export const twoInOneSeat: Rule = {
  id: 'two-in-one-seat',
  severity: 'refuse',
  kinds: ['registration', 'conversion', 'mounting', 'inspection'],
  sentence: 'A station holds no more pieces than it has room for.',
  basis: 'What was in a seat comes out before something else goes in: a removal is missing from the record.',
  clears: null,
  check: (judged) => [...foundTogether(judged), ...putTogether(judged)],
};

/** Nobody can have found it so: the station is named wrongly, or a piece counted twice. */
function foundTogether({ record, layout, found }: Case): Violation[] {
  return Object.entries(found)
    .filter(([station, content]) => isOverfull(layout, station, content))
    .map(([station, content]) => ({
      pointer: record.found?.stations?.[station] === undefined ? '/found' : pointerOf(['found', 'stations', station]),
      expected: room(layout, station),
      found: said(content),
      because: `${station} can't hold ${said(content)}. Say under found.stations what was found there.`,
    }));
}

function putTogether({ record, layout, found, after }: Case): Violation[] {
  return Object.entries(after).flatMap(([station, content]) => {
    if (!isOverfull(layout, station, content) || isOverfull(layout, station, found[station] ?? notKnown)) return [];
    return [
      {
        pointer: `/fitted/${record.fitted.findLastIndex((one) => one.station === station)}`,
        expected: room(layout, station),
        found: said(content),
        because: `${station} would hold ${said(content)}. Say what was taken out.`,
      },
    ];
  });
}

function room(layout: Layout, station: string): string {
  return `at most ${layout.station.get(station)?.most} at ${station}`;
}

export function isOverfull(layout: Layout, station: string, { elements }: Content): boolean {
  const pieces = (elements ?? []).reduce((sum, held) => sum + held.quantity, 0);
  return pieces > (layout.station.get(station)?.most ?? 0);
}
