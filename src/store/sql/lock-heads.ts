import type { Tx } from '../transaction.ts';

export type Head = { readonly unit: string; readonly seq: number; readonly entry: string; readonly recordedAt: string };

/**
 * Locks the ends of these units' chains, always in the order of their ids: in any other order two batches that share
 * two units lock each other out.
 */
export async function lockHeads(tx: Tx, units: readonly string[]): Promise<Head[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<Omit<Head, 'seq'> & { seq: string }>({
    name: 'lock-heads',
    text: `
      select unit_id as unit, seq, entry, recorded_at as "recordedAt"
      from unit_heads where unit_id = any ($1::uuid[]) order by unit_id for update`,
    values: [units],
  });
  return rows.map((row) => ({ ...row, seq: Number(row.seq) }));
}

/** The database's clock, read once the locks are held. */
export async function readClock(tx: Tx): Promise<string> {
  const { rows } = await tx.query<{ now: string }>({ name: 'read-clock', text: 'select clock_timestamp() as now' });
  return rows[0]?.now ?? '';
}
