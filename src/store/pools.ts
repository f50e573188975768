import pg from 'pg';
import { valueTypes } from './value-types.ts';

/** Separate, so that a storm of reports or a long job can't keep the benches from recording. */
export type Pools = { readonly recording: pg.Pool; readonly reading: pg.Pool; readonly jobs: pg.Pool };

export type PoolOptions = {
  readonly serviceUrl: string;
  /** Told when an idle connection is lost; the pool makes a new one by itself. */
  readonly onLost: (pool: keyof Pools, error: Error) => void;
};

const sizes: Readonly<Record<keyof Pools, number>> = { recording: 8, reading: 6, jobs: 2 };
/** Waiting for a free connection and for the server's welcome together; pg would wait for ever. */
const connectWithinMs: Readonly<Record<keyof Pools, number>> = { recording: 1_000, reading: 1_000, jobs: 10_000 };
const idleAtMostMs = 30_000;

/**
 * Of every connection. What is read lies in memory or on a disk that seeks for nothing, and answers are small: planned for a
 * turning disk, reach of a lot of 300 units among 200,000 records read `part_uses` whole in two processes (150 ms; by its
 * index 6 ms). A statement with a name is planned once, for whatever values come: planning each time took longer than all that
 * a unit's history reads. One without a name is planned for its own values (see transaction.ts).
 */
export const sessionOptions = Object.entries({
  TimeZone: 'UTC',
  DateStyle: 'ISO,YMD',
  random_page_cost: '1.1',
  max_parallel_workers_per_gather: '0',
  jit: 'off',
  plan_cache_mode: 'force_generic_plan',
})
  .map(([name, value]) => `-c ${name}=${value}`)
  .join(' ');

/** The three pools of the runtime role. Nothing connects until the first query. */
export function openPools({ serviceUrl, onLost }: PoolOptions): Pools {
  const open = (name: keyof Pools) => {
    const pool = new pg.Pool({
      connectionString: serviceUrl,
      application_name: `asfitted ${name}`,
      max: sizes[name],
      connectionTimeoutMillis: connectWithinMs[name],
      idleTimeoutMillis: idleAtMostMs,
      keepAlive: true,
      // What begins a transaction is sent at once (see transaction.ts).
      pipeline: true,
      options: sessionOptions,
      types: valueTypes,
    });
    // Without a listener a lost connection would end the process.
    pool.on('error', (error) => onLost(name, error));
    // Nor may the pool be the only one who listens: between its hands and ours nobody does, and a server that is killed
    // ends a connection right after its welcome. Whoever uses the connection is told by its first query.
    pool.on('connect', (client) => client.on('error', () => {}));
    return pool;
  };
  return { recording: open('recording'), reading: open('reading'), jobs: open('jobs') };
}

/** Waits for the connections in use to come back; call it after the last request was answered. */
export async function closePools({ recording, reading, jobs }: Pools): Promise<void> {
  await Promise.all([recording.end(), reading.end(), jobs.end()]);
}
