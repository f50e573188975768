/** How a claim stands: derived from what was said about it, and never kept. */
import type { ClaimDecision } from './decision-body.ts';

export const claimStatuses = ['open', 'more-evidence', 'accepted', 'declined', 'goodwill', 'replaced'] as const;
export type ClaimStatus = (typeof claimStatuses)[number];

/** A decision of the maker, or evidence of the distributor, which decides nothing. */
export type ClaimEntry = { readonly decision: ClaimDecision | null };

/**
 * The last word counts, in the order of recording: a decision stands until evidence comes that was not there when it was
 * made. A claim that another one corrects counts no more. `reopened`: evidence came after a decision.
 */
export function claimStatus(
  entries: readonly ClaimEntry[],
  replacedBy: string | null,
): { readonly status: ClaimStatus; readonly reopened: boolean } {
  const last = entries.at(-1) ?? null;
  if (replacedBy !== null) return { status: 'replaced', reopened: false };
  if (last?.decision != null) return { status: last.decision, reopened: false };
  return { status: 'open', reopened: entries.some((one) => one.decision !== null) };
}
