/**
 * Leave to do something: the authorisation of a person, or the maker's approval of a shop. Each is given for a time and
 * for some work; whether it holds is asked for the time of the work, and kept nowhere.
 */
import type { Instant, Interval } from '../time/instant.ts';

/** What leave is limited to. A list that is left out limits nothing. */
export type Scope = {
  readonly makers?: readonly string[] | undefined;
  readonly series?: readonly string[] | undefined;
  readonly bodies?: readonly string[] | undefined;
  readonly functions?: readonly string[] | undefined;
};

/** From `from` on, up to but without `until`; null: until it is withdrawn. A withdrawal has been reckoned with. */
export type Leave = {
  readonly id: string;
  readonly scope: Scope;
  readonly from: Instant;
  readonly until: Instant | null;
};

/** What was worked on. Off its pump a control may be of several series; no function: it matches none, or isn't known. */
export type WorkAtHand = {
  readonly maker: string;
  readonly series: readonly string[];
  readonly body: string;
  readonly function: string | null;
};

/** `partly`: a part of the time, or some of what it may have been, is covered, so nobody can say. */
export type Coverage = 'whole' | 'partly' | 'none';

/** Several that follow each other without a gap cover what each covers in part. */
export function coverageOf(leaves: readonly Leave[], work: WorkAtHand, when: Interval): Coverage {
  const near = leaves.filter((one) => isInForceWithin(one, when) && reachOf(one.scope, work) !== 'no');
  if (
    coversTime(
      near.filter((one) => reachOf(one.scope, work) === 'yes'),
      when,
    )
  )
    return 'whole';
  return near.length === 0 ? 'none' : 'partly';
}

export type LeaveState = 'to come' | 'in force' | 'expired' | 'withdrawn';

/** At an instant. `withdrawnFrom`: from when on it is withdrawn, where it is; that ends it unless it ended before. */
export function stateAt(
  { from, until }: Pick<Leave, 'from' | 'until'>,
  withdrawnFrom: Instant | null,
  at: Instant,
): LeaveState {
  if (until !== null && until <= at) return until === withdrawnFrom ? 'withdrawn' : 'expired';
  return from <= at ? 'in force' : 'to come';
}

function isInForceWithin({ from, until }: Leave, when: Interval): boolean {
  return from <= when.to && (until === null || (until > when.from && until > from));
}

function coversTime(leaves: readonly Leave[], when: Interval): boolean {
  let reached = when.from;
  for (const { from, until } of leaves.toSorted((a, b) => (a.from < b.from ? -1 : 1))) {
    if (from > reached) return false;
    if (until === null || until > when.to) return true;
    if (until > reached) reached = until;
  }
  return false;
}

function reachOf({ makers, series, bodies, functions }: Scope, work: WorkAtHand): 'yes' | 'no' | 'unknown' {
  const answers = [
    among(makers, [work.maker]),
    among(series, work.series),
    among(bodies, [work.body]),
    among(functions, work.function === null ? [] : [work.function]),
  ];
  if (answers.includes('no')) return 'no';
  return answers.includes('unknown') ? 'unknown' : 'yes';
}

/** Whether what it may be is among those listed; of nothing that it may be nobody can say. */
function among(listed: readonly string[] | undefined, possible: readonly string[]): 'yes' | 'no' | 'unknown' {
  if (listed === undefined) return 'yes';
  const within = possible.filter((one) => listed.includes(one));
  if (within.length < possible.length) return within.length === 0 ? 'no' : 'unknown';
  return possible.length === 0 ? 'unknown' : 'yes';
}
