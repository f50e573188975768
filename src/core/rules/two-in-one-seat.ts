import { type Content, type Fit, piecesOf } from '../fit/fit.ts';
import { contentAt, type Layout } from '../fit/layout.ts';
import { pointerOf } from '../json/pointer.ts';
import type { Case } from '../judge/case.ts';
import type { Rule, Violation } from './rule.ts';
import { said } from './said.ts';

export const twoInOneSeat: Rule = {
  id: 'two-in-one-seat',
  severity: 'refuse',
  kinds: ['registration', 'conversion', 'mounting', 'repair', 'inspection'],
  sentence: 'A station holds no more pieces than it has room for.',
  basis: 'What was in a seat comes out before something else goes in: a removal is missing from the record.',
  clears: null,
  check: (judged) => [...foundTogether(judged), ...putTogether(judged)],
};

/** Nobody can have found it so: the station is named wrongly, or a piece counted twice. */
function foundTogether({ record, layout, found }: Case): Violation[] {
  return overfull(layout, found).map(({ station, most, elements }) => ({
    pointer: record.found?.stations?.[station] === undefined ? '/found' : pointerOf(['found', 'stations', station]),
    expected: `at most ${most} at ${station}`,
    found: said(elements),
    because: `${station} can't hold ${said(elements)}. Say under found.stations what was found there.`,
  }));
}

function putTogether({ record, layout, found, after }: Case): Violation[] {
  const before = overfull(layout, found).map((one) => one.station);
  return overfull(layout, after)
    .filter(({ station }) => !before.includes(station))
    .map(({ station, most, elements }) => ({
      pointer: `/fitted/${record.fitted.findLastIndex((one) => one.station === station)}`,
      expected: `at most ${most} at ${station}`,
      found: said(elements),
      because: `${station} would hold ${said(elements)}. Say what was taken out.`,
    }));
}

function overfull(layout: Layout, fit: Fit) {
  return layout.stations.flatMap(({ id, most }) => {
    const { elements } = contentAt(layout, fit, id);
    return elements !== null && piecesOf(elements) > most ? [{ station: id, most, elements }] : [];
  });
}

export function isOverfull(layout: Layout, station: string, { elements }: Content): boolean {
  const most = layout.station.get(station)?.most;
  return most !== undefined && elements !== null && piecesOf(elements) > most;
}
