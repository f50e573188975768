import pg from 'pg';
import { afterAll, expect, test } from 'vitest';
import { checkRuntimeRole } from '../../src/store/runtime-role.ts';
import { testDatabase } from '../support/database.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const pools: pg.Pool[] = [];
const poolOn = (url: string) => {
  const pool = new pg.Pool({ connectionString: url, max: 1 });
  pool.on('error', () => {});
  pools.push(pool);
  return pool;
};
afterAll(() => Promise.all(pools.map((pool) => pool.end())));

test('the service’s own login is accepted', async () => {
  await expect(checkRuntimeRole(poolOn(db.serviceUrl))).resolves.toBeUndefined();
});

test('a superuser is refused', async () => {
  await expect(checkRuntimeRole(poolOn(db.superuserUrl))).rejects.toThrow(/is a superuser.*asfitted_service/);
});

test('the owner of the tables is refused, and one of them is named', async () => {
  await expect(checkRuntimeRole(poolOn(db.ownerUrl))).rejects.toThrow(/asfitted_owner is the owner of \w+/);
});

test('a login with BYPASSRLS, or one that may become such a role, is refused', async () => {
  const role = `${db.name}_bypass`;
  const member = `${db.name}_member`;
  const url = (user: string) => Object.assign(new URL(db.superuserUrl), { username: user, password: 'invented' }).href;
  await withSuperuser(db.superuserUrl, (client) =>
    client.query(`create role ${role} login bypassrls password 'invented';
      create role ${member} login noinherit password 'invented' in role ${role}`),
  );
  try {
    await expect(checkRuntimeRole(poolOn(url(role)))).rejects.toThrow(/BYPASSRLS/);
    await expect(checkRuntimeRole(poolOn(url(member)))).rejects.toThrow(`can become ${role}, a role with BYPASSRLS`);
  } finally {
    await withSuperuser(db.superuserUrl, (client) => client.query(`drop role ${member}; drop role ${role}`));
  }
});
