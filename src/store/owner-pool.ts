import pg from 'pg';
import { valueTypes } from './value-types.ts';

/** Runs work on one connection of the database's owner: for the operator's commands. The service itself has none. */
export async function withOwnerPool<T>(ownerUrl: string, work: (pool: pg.Pool) => Promise<T>): Promise<T> {
  const pool = new pg.Pool({
    connectionString: ownerUrl,
    application_name: 'asfitted operator',
    max: 1,
    connectionTimeoutMillis: 10_000,
    keepAlive: true,
    pipeline: true,
    options: '-c TimeZone=UTC -c DateStyle=ISO,YMD',
    types: valueTypes,
  });
  // Without a listener a lost connection would end the process; the query that needs it fails and says so.
  pool.on('error', () => {});
  try {
    return await work(pool);
  } finally {
    await pool.end();
  }
}
