import type { Content } from '../fit/fit.ts';
import type { Layout } from '../fit/layout.ts';
import type { Rule } from './rule.ts';
import { said } from './said.ts';

export const twoInOneSeat: Rule = {
  id: 'two-in-one-seat',
  severity: 'refuse',
  kinds: ['registration', 'conversion', 'mounting', 'inspection'],
  sentence: 'A station holds no more pieces than it has room for.',
  basis: 'What was in a seat comes out before something else goes in: a removal is missing from the record.',
  clears: null,
  check: ({ layout, after }) =>
    Object.entries(after)
      .filter(([station, content]) => isOverfull(layout, station, content))
      .map(([station, content]) => ({
        pointer: '/fitted',
        expected: `at most ${layout.station.get(station)?.most} at ${station}`,
        found: said(content),
        because: `${station} would hold ${said(content)}. Say what was taken out.`,
      })),
};

export function isOverfull(layout: Layout, station: string, { elements }: Content): boolean {
  const pieces = (elements ?? []).reduce((sum, held) => sum + held.quantity, 0);
  return pieces > (layout.station.get(station)?.most ?? 0);
}
