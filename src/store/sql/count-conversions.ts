import type { Tx } from '../transaction.ts';

/** What is left out is not asked for. Times are half-open: from counts, to does not. */
export type ConversionsSought = {
  /** A distributor's own; null: all that the transaction may see. */
  readonly owner: string | null;
  readonly performedFrom?: string | null | undefined;
  readonly performedTo?: string | null | undefined;
  readonly shop?: string | null | undefined;
  readonly function?: string | null | undefined;
};

export type ConversionCount = {
  readonly distributor: string | null;
  readonly shop: string | null;
  readonly function: string | null;
  readonly month: string;
  readonly conversions: number;
  readonly firstPass: number;
};

/** As recorded first: what a correction says in the place of a conversion is the same conversion. */
const sought = `
  select facts.owner, facts.id, facts.performed_to, facts.judgement::jsonb as judgement,
    facts.statement::jsonb ->> 'shop' as shop, facts.judgement::jsonb ->> 'function' as function
  from facts
  where facts.kind = 'conversion' and ($1::uuid is null or facts.owner = $1)
    and ($2::timestamptz is null or facts.performed_to >= $2) and ($3::timestamptz is null or facts.performed_to < $3)
    and ($4::text is null or facts.statement::jsonb ->> 'shop' = $4)
    and ($5::text is null or facts.judgement::jsonb ->> 'function' = $5)
    and not exists (
      select from facts as since
      where since.owner = facts.owner and since.concerns = facts.id and since.kind = 'correction'
        and since.statement::jsonb ->> 'kind' = 'void')`;

/** By shop, function and month, the latest month first. */
export async function countConversions(tx: Tx, asked: ConversionsSought): Promise<ConversionCount[]> {
  const { rows } = await tx.query<ConversionCount>({
    name: 'count-conversions',
    text: `
      with performed as materialized (${sought})
      select performed.owner, slug as distributor, shop, function, to_char(performed_to at time zone 'UTC', 'YYYY-MM') as month,
        count(*)::int as conversions, count(*) filter (where judgement ->> 'status' <> 'held')::int as "firstPass"
      from performed join organisations on organisations.id = performed.owner
      group by 1, 2, 3, 4, 5 order by 5 desc, 2, 3, 4`,
    values: valuesOf(asked),
  });
  return rows;
}

export type RuleCount = { readonly rule: string; readonly held: number };

/** How many of them each rule held when they were recorded. */
export async function countHeldByRule(tx: Tx, asked: ConversionsSought): Promise<RuleCount[]> {
  const { rows } = await tx.query<RuleCount>({
    name: 'count-held-by-rule',
    text: `
      with performed as materialized (${sought})
      select performed.owner, finding ->> 'rule' as rule, count(distinct id)::int as held
      from performed cross join lateral jsonb_array_elements(judgement -> 'findings') as finding
      where finding ->> 'severity' = 'hold' group by 1, 2 order by 2`,
    values: valuesOf(asked),
  });
  return rows;
}

/** How many bodies of conversions each rule refused, of those of the period that their bodies name. */
export async function countRefusedByRule(
  tx: Tx,
  { owner, performedFrom, performedTo, shop, function: to }: ConversionsSought,
): Promise<{ readonly rule: string; readonly refused: number }[]> {
  const { rows } = await tx.query<{ rule: string; refused: number }>({
    name: 'count-refused-by-rule',
    text: `
      select finding ->> 'rule' as rule, count(distinct id)::int as refused
      from attempts cross join lateral jsonb_array_elements(findings::jsonb) as finding
      where owner = $1::uuid and kind = 'conversion'
        and ($2::timestamptz is null or at >= $2) and ($3::timestamptz is null or at < $3)
        and ($4::text is null or body::jsonb ->> 'shop' = $4)
        and ($5::text is null or body::jsonb #>> '{to,function}' = $5)
      group by 1 order by 1`,
    values: [owner, performedFrom ?? null, performedTo ?? null, shop ?? null, to ?? null],
  });
  return rows;
}

function valuesOf({ owner, performedFrom, performedTo, shop, function: fun }: ConversionsSought): unknown[] {
  return [owner, performedFrom ?? null, performedTo ?? null, shop ?? null, fun ?? null];
}
