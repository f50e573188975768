import type { Tx } from '../transaction.ts';
import { standsNow } from './stands-now.ts';

/** What is left out is not asked for. Times are half-open: from counts, to does not. */
export type RecordsSought = {
  /** A distributor's own; null: all that the transaction may see. */
  readonly owner: string | null;
  readonly kinds?: readonly string[];
  /** By the end of the work's interval. */
  readonly performedFrom?: string;
  readonly performedTo?: string;
  readonly recordedFrom?: string;
  readonly recordedTo?: string;
  readonly shop?: string;
  /** That the control was left with, as judged then. */
  readonly function?: string;
  /** Of which a lot is that a part or seal of the record is from. */
  readonly kitPart?: string;
  /** As it is now. */
  readonly status?: string;
};

export type RecordsPage = {
  readonly order: 'oldest' | 'newest';
  /** The id after which the page begins. */
  readonly after: string | null;
  readonly most: number;
};

/**
 * Ids of records in the order in which they were made, which is that of their ids. A record is a fact about units: one
 * of any kind that has a unit event. The text is made of what is asked for, without a name, so that it is planned for that.
 *
 * No index serves it but those that are there; one for times would be written with every fact. Measured with 200,000 facts
 * of 2 KB: a distributor that has a twentieth of them waits 1 to 95 ms for a page, whatever it asks for; the maker 1 to
 * 110 ms. A shop is found by what names it: in their statements a shop that there is none of took the maker 3.2 s.
 */
export async function listRecords(tx: Tx, sought: RecordsSought, page: RecordsPage): Promise<string[]> {
  const values: unknown[] = [];
  const of = (value: unknown, type: string) => `$${values.push(value)}::${type}`;
  const { owner, kinds, performedFrom, performedTo, recordedFrom, recordedTo, shop, kitPart, status } = sought;
  const conditions = [
    'exists (select from unit_dates where unit_dates.fact = facts.id)',
    owner !== null && `owner = ${of(owner, 'uuid')}`,
    kinds !== undefined && `kind = any (${of(kinds, 'text[]')})`,
    performedFrom !== undefined && `performed_to >= ${of(performedFrom, 'timestamptz')}`,
    performedTo !== undefined && `performed_to < ${of(performedTo, 'timestamptz')}`,
    recordedFrom !== undefined && `recorded_at >= ${of(recordedFrom, 'timestamptz')}`,
    recordedTo !== undefined && `recorded_at < ${of(recordedTo, 'timestamptz')}`,
    shop !== undefined && madeAt(of(shop, 'text'), owner === null ? null : of(owner, 'uuid')),
    sought.function !== undefined && `judgement::jsonb ->> 'function' = ${of(sought.function, 'text')}`,
    kitPart !== undefined && usesLotOf(of(kitPart, 'text')),
    status !== undefined && `${statusNow} = ${of(status, 'text')}`,
    page.after !== null && `id ${page.order === 'oldest' ? '>' : '<'} ${of(page.after, 'uuid')}`,
  ];
  const { rows } = await tx.query<{ id: string }>(
    `select id from facts
     where ${conditions.filter((one) => one !== false).join(' and ')}
     order by id ${page.order === 'oldest' ? 'asc' : 'desc'} limit ${of(page.most, 'int')}`,
    values,
  );
  return rows.map(({ id }) => id);
}

function madeAt(shop: string, owner: string | null): string {
  return `(facts.owner, facts.id) in (
    select owner, fact from mentions
    where what in ('shop', 'registered-at') and key = ${shop}${owner === null ? '' : ` and owner = ${owner}`})`;
}

/** What each lot is of is what its distributor says of it now. */
function usesLotOf(part: string): string {
  return `exists (
    select from part_uses as part_use
    join (
      select distinct on (owner, maker, number) owner, maker, number, part
      from (
        select owner, id, maker, statement::jsonb #>> '{lot,number}' as number, statement::jsonb ->> 'part' as part
        from facts where kind = 'lot'
      ) as said
      order by owner, maker, number, id desc
    ) as stated
      on stated.owner = part_use.owner and stated.maker = part_use.lot_maker and stated.number = part_use.lot_number
    where part_use.owner = facts.owner and part_use.fact = facts.id and stated.part = ${part})`;
}

/** As core/history/concession.ts has it: held before incomplete before released; what was handed over is due from somebody else. */
const statusNow = `(
  select case
      when bool_or(finding ->> 'severity' = 'hold') then 'held'
      when bool_or(finding ->> 'severity' = 'due' and not finding ? 'handedOver') then 'incomplete'
      else 'released'
    end
  from unit_dates
  join unit_current on unit_current.unit_id = unit_dates.unit_id
  cross join lateral jsonb_array_elements(unit_current.state::jsonb -> 'open') as finding
  where unit_dates.fact = facts.id and finding ->> 'fact' = facts.id::text and ${standsNow})`;
