/** Open findings as their asker may see them: what limits a concession in words is for who may read its record. */
import type { ConcessionLimit, StandingConcession } from '../core/history/concession.ts';
import type { StandingFinding } from '../core/history/fold.ts';
import type { Quantity } from '../core/quantity/quantity.ts';
import type { FactRow } from '../store/sql/read-facts.ts';

/** `text`: null where it is not the asker's to read. */
export type LimitView = { readonly what: string; readonly atMost: Quantity } | { readonly text: string | null };
export type ConcessionView = {
  readonly record: string;
  readonly until: string | null;
  readonly ended: boolean;
  readonly limits: readonly LimitView[];
};
export type FindingView = Omit<StandingFinding, 'concession'> & { readonly concession?: ConcessionView };

/** @param own the facts that the asker may see, those of `concessionRecords` among them */
export function viewsOfFindings(open: readonly StandingFinding[], own: readonly FactRow[]): FindingView[] {
  return open.map(({ concession, ...finding }) =>
    concession === undefined ? finding : { ...finding, concession: viewOf(concession, own) },
  );
}

/** The records that say in words what limits the concessions on these. */
export function concessionRecords(open: readonly StandingFinding[]): string[] {
  return open.flatMap(({ concession }) =>
    concession?.limits.some((limit) => 'inWords' in limit) === true ? [concession.record] : [],
  );
}

function viewOf({ record, until, ended = false, limits }: StandingConcession, own: readonly FactRow[]): ConcessionView {
  const fact = own.find(({ id }) => id === record);
  const stated = fact === undefined ? [] : (JSON.parse(fact.statement) as { limits: readonly Said[] }).limits;
  const limitOf = (limit: ConcessionLimit, at: number) =>
    'inWords' in limit ? { text: stated[at]?.text ?? null } : limit;
  return { record, until, ended, limits: limits.map(limitOf) };
}

type Said = { readonly text?: string };
