/** The migration that lists what stands, and where registrations were made, run over what was kept before it. */
import { readFileSync } from 'node:fs';
import pg from 'pg';
import { expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { testService } from '../support/service.ts';
import { withSuperuser } from '../support/test-server.ts';
import { recordVariedHistory } from '../support/varied-history.ts';

const db = await testDatabase();
const service = await testService(db);
const file = 'prisma/migrations/20261130220000_list-what-stands/migration.sql';

/** What it does with rows. */
const filling = () => {
  const sql = readFileSync(file, 'utf8');
  const part = (from: string, to: string) => sql.slice(sql.indexOf(from), to === '' ? undefined : sql.indexOf(to));
  return `${part('insert into unit_findings', 'create index unit_findings')} ${part('alter table facts no force', '')}`;
};

it('fills in what recording would have written, and leaves nobody more to see', async () => {
  await recordVariedHistory(service);
  const told = async () => ({
    findings: await rowsOf(db, 'select * from unit_findings order by unit_id, nth'),
    shops: await rowsOf(db, `select * from mentions where what = 'registered-at' order by fact`),
  });
  const before = await told();
  expect(before.findings.length).toBeGreaterThan(5);
  expect(before.shops.length).toBeGreaterThan(0);
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query(`delete from unit_findings; delete from mentions where what = 'registered-at'`);
  });
  const owner = new pg.Client({ connectionString: db.ownerUrl });
  await owner.connect();
  try {
    await owner.query(`begin; ${filling()}; commit`);
    expect(await told()).toEqual(before);
    for (const table of ['facts', 'mentions']) expect((await owner.query(`select from ${table}`)).rowCount).toBe(0);
  } finally {
    await owner.end();
  }
});
