import type { UnitAtHand } from '../judge/case.ts';
import { benchWork, type Rule, type Violation } from './rule.ts';

export const contained: Rule = {
  id: 'contained',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'No unit is released that a containment stops, nor what is done to it.',
  basis:
    'What is under suspicion is kept from use until it is cleared, made good or scrapped: common practice, no published source.',
  clears: 'progress that says it is cleared or converted, or the lifting of the containment',
  check: ({ control, pump }) => [...stopsOf('control', control), ...(pump === null ? [] : stopsOf('pump', pump))],
};

function stopsOf(of: 'control' | 'pump', { state, name }: UnitAtHand): Violation[] {
  const stops = state.open.filter((one) => one.severity === 'hold');
  const places = new Map(
    stops.flatMap((one) =>
      one.clearedBy.filter(({ kind }) => kind === 'containment').map(({ place }) => [place, one] as const),
    ),
  );
  return [...places].map(([place, { instruction }]) => ({
    pointer: `/${of}`,
    found: place,
    because: `${name} is under a containment${instruction === undefined ? '' : `: ${instruction}`}.`,
    clearedBy: [{ kind: 'containment', place }],
  }));
}
