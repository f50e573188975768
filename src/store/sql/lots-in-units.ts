import type { Tx } from '../transaction.ts';
import { stillCounts } from './still-counts.ts';

/** A part or seal from a lot that a record put into a unit. */
export type LotInUnit = {
  readonly owner: string;
  readonly fact: string;
  readonly unit: string;
  readonly item: string;
  /** MAKER/NUMBER. */
  readonly lot: string;
  readonly performedFrom: string;
};

/** What was ever put into these units from a lot, as far as the transaction may see. */
export async function lotsInUnits(tx: Tx, units: readonly string[]): Promise<LotInUnit[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<LotInUnit>({
    name: 'lots-in-units',
    text: `
      select part_use.owner, part_use.fact, part_use.unit_id as unit, part_use.item,
        part_use.lot_maker || '/' || part_use.lot_number as lot, record.performed_from as "performedFrom"
      from part_uses as part_use join facts as record on record.owner = part_use.owner and record.id = part_use.fact
      where part_use.unit_id = any ($1::uuid[]) and part_use.lot_number is not null and ${stillCounts}
      order by part_use.fact, part_use.line`,
    values: [units],
  });
  return rows;
}
