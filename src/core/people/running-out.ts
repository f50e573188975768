/** Which authorisations run out, and in how many days. */
import { daysTo } from '../time/days.ts';
import type { Instant } from '../time/instant.ts';
import { type Leave, type Scope, stateAt } from './leave.ts';

export type Given = Leave & {
  readonly person: string;
  readonly tasks: readonly string[];
  /** From when on it is withdrawn; `until` reckons with it. */
  readonly withdrawnFrom: Instant | null;
};

/**
 * The soonest first, and so those that have run out already before all others. Left out is what somebody has withdrawn,
 * and what another of the same person follows without a gap that is as wide and lasts longer. Days are whole ones,
 * rounded down: in its last hours none is left, and what has been over for some hours is at -1.
 */
export function runningOut<G extends Given>(
  all: readonly G[],
  at: Instant,
  { within, expired }: { readonly within: number; readonly expired: boolean },
): (G & { readonly until: Instant; readonly daysLeft: number })[] {
  return all
    .flatMap((one) => (one.until === null ? [] : [{ ...one, until: one.until, daysLeft: daysTo(one.until, at) }]))
    .filter((one) => (one.until <= at ? expired : one.daysLeft <= within))
    .filter((one) => stateAt(one, one.withdrawnFrom, at) !== 'withdrawn')
    .filter((one) => !all.some((other) => follows(other, one)))
    .sort((a, b) => (a.until < b.until || (a.until === b.until && a.id < b.id) ? -1 : 1));
}

function follows(other: Given, one: Given & { readonly until: Instant }): boolean {
  return (
    other.person === one.person &&
    other.from <= one.until &&
    (other.until === null || other.until > one.until) &&
    one.tasks.every((task) => other.tasks.includes(task)) &&
    isAsWide(other.scope, one.scope)
  );
}

function isAsWide(other: Scope, one: Scope): boolean {
  return (['makers', 'series', 'bodies', 'functions'] as const).every((limit) => {
    const [wide, narrow] = [other[limit], one[limit]];
    return wide === undefined || narrow?.every((id) => wide.includes(id)) === true;
  });
}
