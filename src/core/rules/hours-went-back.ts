import type { UnitAtHand } from '../judge/case.ts';
import { compare } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { benchWork, type Rule, type Violation } from './rule.ts';

export const hoursWentBack: Rule = {
  id: 'hours-went-back',
  severity: 'note',
  kinds: benchWork,
  sentence: 'Running hours that are fewer than at an earlier time are noted.',
  basis: 'A meter was exchanged or misread; both happen, and whoever reckons with the hours must know.',
  clears: null,
  check: ({ control, pump }) => [control, pump].flatMap((unit) => (unit === null ? [] : wentBack(unit))),
};

/** Against what was stated of earlier work; of a record that comes late also against what was stated of later work. */
export function wentBack({ name, state, later, hours }: Omit<UnitAtHand, 'whereabouts'>): Violation[] {
  if (hours === null) return [];
  const before = state.hours;
  const next = later.find(({ effect }) => effect.hours !== undefined)?.effect.hours;
  const note = (limit: string, when: string, other: Quantity) => ({
    pointer: '/hours',
    expected: `${limit} ${said(other)}`,
    found: said(hours),
    because: `${name} is said to have run ${said(hours)}, and ${said(other)} ${when}.`,
  });
  return [
    ...(before !== null && compare(hours, before) < 0 ? [note('at least', 'before', before)] : []),
    ...(next !== undefined && compare(hours, next) > 0 ? [note('at most', 'later', next)] : []),
  ];
}

function said({ value, unit }: Quantity): string {
  return `${value} ${unit}`;
}
