/**
 * What is derived is proven, found when it was changed, and renewed. Columns come from the database's own catalogue,
 * so that a table or a column that nobody verifies fails here.
 */
import { AsyncLocalStorage } from 'node:async_hooks';
import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { promisify } from 'node:util';
import pg from 'pg';
import { afterAll, describe, expect, it } from 'vitest';
import { rebuildProjections } from '../../src/app/rebuild-projections.ts';
import { verifyProjections } from '../../src/app/verify-projections.ts';
import { withOwnerPool } from '../../src/store/owner-pool.ts';
import { testDatabase } from '../support/database.ts';
import { naiveDifferences } from '../support/naive-fold.ts';
import { testService } from '../support/service.ts';
import { addOne, changeOne, columnsOf, rowsIn, takeConstraintsAway, takeOne, withSaved } from '../support/tamper.ts';
import { recordVariedHistory } from '../support/varied-history.ts';

const wholeRow = '(row)';

/** What nothing can be derived for, and why. */
const notVerified: Readonly<Record<string, string>> = {
  people: 'may be erased: own id, name, subject',
  idempotency_keys: 'a key is what a caller sent, its answer is kept as given',
  accesses: 'what somebody was shown follows from no fact',
  attempts: 'refused bodies lead to no fact',
  pending_judgements: 'work that is still to be done, gone when it is',
  organisations: 'a directory that the operator writes',
  _prisma_migrations: 'the history of the schema',
  logs: 'the log itself: `npm run audit` proves it, and tests/app/log/audit.test.ts',
  log_leaves: 'likewise, but that each fact has one leaf',
  log_checkpoints: 'likewise',
  'staged_leaves.id': 'made by the database',
  'outbox.id': 'made by the database',
};
/** Columns that show in another: what is hashed in the fact's entry or a digest. Keys show as a row that is not there. */
const shownAs: Readonly<Record<string, string>> = {
  'facts.owner': 'owner',
  'facts.id': 'entry',
  'facts.recorded_at': 'entry',
  'facts.ruleset': 'entry',
  'facts.origin': 'entry',
  'facts.statement': 'entry',
  'facts.judgement': 'entry',
  'facts.origin_salt': 'entry',
  'facts.statement_salt': 'entry',
  'facts.judgement_salt': 'entry',
  'facts.private_digest': 'entry',
  // Of no kind that there is: its sections can't be read as one.
  'facts.kind': 'statement',
  'fact_privates.salt': 'section',
  // Without keys of their own: a row of another fact.
  'staged_leaves.fact': wholeRow,
  'outbox.owner': wholeRow,
  'outbox.fact': wholeRow,
};
/** Tables that are compared as part of another. */
const within: Readonly<Record<string, string>> = { staged_leaves: 'all_leaves' };
const nameOf = (table: string) => within[table] ?? table;
const db = await testDatabase();
const service = await testService(db);
await recordVariedHistory(service);
const superuser = new pg.Client({ connectionString: db.superuserUrl });
await superuser.connect();
await takeConstraintsAway(superuser);
afterAll(() => superuser.end());

const columns = await columnsOf(superuser);
const verified = columns.filter(({ table, column }) => !(table in notVerified || `${table}.${column}` in notVerified));
const tables = [...new Set(verified.map(({ table }) => table))];

const verify = () => withOwnerPool(db.ownerUrl, (pool) => verifyProjections(pool, () => {}));
const rebuild = () => withOwnerPool(db.ownerUrl, (pool) => rebuildProjections(pool, () => {}));

/** Every row of every table, as text. */
async function content(): Promise<Record<string, string[]>> {
  const all: Record<string, string[]> = {};
  for (const table of new Set(columns.map((one) => one.table))) all[table] = await rowsIn(superuser, table);
  return all;
}

describe('what is derived of a varied history', () => {
  it('has rows in every table, and follows from the facts', async () => {
    const before = await content();
    expect(tables.filter((table) => before[table]?.length === 0)).toEqual([]);
    expect(await verify()).toMatchObject({ count: 0, differences: [], tables: tables.length });
    expect(await naiveDifferences(db.superuserUrl)).toEqual([]);
    expect(await content()).toEqual(before);
  });

  it('is the same to the last byte when it is rebuilt, also from nothing', async () => {
    const before = await content();
    await rebuild();
    expect(await content()).toEqual(before);
    const renewed = [
      'unit_heads',
      'unit_states',
      'unit_findings',
      'unit_names',
      'part_uses',
      'lot_sums',
      'record_references',
      'intakes',
    ];
    for (const table of renewed) await superuser.query(`delete from ${table}`);
    await superuser.query(`delete from stock_items where kind <> 'technician'`);
    expect((await verify()).count).toBeGreaterThan(0);
    await rebuild();
    expect(await content()).toEqual(before);
  });

  it('is proven by the command, which says what it looked at and fails on a difference', async () => {
    const good = await projections('verify');
    expect(good).toMatchObject({ code: 0 });
    expect(lastLine(good.stdout)).toMatch(/^verified: \d+ facts, \d+ units, 25 tables, 0 differences$/);
    expect(good.stderr).toMatch(/^facts: (\d+) of \1$/m);
    await withSaved(superuser, ['unit_states'], async () => {
      await superuser.query(`update unit_states set status = 'scrapped' where unit_kind = 'pump'`);
      const bad = await projections('verify');
      expect(bad.code).toBe(1);
      expect(bad.stdout).toMatch(/^unit_states \(unit_id=\S+\), status: expected released, found scrapped$/m);
      expect(lastLine(bad.stdout)).toMatch(/^NOT as the facts say: .* [1-9]\d* differences$/);
      const rebuilt = await projections('rebuild');
      expect(rebuilt).toMatchObject({ code: 0 });
      expect(lastLine(rebuilt.stdout)).toMatch(/0 differences$/);
    });
    expect((await projections('prove')).code).toBe(2);
  });

  it('is not asked of the service’s own login, nor of another role', async () => {
    const asService = withOwnerPool(db.serviceUrl, (pool) => verifyProjections(pool, () => {}));
    await expect(asService).rejects.toThrow('permission denied to set role "asfitted_projector"');
  });

  it('is not rebuilt from facts that can’t be read', async () => {
    const before = await content();
    await withSaved(superuser, ['facts'], async () => {
      await superuser.query(`update facts set statement = 'gone' where kind = 'conversion'`);
      await expect(rebuild()).rejects.toThrow(/Nothing is rebuilt.*statement/);
    });
    expect(await content()).toEqual(before);
  });

  it('is compared as of one moment, whatever is recorded meanwhile', async () => {
    const shop = await service.as({ distributor: 'tollan' });
    const recorded: ReturnType<typeof shop>[] = [];
    // Each by its own: not within the transaction that verifies.
    const outside = AsyncLocalStorage.snapshot();
    const whileRecording = (name: string) => {
      recorded.push(outside(() => shop('PUT', `/v1/shops/quay-${recorded.length}`, { name })));
    };
    const { differences } = await withOwnerPool(db.ownerUrl, (pool) => verifyProjections(pool, whileRecording));
    expect(differences).toEqual([]);
    const statuses = (await Promise.all(recorded)).map(({ status }) => status);
    expect([...new Set(statuses)]).toEqual([201]);
  });

  it('still follows from the facts when free text is erased', async () => {
    await withSaved(superuser, ['fact_privates'], async () => {
      await superuser.query('delete from fact_privates');
      // What was told of it to others is found until it is erased too.
      const left = (await verify()).differences.map(({ table, expected }) => `${table}: ${expected}`);
      expect([...new Set(left)]).toEqual(['claim_texts: no such row']);
      await withSaved(superuser, ['claim_texts'], async () => {
        await superuser.query('delete from claim_texts');
        expect((await verify()).differences).toEqual([]);
      });
    });
  });
});

describe('a change behind the service’s back', () => {
  /** What all else is derived from is changed by itself; of what is derived one column of each table at once. */
  const sources = ['facts', 'fact_privates'];
  const derived = tables.filter((table) => !sources.includes(table));
  const columnsIn = (some: readonly string[]) => some.map((table) => verified.filter((one) => one.table === table));
  const rounds = [
    ...columnsIn(sources).flatMap((all) => all.map((one) => [one])),
    ...Array.from({ length: Math.max(...columnsIn(derived).map((all) => all.length)) }, (_, nth) =>
      columnsIn(derived).flatMap((all) => all.slice(nth, nth + 1)),
    ),
  ];
  const pathOf = ({ table, column }: (typeof verified)[number]) => `${table}.${column}`;

  it.each(rounds.map((round) => [round.map(pathOf).join(', '), round] as const))(
    'of %s is found and named',
    async (_, round) => {
      const changed = round.map((one) => one.table);
      const found = await withSaved(superuser, changed, async () => {
        for (const one of round) await changeOne(superuser, one);
        return (await verify()).differences;
      });
      const missed = round.filter((one) => {
        const name = shownAs[pathOf(one)] ?? (one.isKey ? wholeRow : one.column);
        return !found.some(({ table, column }) => table === nameOf(one.table) && column === name);
      });
      expect(missed.map(pathOf)).toEqual([]);
    },
  );

  it('that takes a fact away is missed by all that it led to', async () => {
    const found = await withSaved(superuser, ['facts'], async () => {
      await takeOne(superuser, 'facts');
      return (await verify()).differences;
    });
    expect(wholeRowsIn(found)).toEqual(expect.arrayContaining(['all_leaves', 'outbox']));
  });

  it('that takes a row of each table away is found', async () => {
    const found = await withSaved(superuser, derived, async () => {
      for (const table of derived) await takeOne(superuser, table);
      return (await verify()).differences;
    });
    expect(wholeRowsIn(found)).toEqual(expect.arrayContaining(derived.map(nameOf)));
  });

  it.each([['facts'], ['fact_privates'], derived])('that adds a row to each of %s … is found', async (...added) => {
    const found = await withSaved(superuser, added, async () => {
      for (const table of added) await addOne(superuser, table, columns);
      return (await verify()).differences;
    });
    const missed = added.filter((table) => {
      const name = table === 'facts' ? 'entry' : wholeRow;
      return !found.some((one) => one.table === nameOf(table) && one.column === name);
    });
    expect(missed).toEqual([]);
  });

  const members = [
    'seq',
    'born',
    'builtAt',
    'stations',
    'function',
    'builtFor',
    'mounted',
    'settings',
    'open',
    'status',
  ];
  it.each(members)('of what the state of a unit says about %s is seen by the naive fold', async (member) => {
    const found = await withSaved(superuser, ['unit_states'], async () => {
      await superuser.query(
        `update unit_states set state = (jsonb_set(state::jsonb, array[$1::text], '"changed"'))::text
         where unit_id = (select unit_id from unit_states limit 1)`,
        [member],
      );
      return await naiveDifferences(db.superuserUrl);
    });
    expect(found).toEqual([expect.stringContaining(`, ${member}: `)]);
  });
});

function wholeRowsIn(found: readonly { readonly table: string; readonly column: string }[]): string[] {
  return found.filter((one) => one.column === wholeRow).map((one) => one.table);
}

async function projections(command: string): Promise<{ code: number; stdout: string; stderr: string }> {
  const run = promisify(execFile)('node', ['src/cli/projections.ts', command], {
    cwd: resolve(import.meta.dirname, '../..'),
    env: { ...process.env, DATABASE_OWNER_URL: db.ownerUrl },
  });
  return await run.then(
    ({ stdout, stderr }) => ({ code: 0, stdout, stderr }),
    (error: { code: number; stdout: string; stderr: string }) => error,
  );
}

function lastLine(text: string): string {
  return text.trimEnd().split('\n').at(-1) ?? '';
}
