import { realpathSync } from 'node:fs';
import pg from 'pg';
import { superuser } from './make-cluster.ts';

const answerWithinMs = 2000;

/** ready: ours, and it takes work. busy: it answers, and isn't ready (starting, recovering, stopping, full). */
export type Answer = 'ready' | 'busy' | 'silent';

/** Throws when the server that runs on our cluster refuses our password: nothing but a person can mend that. */
export async function askServer(port: number, place: { cluster: string; password: string }): Promise<Answer> {
  const client = new pg.Client({
    host: '127.0.0.1',
    port,
    user: superuser,
    password: place.password,
    database: 'postgres',
    connectionTimeoutMillis: answerWithinMs,
    query_timeout: answerWithinMs,
  });
  client.on('error', () => {});
  try {
    await client.connect();
    const { rows } = await client.query<{ folder: string }>(`select current_setting('data_directory') as folder`);
    return rows[0] !== undefined && realpathSync(rows[0].folder) === realpathSync(place.cluster) ? 'ready' : 'silent';
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (code.startsWith('28')) {
      throw new Error(
        `A Postgres runs on ${place.cluster} and refuses the password in postgres.json. Restore that file, or stop that server.`,
        { cause: error },
      );
    }
    return code.startsWith('57P') || code === '53300' ? 'busy' : 'silent';
  } finally {
    await client.end().catch(() => {});
  }
}
