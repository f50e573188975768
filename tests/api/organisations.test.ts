/** Organisations are looked up in the directory once, and those that are not in it each time. */
import { expect, it } from 'vitest';
import { organisationResolver } from '../../src/app/organisations.ts';
import { testDatabase } from '../support/database.ts';
import { testService } from '../support/service.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase({ verified: false });
const { app } = await testService(db);
const resolve = organisationResolver(app.pools);
const inDatabase = (sql: string) => withSuperuser(db.superuserUrl, (client) => client.query(sql));

it('are found as soon as they are entered, and not looked up again', async () => {
  const late = { distributor: 'late-yard', maker: null };
  expect(await resolve(late)).toEqual({ distributor: null, maker: null });
  const id = '00000000-0000-7000-8000-00000000000a';
  await inDatabase(
    `insert into organisations (id, slug, kind, name) values ('${id}', 'late-yard', 'distributor', 'Late')`,
  );
  expect(await resolve(late)).toEqual({ distributor: id, maker: null });
  await inDatabase(`delete from organisations where id = '${id}'`);
  expect(await resolve(late)).toEqual({ distributor: id, maker: null });
  expect(await resolve({ distributor: null, maker: 'late-yard' })).toEqual({ distributor: null, maker: null });
});
