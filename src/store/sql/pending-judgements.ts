import type { Tx } from '../transaction.ts';

/** A fact after which other records are still to be judged again, and in whose name. */
export type PendingJudgement = {
  readonly owner: string;
  readonly cause: string;
  readonly client: string;
  readonly subject: string;
  readonly touched: string;
};

const columns = 'owner, cause, client, subject, touched';

export async function readPending(tx: Tx, cause: string): Promise<PendingJudgement | null> {
  const { rows } = await tx.query<PendingJudgement>({
    name: 'read-pending-judgement',
    text: `select ${columns} from pending_judgements where cause = $1::uuid`,
    values: [cause],
  });
  return rows[0] ?? null;
}

/**
 * Those of the same owner that wait for nothing but what follows on units of this cause: late records that came at once. The
 * cause itself, if it is one, comes first.
 */
export async function pendingBeside(
  tx: Tx,
  { owner, cause }: Pick<PendingJudgement, 'owner' | 'cause'>,
): Promise<PendingJudgement[]> {
  const { rows } = await tx.query<PendingJudgement>({
    name: 'pending-judgements-beside',
    text: `
      select ${columns} from pending_judgements as pending
      where owner = $1::uuid and touched = '[{"what":"following"}]' and exists (
        select from unit_events as mine join unit_events as theirs on theirs.unit_id = mine.unit_id
        where mine.fact = $2::uuid and theirs.fact = pending.cause)
      order by cause <> $2, cause`,
    values: [owner, cause],
  });
  return rows;
}

/** Those that have waited for so long that whoever wrote them is not at it any more; the oldest first. */
export async function listPending(tx: Tx, olderThanSeconds: number, most: number): Promise<PendingJudgement[]> {
  const { rows } = await tx.query<PendingJudgement>({
    name: 'list-pending-judgements',
    text: `
      select ${columns} from pending_judgements
      where since < clock_timestamp() - make_interval(secs => $1) order by since limit $2`,
    values: [olderThanSeconds, most],
  });
  return rows;
}

export async function dropPending(tx: Tx, owner: string, causes: readonly string[]): Promise<void> {
  await tx.query({
    name: 'drop-pending-judgements',
    text: 'delete from pending_judgements where owner = $1::uuid and cause = any ($2::uuid[])',
    values: [owner, causes],
  });
}
