/**
 * A history of any size, made inside the database: a few units are recorded through the service, and their rows repeated
 * by SQL for as many copies as are wanted, each with names, ids, times, lots and digests of its own. So the rows are those
 * that the service writes; `npm run projections -- verify` finds nothing. The same seed gives the same rows.
 *
 * 200 distributors, of which the first is the one that the templates were recorded for, take part by Zipf's law, each with
 * 40 lots. Lot 1 of the first reached 300 units, however long the history. Of 20 pumps with their controls two change
 * places, one is held, one incomplete, one has a late record, one a claim.
 */
import type pg from 'pg';
import { canonical } from '../../src/core/log/canonical.ts';
import { fingerprint } from '../../src/core/log/fingerprint.ts';
import { sumsOf } from '../../src/store/sql/lot-sums.ts';
import type { Caller } from '../support/over-http.ts';
import { compileTemplate, type Given } from './history/compile-template.ts';
import { makeCells, makeDistributors } from './history/make-copies.ts';
import { lastFact, readTemplate, type Template, type TemplateRow } from './history/read-template.ts';
import { pairsOfBlock, recordsOfBlock, recordTemplates, type TemplateName } from './history/record-templates.ts';

export type History = {
  /** Of units; a multiple of 200. */
  readonly records: number;
  readonly seed: number;
  readonly distributors?: number;
  /** As superuser: rows of every owner are written. */
  readonly client: pg.ClientBase;
  /** Of the first distributor; the edition is published. */
  readonly shop: Caller;
  readonly log: (line: string) => void;
};

export type Generated = { readonly records: number; readonly units: number; readonly seconds: number };

/** Copies at a time: enough that planning a statement doesn't count, little enough that all stays in memory. */
const blocksAtOnce = 20;
/** Stock was stated in autumn, before all work. */
const stockDays = -300;

export async function generateHistory({
  records,
  seed,
  distributors = 200,
  client,
  shop,
  log,
}: History): Promise<Generated> {
  const blocks = records / recordsOfBlock;
  if (!Number.isInteger(blocks) || blocks < 1) throw new RangeError(`records is a multiple of ${recordsOfBlock}`);
  const begun = performance.now();
  const templates = await templatesOf(client, shop);
  const first = await firstDistributor(client);
  await client.query(`set synchronous_commit = off; set work_mem = '256MB'; set jit = off`);
  await makeDistributors(client, seed, distributors, first);
  await makeCells(client, seed, blocks);
  const write = async (name: TemplateName, copies: string, given: Given) => {
    const template = templates.get(name);
    if (template === undefined) throw new Error(`nothing was recorded for ${name}`);
    await client.query(compileTemplate(template, copies, { ...whose, ...given }, seed));
  };
  const whose: Given = { [first.owner]: 'owner', [first.person]: 'person' };
  await write(
    'stock',
    `select 'stock' || slug as copy, ${stockDays} as days, owner, person from distributors where nth > 1`,
    {},
  );
  await write(
    'lot',
    `select 'lot' || lot as copy, ${stockDays} as days, owner, person, lot from distributors join lots using (nth)`,
    { LOTX: 'lot' },
  );
  const stock = stockOf(templates.get('stock'));
  const ofCell: Given = { CELL: 'cell', LOTX: 'lot', ...stock.given };
  const cells = `select copy, days, owner, person, cell, lot${stock.columns} from cells join distributors using (nth)`;
  for (let from = 0; from < blocks; from += blocksAtOnce) {
    const to = Math.min(blocks, from + blocksAtOnce);
    for (const name of templates.keys()) {
      if (name === 'stock' || name === 'lot') continue;
      await write(name, `${cells} where template = '${name}' and block >= ${from} and block < ${to}`, ofCell);
    }
    log(`${to * recordsOfBlock} records, ${((performance.now() - begun) / 1000).toFixed(1)} s`);
  }
  await client.query(`delete from lot_sums`);
  await client.query(
    `insert into lot_sums (owner, lot_maker, lot_number, shop, item, quantity) ${sumsOf('part_uses')}`,
  );
  await client.query('analyze');
  const seconds = (performance.now() - begun) / 1000;
  log(`${records} records of ${blocks * pairsOfBlock * 2} units in ${seconds.toFixed(1)} s`);
  return { records, units: blocks * pairsOfBlock * 2, seconds };
}

/** Judgements name the facts by which instruments were stated: each distributor has its own. */
function stockOf(template: Template | undefined): { given: Given; columns: string } {
  const items = template?.rows.filter(({ table }) => table === 'stock_items') ?? [];
  const of = (row: TemplateRow, name: string) => row.columns.find((one) => one.name === name)?.value ?? '';
  const columns = items.map(
    (row, nth) => `, (select fact::text from stock_items where stock_items.owner = distributors.owner::uuid
      and kind = '${of(row, 'kind')}' and key = '${of(row, 'key')}') as stock_${nth}`,
  );
  return {
    given: Object.fromEntries(items.map((row, nth) => [of(row, 'fact'), `stock_${nth}`])),
    columns: columns.join(''),
  };
}

async function templatesOf(client: pg.ClientBase, shop: Caller): Promise<Map<TemplateName, Template>> {
  const templates = new Map<TemplateName, Template>();
  const sent = new Map<string, string>();
  await recordTemplates(noting(shop, sent), async (name, work) => {
    const before = await lastFact(client);
    await work();
    templates.set(name, await readTemplate(client, before, sent));
  });
  return templates;
}

/** Puts down what is sent. */
function noting(caller: Caller, sent: Map<string, string>): Caller {
  return (method, path, body, key) => {
    if (body !== undefined) sent.set(fingerprint(body), canonical(body));
    return caller(method, path, body, key);
  };
}

async function firstDistributor(client: pg.ClientBase): Promise<{ owner: string; person: string }> {
  const { rows } = await client.query<{ owner: string; person: string }>(
    `select owner, id as person from people where own_id = 't-17'`,
  );
  const [first, ...others] = rows;
  if (first === undefined || others.length > 0) throw new Error('the database has another history already');
  return first;
}
