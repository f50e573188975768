import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import type { Place } from './place.ts';

const rolesFile = fileURLToPath(new URL('../../../ops/roles.sql', import.meta.url));
/** Any number that nothing else on this server locks: two services may start at once. */
const preparing = 7_203_150;

/**
 * Roles as ops/roles.sql has them, their passwords, and the database `asfitted`. The database comes last: while it
 * is missing, an earlier start was interrupted, and everything is done again.
 */
export async function prepareDatabase(superuserUrl: string, passwords: Place['passwords']): Promise<void> {
  const client = new pg.Client({ connectionString: superuserUrl, connectionTimeoutMillis: 10_000 });
  client.on('error', () => {});
  await client.connect();
  try {
    await client.query('select pg_advisory_lock($1)', [preparing]);
    await client.query(readFileSync(rolesFile, 'utf8'));
    const { rowCount } = await client.query(`select from pg_database where datname = 'asfitted'`);
    if (rowCount !== 0) return;
    await client.query(`alter role asfitted_owner password ${pg.escapeLiteral(passwords.owner)}`);
    await client.query(`alter role asfitted_service password ${pg.escapeLiteral(passwords.service)}`);
    await client.query('create database asfitted owner asfitted_owner');
  } finally {
    await client.end();
  }
}
