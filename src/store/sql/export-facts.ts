import type { Tx } from '../transaction.ts';

/** Half-open: from counts, to does not. Null: without limit. */
export type FactsSought = {
  readonly owner: string;
  readonly kinds: readonly string[];
  /** By the end of the work's interval. */
  readonly performedFrom: string | null;
  readonly performedTo: string | null;
  readonly recordedFrom: string | null;
  readonly recordedTo: string | null;
};

/**
 * The ids of the next of these facts after an id, in the order of ids, which is that of their making to the millisecond. By ids and
 * not by time of recording, because the primary key leads there whatever is asked for besides, and no id comes twice.
 */
export async function exportFacts(tx: Tx, sought: FactsSought, after: string | null, most: number): Promise<string[]> {
  const { owner, kinds, performedFrom, performedTo, recordedFrom, recordedTo } = sought;
  const { rows } = await tx.query<{ id: string }>({
    name: 'export-facts',
    text: `
      select id from facts
      where owner = $1::uuid and kind = any ($2::text[]) and id > coalesce($3::uuid, '00000000-0000-0000-0000-000000000000')
        and ($4::timestamptz is null or performed_to >= $4) and ($5::timestamptz is null or performed_to < $5)
        and ($6::timestamptz is null or recorded_at >= $6) and ($7::timestamptz is null or recorded_at < $7)
      order by id limit $8`,
    values: [owner, kinds, after, performedFrom, performedTo, recordedFrom, recordedTo, most],
  });
  return rows.map(({ id }) => id);
}
