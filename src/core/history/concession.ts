/** Leave to use a unit in spite of a finding: within limits, up to an end, and what that means at an asked time. */
import type { Quantity } from '../quantity/quantity.ts';
import type { Instant } from '../time/instant.ts';
import type { Status, UnitState } from './fold.ts';

/** A number; what is limited in words stands in the record alone, as texts are for its owner. */
export type ConcessionLimit = { readonly what: string; readonly atMost: Quantity } | { readonly inWords: true };

/** From `until` on the finding stands again; null: it has no end. */
export type Concession = { readonly until: Instant | null; readonly limits: readonly ConcessionLimit[] };

/** As it is on a finding: the record that gave it and, of a state asked for a time, whether it has ended by then. */
export type StandingConcession = Concession & { readonly record: string; readonly ended?: boolean };

type Open = {
  readonly severity: 'hold' | 'due';
  readonly handedOver?: string;
  readonly concession?: StandingConcession;
};

/**
 * The same state as it is at a time. What is kept is the same at all times: there a finding counts as standing where
 * its concession ends at all.
 */
export function asAt(state: UnitState, at: Instant): UnitState {
  const open = state.open.map((one) => findingAt(one, at));
  return { ...state, open, status: statusOf(open) };
}

export function findingAt<Finding extends Open>(finding: Finding, at: Instant): Finding {
  const { concession } = finding;
  if (concession === undefined) return finding;
  return { ...finding, concession: { ...concession, ended: concession.until !== null && at >= concession.until } };
}

/** held before incomplete before released; what was handed over is due from somebody else. */
export function statusOf(open: readonly Open[]): Status {
  const standing = open.filter(stands);
  if (standing.some((one) => one.severity === 'hold')) return 'held';
  return standing.some((one) => one.handedOver === undefined) ? 'incomplete' : 'released';
}

function stands({ concession }: Open): boolean {
  return concession === undefined || (concession.ended ?? concession.until !== null);
}
