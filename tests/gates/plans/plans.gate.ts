/** On a large history, whatever is asked for reads few rows beside those that it answers, and no large table whole. */
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sessionOptions } from '../../../src/store/pools.ts';
import { generateHistory } from '../../bench/generate-history.ts';
import { testDatabase } from '../../support/database.ts';
import { rowsOf } from '../../support/rows.ts';
import { mustGoWell, publish } from '../../support/scene.ts';
import { testService } from '../../support/service.ts';
import { conversionOf, inspectionOf, maker } from '../../support/shop.ts';
import { withSuperuser } from '../../support/test-server.ts';
import { gate, tell } from '../gate-options.ts';
import { captureReads } from './capture.ts';
import { type Measured, measure } from './measure.ts';

const db = await testDatabase({ verified: false });
const service = await testService(db);
const sent = captureReads(service.app.pools);
const client = new pg.Client({ connectionString: db.superuserUrl, options: sessionOptions });
await client.connect();
afterAll(() => client.end());

const [shop, analyst] = [
  await service.as({ distributor: 'brackwater' }),
  await service.as({ maker, scopes: ['warranty:read', 'report:read'] }),
];
let large: ReadonlySet<string>;
let cell: string;

beforeAll(
  async () => {
    await publish(await service.as({ maker }));
    await withSuperuser(db.superuserUrl, (generating) =>
      generateHistory({ records: gate.records, seed: gate.seed, client: generating, shop, log: tell }),
    );
    const tables = await rowsOf<{ name: string }>(
      db,
      `select relname as name from pg_class where relkind = 'r' and reltuples > 10000`,
    );
    large = new Set(tables.map(({ name }) => name));
    cell = await cellOf('K-PL1-');
  },
  24 * 60 * 60_000,
);

/** Of a unit of the shop's own. */
async function cellOf(prefix: string): Promise<string> {
  const [row] = await rowsOf<{ cell: string }>(
    db,
    `select substr(as_written, length($1) + 1) as cell from unit_names join facts on facts.id = fact
     where as_written like $1 || '%' and as_written not like '%CELL' and owner = (
       select owner from unit_names join facts on facts.id = fact where as_written = 'K-PL1-CELL') limit 1`,
    [prefix],
  );
  return row?.cell ?? '';
}

const causeOf = async () => {
  const sql = `select key from mentions where what = 'cause' and owner = (
    select owner from unit_names join facts on facts.id = fact where as_written = 'K-PL1-CELL') limit 1`;
  return (await rowsOf<{ key: string }>(db, sql))[0]?.key ?? '';
};

const get = async (caller: typeof shop, path: string) => {
  const { body, text } = await mustGoWell(caller('GET', path));
  return body?.items?.length ?? (text.length > 0 ? 1 : 0);
};
const ask = async (query: string) => {
  const { body, text } = await mustGoWell(analyst('POST', '/graphql', { query }, null));
  if (body.errors !== undefined) throw new Error(text);
  return 1;
};

/** Rows that may be touched for each that a statement answers. */
const factor = 12;
/** And for a question as such: names, organisations, editions. */
const allowance = 300;

const questions: readonly (readonly [string, () => Promise<number>])[] = [
  [
    'trace of a unit, maker',
    () => get(analyst, `/v1/controls/${maker}/K-PL1-${cell}/trace?performed=2026-11-20T00:00:00Z`),
  ],
  ['history of a unit, maker', () => get(analyst, `/v1/controls/${maker}/K-PL1-${cell}/history`)],
  ['history of a unit, shop', () => get(shop, `/v1/controls/${maker}/K-PL1-${cell}/history`)],
  ['a unit', () => get(shop, `/v1/controls/${maker}/K-PL1-${cell}`)],
  ['reach of a lot of 300 units, a page', () => get(analyst, `/v1/reach?lot=${maker}/L-001-01&first=50`)],
  ['reach of a lot of 300 units, a long page', () => get(analyst, `/v1/reach?lot=${maker}/L-001-01&first=200`)],
  ['held, shop', () => get(shop, '/v1/held?first=50')],
  ['due, shop', () => get(shop, '/v1/due?first=50')],
  ['held, maker', () => ask('{ held(first: 50) { edges { node { unit { id } } } } }')],
  ['due, maker', () => ask('{ due(first: 50) { edges { node { unit { id } } } } }')],
  ['reach of an element, a page', () => get(analyst, '/v1/reach?element=orifice-0.6&first=50')],
  ['reach of an edition, a page', () => get(analyst, '/v1/reach?edition=2026-1&first=50')],
  ['reach of a function, a page', () => get(analyst, '/v1/reach?function=load-sense-bled&first=50')],
  ['claims, shop', () => get(shop, '/v1/claims?first=50')],
  ['claims, maker', () => get(analyst, '/v1/claims?first=50')],
  ['judgements of a late record', async () => get(shop, `/v1/judgements?cause=${await causeOf()}`)],
  [
    'records of one shop, maker',
    () => ask('{ records(first: 50, filter: {shop: "nowhere"}) { edges { node { id } } } }'),
  ],
  ['recording: an inspection', () => look()],
  ['recording: a conversion', () => convert()],
];

async function look(): Promise<number> {
  const frame = { reference: randomUUID(), performedAt: '2026-11-20T08:00:00Z' };
  await mustGoWell(shop('POST', '/v1/inspections', inspectionOf(`PL1-${cell}`, frame)));
  return 1;
}

async function convert(): Promise<number> {
  const frame = { reference: randomUUID(), performedAt: '2026-11-21T08:00:00Z' };
  const body = await conversionOf(shop, `PL1-${cell}`, 'load-sense', frame);
  const lotted = JSON.parse(JSON.stringify(body).replaceAll('"L-1"', '"L-001-01"')) as object;
  await mustGoWell(shop('POST', '/v1/conversions', lotted));
  return 1;
}

describe('plans', () => {
  it.each(questions)('%s', async (question, work) => {
    sent.length = 0;
    const begun = performance.now();
    const items = await work();
    const ms = performance.now() - begun;
    const asked = sent.splice(0);
    const all: Measured[] = [];
    for (const one of asked) all.push(await measure(client, one, large));
    const [answered, touched] = [sum(all, 'answered'), sum(all, 'touched')];
    tell(
      `${question.padEnd(40)} ${ms.toFixed(0).padStart(6)} ms ${String(items).padStart(5)} items ${String(all.length).padStart(4)} statements ${String(answered).padStart(6)} rows answered ${String(touched).padStart(8)} touched`,
    );
    const bad = all.flatMap(({ whole, answered, touched, ms }, at) =>
      whole.length > 0 || touched > factor * answered + allowance
        ? [{ name: asked[at]?.name ?? asked[at]?.text.slice(0, 400), whole, answered, touched, ms }]
        : [],
    );
    expect(asked.length).toBeGreaterThan(0);
    expect(bad).toEqual([]);
  });
});

function sum(all: readonly Measured[], member: 'answered' | 'touched'): number {
  return all.reduce((total, one) => total + one[member], 0);
}
