/** The records that took something from a lot, for judging them again. */
import { lotNamed } from '../../core/records/lot-name.ts';
import type { Tx } from '../transaction.ts';
import type { LotOf } from './lot-ledgers.ts';
import { stillCounts } from './still-counts.ts';

export type JudgedUse = {
  readonly fact: string;
  readonly shop: string;
  /** The items that the record is held for having taken when they weren't there, by its judgement as it counts. */
  readonly overdrawn: readonly string[];
  /** Whether it is held because nothing of the lot was known to have come in. */
  readonly missing: boolean;
};

/** How the records that took something from this lot, and still count, are judged as to that. */
export async function judgedUses(tx: Tx, { owner, lot }: LotOf): Promise<JudgedUse[]> {
  const { maker, number } = lotNamed(lot);
  const { rows } = await tx.query<JudgedUse>({
    name: 'judged-uses-of-lot',
    text: `
      with used as (
        select fact, min(shop) as shop, min(performed_to) as performed_to
        from part_uses as part_use
        where owner = $1::uuid and lot_maker = $2 and lot_number = $3 and lot_number is not null and shop is not null
          and ${stillCounts}
        group by fact)
      select used.fact, used.shop,
        coalesce(array_agg(distinct said ->> 'found') filter (where said ->> 'rule' = 'lot-overdrawn'), '{}') as overdrawn,
        coalesce(bool_or(said ->> 'rule' = 'intake-missing'), false) as missing
      from used
      join facts as record on record.owner = $1::uuid and record.id = used.fact
      left join lateral (
        select judgement from facts as again
        where again.owner = record.owner and again.concerns = record.id and again.kind = 'judgement'
        order by again.recorded_at desc, again.id desc limit 1) as last on true
      left join lateral (
        select said
        from jsonb_array_elements(coalesce(last.judgement, record.judgement)::jsonb -> 'findings') as said
        where said ->> 'rule' in ('lot-overdrawn', 'intake-missing')
          and said -> 'clearedBy' @> jsonb_build_array(jsonb_build_object('kind', 'intake', 'place', $4::text))) as held on true
      group by used.fact, used.shop, used.performed_to
      order by used.performed_to, used.fact`,
    values: [owner, maker, number, lot],
  });
  return rows;
}
