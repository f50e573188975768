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

/**
 * Runs these statements in a transaction of their own, does the work while it is open, and takes them back (or
 * commits, where the work says so).
 */
export async function whileHeld<T>(
  db: TestDatabase,
  statements: readonly (string | readonly [string, readonly unknown[]])[],
  work: (held: {
    run: (sql: string, values?: readonly unknown[]) => Promise<void>;
    commit: () => Promise<void>;
  }) => Promise<T>,
): Promise<T> {
  return await withSuperuser(db.superuserUrl, async (client) => {
    const run = async (sql: string, values: readonly unknown[] = []) => {
      await client.query(sql, [...values]);
    };
    await run('begin');
    for (const one of statements) await (typeof one === 'string' ? run(one) : run(...one));
    try {
      return await work({ run, commit: () => run('commit') });
    } finally {
      await run('rollback');
    }
  });
}

/** Comes back once so many sessions of the service wait for a lock; their process ids. */
export async function untilWaiting(db: TestDatabase, count: number): Promise<number[]> {
  const sql = `select pid from pg_stat_activity
    where datname = current_database() and usename = 'asfitted_service' and wait_event_type = 'Lock'`;
  const deadline = Date.now() + 10_000;
  for (;;) {
    const waiting = await rowsOf<{ pid: number }>(db, sql);
    if (waiting.length >= count) return waiting.map(({ pid }) => pid);
    if (Date.now() > deadline) throw new Error(`${waiting.length} sessions wait for a lock, not ${count}`);
  }
}
