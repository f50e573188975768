import type { Tx } from '../transaction.ts';

/** Of the units that this organisation has recorded something of, those of which anybody recorded something later. Only the recorder may. */
export async function unitsTouchedSince(tx: Tx, owner: string, known: string): Promise<string[]> {
  const { rows } = await tx.query<{ unit: string }>({
    name: 'units-touched-since',
    text: `
      select unit_id as unit from unit_heads
      where recorded_at > $2::timestamptz and exists (
        select from unit_events as event join facts on facts.owner = $1::uuid and facts.id = event.fact
        where event.unit_id = unit_heads.unit_id)
      order by unit_id`,
    values: [owner, known],
  });
  return rows.map((row) => row.unit);
}
