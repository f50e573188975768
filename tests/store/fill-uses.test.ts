/** The migration that says of every use when and where it was, run over records that were kept before it. */
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
const file = 'prisma/migrations/20261126500000_reckon-lots/migration.sql';

/** What it does with rows: from where the owner may see them to where he may not any more. */
const filling = () => {
  const sql = readFileSync(file, 'utf8');
  return sql.slice(sql.indexOf('alter table facts no force'));
};

it('fills in what recording would have written, of corrections too, and leaves nobody more to see', async () => {
  await recordVariedHistory(service);
  const said = async () => [
    ...(await rowsOf(db, 'select fact, line, shop, reference, performed_to from part_uses order by fact, line')),
    ...(await rowsOf(db, 'select fact, reference from intakes order by fact')),
  ];
  const before = await said();
  expect(before.length).toBeGreaterThan(20);
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('update part_uses set shop = null, reference = null, performed_to = null');
    await client.query('update intakes set reference = null');
  });
  const owner = new pg.Client({ connectionString: db.ownerUrl });
  await owner.connect();
  try {
    await owner.query(`begin; ${filling()}; commit`);
    expect(await said()).toEqual(before);
    for (const table of ['facts', 'part_uses', 'intakes']) {
      expect((await owner.query(`select from ${table}`)).rowCount).toBe(0);
    }
  } finally {
    await owner.end();
  }
});
