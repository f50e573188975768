/** What moved in and out of lots at shops, and what records took from them. */
import { lotNamed } from '../../core/records/lot-name.ts';
import type { Move, Use } from '../../core/stock/ledger.ts';
import type { Tx } from '../transaction.ts';
import { stillCounts } from './still-counts.ts';

export type LotOf = { readonly owner: string; readonly lot: string };
export type MoveOfLot = LotOf & Move;
export type UseOfLot = LotOf & Use;

/** Up to when: by the work, and by what was known. Null: no bound. */
export type Until = { readonly performed: string | null; readonly known: string | null };

/** Everything but use, of these lots. */
export async function readMoves(tx: Tx, lots: readonly LotOf[], until: Until | null = null): Promise<MoveOfLot[]> {
  if (lots.length === 0) return [];
  const { rows } = await tx.query<Omit<MoveOfLot, 'loose'> & { loose: string | null }>({
    name: until === null ? 'read-moves-of-lots' : 'read-moves-of-lots-until',
    text: `
      select owner, lot_maker || '/' || lot_number as lot, what, shop, performed_to as at, coalesce(reference, '') as reference,
        quantity, counts, item, loose
      from intakes
      where (owner, lot_maker, lot_number) in (select * from unnest($1::uuid[], $2::text[], $3::text[]))${bounds(until, 'intakes')}
      order by performed_to, fact`,
    values: [...columnsOf(lots), ...valuesOf(until)],
  });
  return rows.map((row) => ({ ...row, loose: row.loose === null ? [] : (JSON.parse(row.loose) as Move['loose']) }));
}

/** Line by line. */
export async function readUses(tx: Tx, lots: readonly LotOf[], until: Until | null = null): Promise<UseOfLot[]> {
  if (lots.length === 0) return [];
  const { rows } = await tx.query<UseOfLot>({
    name: until === null ? 'read-uses-of-lots' : 'read-uses-of-lots-until',
    text: `
      select owner, lot_maker || '/' || lot_number as lot, fact, shop, performed_to as at, reference, item, quantity
      from part_uses as part_use
      where (owner, lot_maker, lot_number) in (select * from unnest($1::uuid[], $2::text[], $3::text[]))
        and lot_number is not null and shop is not null
        and ${until === null ? stillCounts : countedThen}${bounds(until, 'part_use')}
      order by performed_to, reference, fact, line`,
    values: [...columnsOf(lots), ...valuesOf(until)],
  });
  return rows;
}

/** The lots that these records took something from, whether the records still count or not. */
export async function lotsOfFacts(tx: Tx, facts: readonly string[]): Promise<(LotOf & { readonly fact: string })[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<LotOf & { fact: string }>({
    name: 'lots-of-facts',
    text: `
      select distinct owner, fact, lot_maker || '/' || lot_number as lot
      from part_uses
      where (owner, fact) in (select owner, id from facts where id = any ($1::uuid[])) and lot_number is not null
      order by owner, lot`,
    values: [facts],
  });
  return rows;
}

function bounds(until: Until | null, table: string): string {
  if (until === null) return '';
  return `
        and ($4::timestamptz is null or performed_to <= $4)
        and ($5::timestamptz is null or exists (
          select from facts as said
          where said.owner = ${table}.owner and said.id = ${table}.fact and said.recorded_at <= $5))`;
}

/** Of `part_uses as part_use`: no correction had replaced it by then. */
const countedThen = `
  not exists (
    select from facts as later
    where later.owner = part_use.owner and later.concerns = part_use.fact and later.kind = 'correction'
      and ($5::timestamptz is null or later.recorded_at <= $5))`;

function valuesOf(until: Until | null): (string | null)[] {
  return until === null ? [] : [until.performed, until.known];
}

/** As parameters of a statement. */
export function columnsOf(lots: readonly LotOf[]): [string[], string[], string[]] {
  const names = lots.map(({ lot }) => lotNamed(lot));
  return [lots.map((one) => one.owner), names.map(({ maker }) => maker), names.map(({ number }) => number)];
}
