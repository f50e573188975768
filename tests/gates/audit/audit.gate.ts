/**
 * Changes drawn at random: a byte of a column of the facts or the log, a row that goes, a row that comes. The audit finds each
 * and names its table, or where what it named is gone a table that misses it.
 */
import pg from 'pg';
import { afterAll, expect, it } from 'vitest';
import { audit } from '../../../src/app/log/audit.ts';
import { sequenceAll } from '../../../src/app/log/sequence.ts';
import { withOwnerPool } from '../../../src/store/owner-pool.ts';
import { testDatabase } from '../../support/database.ts';
import { mustGoWell } from '../../support/scene.ts';
import { testService } from '../../support/service.ts';
import { addOne, type Column, columnsOf, takeConstraintsAway, withSaved } from '../../support/tamper.ts';
import { recordVariedHistory } from '../../support/varied-history.ts';
import { gate, tell } from '../gate-options.ts';
import { randomFrom } from '../random.ts';

const tables = [
  ...['facts', 'fact_privates', 'unit_events', 'unit_heads', 'staged_leaves'],
  ...['logs', 'log_leaves', 'log_checkpoints', 'outbox'],
];
/** What no hash covers and nothing follows for; and `id`s that the database makes. */
const notCovered = ['logs.begun_at', 'log_checkpoints.signed_at', 'staged_leaves.id', 'outbox.id'];

const db = await testDatabase();
const service = await testService(db);
await recordVariedHistory(service);
await sequenceAll(service.app, 50);
const shop = await service.as({ distributor: 'tollan' });
await mustGoWell(shop('PUT', '/v1/shops/waits', { name: 'Waits' }));
const superuser = new pg.Client({ connectionString: db.superuserUrl });
await superuser.connect();
await takeConstraintsAway(superuser);
afterAll(() => superuser.end());
const columns = await columnsOf(superuser);
const covered = columns.filter(
  ({ table, column }) => tables.includes(table) && !notCovered.includes(`${table}.${column}`),
);
const log = { files: service.app.log.files, keys: service.app.log.keys };
const find = async () => await withOwnerPool(db.ownerUrl, (pool) => audit(pool, log, () => {}));
const { below } = randomFrom(gate.seed);

/** Another byte at a random place of a random row that has a value there; of a number or time its value. */
const another: Readonly<Record<string, (column: string) => string>> = {
  text: (c) =>
    `overlay(${c} placing case when substr(${c}, $1::int % length(${c}) + 1, 1) = 'a' then 'b' else 'a' end from $1::int % length(${c}) + 1)`,
  bytea: (c) => `set_byte(${c}, $1::int % length(${c}), get_byte(${c}, $1::int % length(${c})) # 1)`,
  uuid: (c) => `overlay(${c}::text placing case when right(${c}::text, 1) = 'a' then 'b' else 'a' end from 36)::uuid`,
  bigint: (c) => `${c} + 1000 + $1::int`,
  integer: (c) => `${c} + 1000 + $1::int`,
  'timestamp with time zone': (c) => `${c} + interval '1 microsecond' * (1 + $1::int)`,
};

async function changeByte({ table, column, type }: Column): Promise<string | null> {
  const to = another[type]?.(column);
  const filled = type === 'text' || type === 'bytea' ? `length(${column}) > 0` : `${column} is not null`;
  const { rows } = await superuser.query<{ n: number }>(`select count(*)::int as n from ${table} where ${filled}`);
  const n = rows[0]?.n ?? 0;
  if (to === undefined || n === 0) return null;
  const { rowCount } = await superuser.query(
    `update ${table} set ${column} = ${to}
     where $1::int is not null and ctid = (select ctid from ${table} where ${filled} order by ctid offset $2 limit 1)`,
    [below(1_000), below(n)],
  );
  return rowCount === 1 ? `a byte of ${table}.${column}` : null;
}

async function takeRow(table: string): Promise<string> {
  // Of the first head, that of nothing, no file tells.
  const some = table === 'log_checkpoints' ? 'where size > 0' : '';
  const { rows } = await superuser.query<{ n: number }>(`select count(*)::int as n from ${table} ${some}`);
  await superuser.query(
    `delete from ${table} where ctid = (select ctid from ${table} ${some} order by ctid offset $1 limit 1)`,
    [below(rows[0]?.n ?? 1)],
  );
  return `a row of ${table} gone`;
}

it('finds whatever is changed', async () => {
  expect((await find()).differences).toEqual([]);
  const missed: string[] = [];
  let named = 0;
  let done = 0;
  for (let at = 0; done < gate.changes; at++) {
    // Each column in turn, then each table.
    const one = covered[at % (covered.length + 2 * tables.length)];
    const table = one?.table ?? tables[((at % (covered.length + 2 * tables.length)) - covered.length) >> 1] ?? 'facts';
    await withSaved(superuser, [table], async () => {
      const isTaken = ((at % (covered.length + 2 * tables.length)) - covered.length) % 2 === 0;
      const what =
        one !== undefined
          ? await changeByte(one)
          : isTaken
            ? await takeRow(table)
            : await addOne(superuser, table, columns).then(() => `a row more in ${table}`);
      if (what === null) return;
      done += 1;
      const { differences } = await find();
      if (differences.length === 0) missed.push(what);
      const view = table === 'staged_leaves' ? 'all_leaves' : table;
      if (differences.some((difference) => difference.table === view)) named += 1;
    });
  }
  tell(`changes: ${done}, found ${done - missed.length}, by the name of their table ${named}`);
  expect(missed).toEqual([]);
});
