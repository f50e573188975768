/** What the maker's people ask of the recording about claims: a decision, or terms. Whose claim it is must be known before. */
import type { ClaimDecisionBody } from '../core/claims/decision-body.ts';
import type { TermsBody } from '../core/claims/terms-body.ts';
import { Problem } from '../errors.ts';
import { readClaims } from '../store/sql/read-warranty.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { isAnalyst, readingContext } from './read-unit.ts';
import type { Asked } from './recording/request.ts';

/** @throws Problem where the token is not that of a maker's people */
export async function askClaimDecision(app: App, asker: Asker, claim: string, body: ClaimDecisionBody): Promise<Asked> {
  requireMakerAlone(asker);
  const found = await withTransaction(app.pools.reading, readingContext(asker), (tx) => readClaims(tx, [claim]));
  const distributor = found.find((one) => one.fact === claim)?.owner ?? null;
  return { kind: 'claim-decision', claim, distributor, body };
}

export function askTerms(asker: Asker, maker: string, terms: string, body: TermsBody): Asked {
  if (requireMakerAlone(asker) !== maker)
    throw new Problem('forbidden', 'Terms are stated by the people of their maker.');
  return { kind: 'terms', maker, terms, body };
}

/** A distributor's token may name its maker too, and decides nothing by that. */
function requireMakerAlone(asker: Asker): string {
  if (asker.maker !== null && isAnalyst(asker)) return asker.maker;
  throw new Problem('forbidden', "This is for the maker's people: the token must name a maker alone.");
}
