import { createHash, randomUUID } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import pg from 'pg';

export type MigrateOptions = {
  /** The owner of the database: the service's own role may not change tables. */
  readonly ownerUrl: string;
  readonly log: (line: string) => void;
  /** Holds `<timestamp>_<verb-noun>/migration.sql`; the project's own unless a test gives another. */
  readonly folder?: string;
  /** How often a migration is tried that doesn't get its locks; a second apart. */
  readonly attempts?: number;
};

type Migration = { readonly name: string; readonly sql: string; readonly checksum: string };

const projectFolder = fileURLToPath(new URL('../../prisma/migrations', import.meta.url));
/** The number that `prisma migrate deploy` locks, so that it and we never run at once. */
const prismaLock = 72_707_369;
/** A migration that waits for a lock makes every later reader wait behind it. */
const lockTimeout = '1s';
const betweenAttemptsMs = 1000;
const lockNotAvailable = '55P03';
const deadlockDetected = '40P01';

/**
 * Applies what is pending, in the order of the names, each in one transaction together with its row in Prisma's
 * own history table: killed in the middle, it is as if it hadn't begun. Gives the names applied.
 *
 * Throws, before anything is applied, when an applied migration has another checksum now, is unknown here, or was
 * begun by another tool and not finished; and when a migration fails or doesn't get its locks. The name is in the
 * message.
 */
export async function migrate(options: MigrateOptions): Promise<string[]> {
  const { ownerUrl, log, folder = projectFolder, attempts = 30 } = options;
  const known = readMigrations(folder);
  const client = new pg.Client({ connectionString: ownerUrl, connectionTimeoutMillis: 10_000 });
  client.on('error', () => {});
  await client.connect();
  try {
    await client.query('select pg_advisory_lock($1)', [prismaLock]);
    await client.query(historyTable);
    const applied = await readApplied(client, known);
    const pending = known.filter(({ name }) => !applied.has(name));
    for (const migration of pending) {
      await applyPatiently(client, migration, attempts, log);
      log(`applied ${migration.name}`);
    }
    return pending.map(({ name }) => name);
  } finally {
    await client.end();
  }
}

function readMigrations(folder: string): Migration[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort()
    .map((name) => {
      if (!/^\d{14}_[a-z0-9]+(-[a-z0-9]+)*$/.test(name)) {
        throw new Error(`${join(folder, name)}: a migration is named <14 digits>_<verb-noun>. Rename the folder.`);
      }
      const sql = readFileSync(join(folder, name, 'migration.sql'), 'utf8');
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') };
    });
}

/** As Prisma creates it, so that either tool can go on from the other. */
const historyTable = `
  create table if not exists _prisma_migrations (
    id varchar(36) primary key not null,
    checksum varchar(64) not null,
    finished_at timestamptz,
    migration_name varchar(255) not null,
    logs text,
    rolled_back_at timestamptz,
    started_at timestamptz not null default now(),
    applied_steps_count integer not null default 0
  )`;

async function readApplied(client: pg.Client, known: readonly Migration[]): Promise<Set<string>> {
  const { rows } = await client.query<{ name: string; checksum: string; finished: boolean }>(`
    select migration_name as name, checksum, finished_at is not null as finished
    from _prisma_migrations where rolled_back_at is null order by migration_name`);
  for (const { name, checksum, finished } of rows) {
    const here = known.find((migration) => migration.name === name);
    if (!finished) {
      throw new Error(
        `Migration ${name} was begun by another tool and not finished. Look at what it left in the database, then \`prisma migrate resolve\` it.`,
      );
    }
    if (here === undefined) {
      throw new Error(
        `The database has migration ${name}, which this release doesn't know: it belongs to a newer one. Run that release.`,
      );
    }
    if (here.checksum !== checksum) {
      throw new Error(
        `Migration ${name} was changed after it had been applied. Restore its migration.sql, and put the change into a new migration.`,
      );
    }
  }
  return new Set(rows.map(({ name }) => name));
}

async function applyPatiently(
  client: pg.Client,
  migration: Migration,
  attempts: number,
  log: (line: string) => void,
): Promise<void> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      await apply(client, migration);
      return;
    } catch (error) {
      const code = error instanceof pg.DatabaseError ? error.code : undefined;
      const reason = error instanceof Error ? error.message : String(error);
      const mayPass = code === lockNotAvailable || code === deadlockDetected;
      if (!mayPass || attempt >= attempts) {
        throw new Error(`Migration ${migration.name} failed and left nothing behind: ${reason}`, { cause: error });
      }
      log(`${migration.name} waits for a lock (attempt ${attempt} of ${attempts})`);
      await pause(betweenAttemptsMs);
    }
  }
}

async function apply(client: pg.Client, { name, sql, checksum }: Migration): Promise<void> {
  await client.query(`begin; set local lock_timeout = '${lockTimeout}'`);
  try {
    await client.query(sql);
    await client.query(
      `insert into _prisma_migrations (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
       values ($1, $2, $3, now(), clock_timestamp(), 1)`,
      [randomUUID(), checksum, name],
    );
    await client.query('commit');
  } catch (error) {
    // A connection that is gone rolled back by itself; the first error says more.
    await client.query('rollback').catch(() => {});
    throw error;
  }
}
