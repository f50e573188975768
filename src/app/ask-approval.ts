/**
 * What the maker's people ask of the recording: to approve a shop of a distributor, or to withdraw that. Whose shop it
 * is must be known before the recording, which writes in the name of both.
 */
import type { ApprovalBody, ApprovalWithdrawalBody } from '../core/records/leave-bodies.ts';
import { Problem } from '../errors.ts';
import { findDistributor } from '../store/sql/find-distributor.ts';
import { findApproval } from '../store/sql/read-leave.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { isAnalyst, readingContext } from './read-unit.ts';
import type { Asked } from './recording/request.ts';

/** @throws Problem where the token is not that of a maker's people */
export async function askApproval(app: App, asker: Asker, body: ApprovalBody): Promise<Asked> {
  const maker = requireMaker(asker);
  const distributor = await withTransaction(app.pools.reading, readingContext(asker), (tx) =>
    findDistributor(tx, body.distributor),
  );
  return { kind: 'approval', maker, distributor, body };
}

export async function askApprovalWithdrawal(
  app: App,
  asker: Asker,
  approval: string,
  body: ApprovalWithdrawalBody,
): Promise<Asked> {
  requireMaker(asker);
  const found = await withTransaction(app.pools.reading, readingContext(asker), (tx) => findApproval(tx, approval));
  return { kind: 'approval-withdrawal', approval, distributor: found?.owner ?? null, body };
}

/** A distributor's token may name its maker too, and approves no shop by that. */
function requireMaker(asker: Asker): string {
  if (asker.maker !== null && isAnalyst(asker)) return asker.maker;
  throw new Problem('forbidden', 'Shops are approved by the people of their maker: the token must name a maker alone.');
}
