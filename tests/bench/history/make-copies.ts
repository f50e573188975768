/** Whose the copies are and what they are called, in tables of the session: distributors, lots, cells. */
import type pg from 'pg';
import { cellsOfBlock } from './record-templates.ts';

const lotsOfEach = 40;
/** Units that lot 1 of the first distributor reached. */
const unitsOfLargeLot = 300;
/** Work of the templates is done from August on, by an edition of January. */
const daysBack = 200;

/** The first has its own already. Their shares are as 1, 1/2, 1/3 …; `upto` is the sum of shares up to each, of 1. */
export async function makeDistributors(
  client: pg.ClientBase,
  seed: number,
  distributors: number,
  first: { readonly owner: string; readonly person: string },
): Promise<void> {
  await client.query(`
    create temp table distributors as
    select nth, 'yard-' || lpad(nth::text, 3, '0') as slug,
      case when nth = 1 then '${first.owner}' else md5('${seed} owner ' || nth)::uuid::text end as owner,
      case when nth = 1 then '${first.person}' else md5('${seed} person ' || nth)::uuid::text end as person,
      sum(1.0 / nth) over (order by nth) / sum(1.0 / nth) over () as upto
    from generate_series(1, ${distributors}) as nth`);
  await client.query(`
    create temp table lots as
    select nth, 'L-' || lpad(nth::text, 3, '0') || '-' || lpad(of::text, 2, '0') as lot
    from generate_series(1, ${distributors}) as nth, generate_series(1, ${lotsOfEach}) as of`);
  await client.query(`
    insert into organisations (id, slug, kind, name)
    select owner::uuid, slug, 'distributor', 'Yard ' || nth from distributors where nth > 1`);
}

/** One row a cell: of which template, in which block, whose, of which lot, how many days its times are moved by. */
export async function makeCells(client: pg.ClientBase, seed: number, blocks: number): Promise<void> {
  const share = (what: string) =>
    `(('x' || left(md5('${seed} ${what} ' || block || ' ' || place), 8))::bit(32)::bigint & 2147483647) / 2147483648.0`;
  await client.query(`
    create temp table cells as
    with drawn as (
      select block, template, block || '-' || place as cell, ${share('owner')} as share, ${share('lot')} as of_lot,
        -floor(${share('days')} * ${daysBack})::int as days
      from generate_series(0, ${blocks - 1}) as block,
        unnest(array['${cellsOfBlock.join("', '")}']) with ordinality as part (template, place)
    ), owned as (
      select drawn.*, nth from drawn
      cross join lateral (select nth from distributors where upto >= share order by upto limit 1) as whose
    ), counted as (
      select owned.*, row_number() over (partition by nth, template = 'plain' order by block, cell) as turn from owned
    )
    select block, template, cell, template || cell as copy, nth, days,
      'L-' || lpad(nth::text, 3, '0') || '-' || lpad((case
        when nth = 1 and template = 'plain' and turn <= ${unitsOfLargeLot} then 1
        else 2 + floor(of_lot * ${lotsOfEach - 1}) end)::text, 2, '0') as lot
    from counted`);
  await client.query('create index on cells (template, block)');
  await client.query('analyze cells');
}
