import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { migrate } from '../../src/store/migrate.ts';
import { type TestDatabase, testDatabase } from '../support/database.ts';
import { withSuperuser } from '../support/test-server.ts';

const root = mkdtempSync(join(tmpdir(), 'asfitted-migrations-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
// One empty database a test: made here, because only the top level of a file may ask for one.
const databases = await Promise.all(Array.from({ length: 10 }, () => testDatabase({ migrated: false })));
const nextDatabase = (): TestDatabase => {
  const next = databases.pop();
  if (next === undefined) throw new Error('make more databases at the top');
  return next;
};

const create = { '20260101000000_create-benches': 'create table benches (id int primary key);' };
const fill = { '20260102000000_fill-benches': 'insert into benches values (1), (2);' };
const folderOf = (migrations: Record<string, string>) => {
  const folder = mkdtempSync(join(root, 'm-'));
  for (const [name, sql] of Object.entries(migrations)) {
    mkdirSync(join(folder, name));
    writeFileSync(join(folder, name, 'migration.sql'), sql);
  }
  return folder;
};
const run = (db: TestDatabase, migrations: Record<string, string>, attempts = 30) =>
  migrate({ ownerUrl: db.ownerUrl, folder: folderOf(migrations), log: () => {}, attempts });
const rowsOf = (db: TestDatabase, sql: string) =>
  withSuperuser(db.superuserUrl, async (client) => (await client.query(sql)).rows);

test('pending migrations are applied in the order of their names, and a second run applies nothing', async () => {
  const db = nextDatabase();
  expect(await run(db, { ...fill, ...create })).toEqual(Object.keys({ ...create, ...fill }));
  expect(await rowsOf(db, 'select count(*)::int as count from benches')).toEqual([{ count: 2 }]);
  expect(await run(db, { ...create, ...fill })).toEqual([]);
  expect(await rowsOf(db, 'select count(*)::int as count from benches')).toEqual([{ count: 2 }]);
});

test('what is created belongs to the owner', async () => {
  const db = nextDatabase();
  await run(db, create);
  expect(await rowsOf(db, `select tableowner from pg_tables where schemaname = 'public' order by tablename`)).toEqual([
    { tableowner: 'asfitted_owner' },
    { tableowner: 'asfitted_owner' },
  ]);
});

test('a migration that was changed after it had been applied is refused by name, and nothing pending is applied', async () => {
  const db = nextDatabase();
  await run(db, create);
  const changed = { '20260101000000_create-benches': 'create table benches (id bigint primary key);' };
  await expect(run(db, { ...changed, ...fill })).rejects.toThrow('20260101000000_create-benches was changed');
  expect(await rowsOf(db, 'select from benches')).toEqual([]);
});

test('a migration that this release does not know is refused by name', async () => {
  const db = nextDatabase();
  await run(db, { ...create, ...fill });
  await expect(run(db, create)).rejects.toThrow('20260102000000_fill-benches, which this release');
});

test('a migration that another tool began and did not finish is refused by name', async () => {
  const db = nextDatabase();
  await run(db, create);
  await rowsOf(db, 'update _prisma_migrations set finished_at = null');
  await expect(run(db, create)).rejects.toThrow('20260101000000_create-benches was begun by another tool');
});

test('a migration that fails leaves nothing behind, those before it stay, and it can be mended', async () => {
  const db = nextDatabase();
  const broken = { '20260102000000_fill-benches': 'insert into benches values (1); insert into benches values (1);' };
  await expect(run(db, { ...create, ...broken })).rejects.toThrow(/20260102000000_fill-benches failed.*duplicate key/);
  expect(await rowsOf(db, 'select from benches')).toEqual([]);
  expect(await run(db, { ...create, ...fill })).toEqual(['20260102000000_fill-benches']);
});

test('of two that migrate at once, one applies each migration and the other finds it applied', async () => {
  const db = nextDatabase();
  const slow = { '20260101000000_create-benches': 'select pg_sleep(0.2); create table benches (id int primary key);' };
  const [one, two] = await Promise.all([run(db, { ...slow, ...fill }), run(db, { ...slow, ...fill })]);
  expect([...one, ...two].sort()).toEqual(Object.keys({ ...slow, ...fill }));
  expect(await rowsOf(db, 'select count(*)::int as count from _prisma_migrations')).toEqual([{ count: 2 }]);
});

const widen = { '20260103000000_widen-benches': 'alter table benches add column name text;' };

test('a migration that does not get its lock is tried again, and applied when the lock is free', async () => {
  const db = nextDatabase();
  await run(db, create);
  const waited: string[] = [];
  const applied = await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('begin; lock table benches in access share mode');
    const migrating = migrate({
      ownerUrl: db.ownerUrl,
      folder: folderOf({ ...create, ...widen }),
      // Set free only after the first attempt has failed.
      log: (line) => {
        waited.push(line);
        if (waited.length === 1) void client.query('rollback');
      },
    });
    return migrating;
  });
  expect(applied).toEqual(['20260103000000_widen-benches']);
  expect(waited[0]).toContain('waits for a lock');
});

test('a migration that never gets its lock gives up, by name, and has stopped nobody meanwhile', async () => {
  const db = nextDatabase();
  await run(db, create);
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('begin; lock table benches in access share mode');
    await expect(run(db, { ...create, ...widen }, 1)).rejects.toThrow(
      /20260103000000_widen-benches failed.*lock timeout/,
    );
    expect((await client.query('select from benches')).rowCount).toBe(0);
  });
});

test('a folder whose name has no timestamp is refused, with the form that is expected', async () => {
  await expect(run(nextDatabase(), { 'create-benches': 'select 1' })).rejects.toThrow('14 digits');
});
