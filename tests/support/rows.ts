/** Looking into a test database from outside, past every right. */
import type { TestDatabase } from './database.ts';
import { withSuperuser } from './test-server.ts';

/** Rows of each table of the schema, by name. */
export async function rowCounts(db: TestDatabase): Promise<Record<string, number>> {
  return await withSuperuser(db.superuserUrl, async (client) => {
    const { rows } = await client.query<{ name: string; n: number }>(`
      select relname as name,
        (xpath('//n/text()', query_to_xml(format('select count(*) as n from %I', relname), false, true, '')))[1]::text::int as n
      from pg_class where relkind = 'r' and relnamespace = 'public'::regnamespace order by relname`);
    return Object.fromEntries(rows.map(({ name, n }) => [name, n]));
  });
}

export async function rowsOf<R extends Record<string, unknown>>(
  db: TestDatabase,
  sql: string,
  values: readonly unknown[] = [],
): Promise<R[]> {
  return await withSuperuser(db.superuserUrl, async (client) => (await client.query<R>(sql, [...values])).rows);
}
