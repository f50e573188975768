import type { UnitKind } from '../history/event.ts';
import type { UnitAtHand } from '../judge/case.ts';
import { benchWork, type Rule, type Violation } from './rule.ts';

export const unitRetired: Rule = {
  id: 'unit-retired',
  severity: 'refuse',
  kinds: benchWork,
  sentence: 'A retired unit takes no more work; it may only be taken off what it is mounted with.',
  basis: 'It is out of use for good. If it is not, the retirement was wrong: make that void first.',
  clears: null,
  check: ({ record, control, pump }) =>
    record.mounting?.on === false
      ? []
      : [...retiredBefore('control', control), ...(pump === null ? [] : retiredBefore('pump', pump))],
};

export function retiredBefore(kind: UnitKind, { state, name }: Pick<UnitAtHand, 'state' | 'name'>): Violation[] {
  if (state.retired === null) return [];
  const { since } = state.retired;
  return [{ pointer: `/${kind}`, found: since, because: `${name} was retired on ${since}.` }];
}
