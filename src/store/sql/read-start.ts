import type { Tx } from '../transaction.ts';

/**
 * When this transaction began: never later than the snapshot of a read-only one. What was recorded and settled by then
 * is in the snapshot; a clock read later, after a wait, would promise what the snapshot doesn't hold.
 */
export async function readStart(tx: Tx): Promise<string> {
  const { rows } = await tx.query<{ now: string }>({
    name: 'read-start',
    text: 'select transaction_timestamp() as now',
  });
  return rows[0]?.now ?? '';
}
