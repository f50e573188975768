import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import pg from 'pg';
import { migrate } from '../../src/store/migrate.ts';
import { fastSettings, openThrowAway } from './throw-away.ts';

export type ServerUrls = {
  readonly superuserUrl: string;
  readonly ownerPassword: string;
  readonly servicePassword: string;
  readonly template: string;
};
export type TestServer = { readonly urls: ServerUrls; close(): Promise<void> };

/** Every database of a run begins with this and the run's own word. */
export const databasePrefix = 'asfitted_test_';

/**
 * The Postgres that TEST_DATABASE names, with the roles and one migrated template: nothing or `embedded` runs the
 * npm package's in a folder that is thrown away, `url` takes TEST_DATABASE_URL (a superuser's), `container` runs
 * the image postgres:18.
 */
export async function openTestServer(): Promise<TestServer> {
  const base = await openBase(process.env['TEST_DATABASE'] ?? 'embedded');
  const run = randomBytes(4).toString('hex');
  const urls: ServerUrls = {
    superuserUrl: base.superuserUrl,
    ownerPassword: randomBytes(12).toString('hex'),
    servicePassword: randomBytes(12).toString('hex'),
    template: `${databasePrefix}${run}_template`,
  };
  try {
    await makeRoles(urls);
    await makeTemplate(urls);
  } catch (error) {
    await base.close([]);
    throw error;
  }
  return {
    urls,
    async close() {
      const kept = await withSuperuser(urls.superuserUrl, async (client) => {
        await client.query(`alter database ${urls.template} is_template false`);
        await client.query(`drop database ${urls.template} with (force)`);
        const { rows } = await client.query<{ name: string }>(
          'select datname as name from pg_database where starts_with(datname, $1) order by 1',
          [`${databasePrefix}${run}_`],
        );
        return rows.map(({ name }) => name);
      });
      await base.close(kept);
    },
  };
}

/** The same server with another user or database. */
export function urlOf(superuserUrl: string, database: string, user?: string, password?: string): string {
  const url = new URL(superuserUrl);
  url.pathname = `/${database}`;
  if (user !== undefined) url.username = user;
  if (password !== undefined) url.password = password;
  return url.href;
}

export async function withSuperuser<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  client.on('error', () => {});
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

type Base = { readonly superuserUrl: string; close(keptDatabases: readonly string[]): Promise<void> };

async function openBase(kind: string): Promise<Base> {
  if (kind === 'embedded') return openThrowAway();
  if (kind === 'container') {
    const { PostgreSqlContainer } = await import('@testcontainers/postgresql');
    const settings = Object.entries(fastSettings).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
    const container = await new PostgreSqlContainer('postgres:18').withCommand(['postgres', ...settings]).start();
    return {
      superuserUrl: container.getConnectionUri(),
      close: async (kept) => {
        await container.stop();
        if (kept.length > 0) console.log(`${kept.join(', ')} went with the container; an embedded server keeps them.`);
      },
    };
  }
  const superuserUrl = process.env['TEST_DATABASE_URL'];
  if (kind !== 'url' || superuserUrl === undefined) {
    throw new Error(
      `TEST_DATABASE=${kind}: set it to embedded, to container, or to url with TEST_DATABASE_URL (a superuser's).`,
    );
  }
  return { superuserUrl, close: async () => {} };
}

async function makeRoles({ superuserUrl, ownerPassword, servicePassword }: ServerUrls): Promise<void> {
  const roles = await readFile(new URL('../../ops/roles.sql', import.meta.url), 'utf8');
  await withSuperuser(superuserUrl, async (client) => {
    await client.query(roles);
    await client.query(`alter role asfitted_owner password ${pg.escapeLiteral(ownerPassword)}`);
    await client.query(`alter role asfitted_service password ${pg.escapeLiteral(servicePassword)}`);
  });
}

async function makeTemplate({ superuserUrl, ownerPassword, template }: ServerUrls): Promise<void> {
  await withSuperuser(superuserUrl, (client) => client.query(`create database ${template} owner asfitted_owner`));
  await migrate({ ownerUrl: urlOf(superuserUrl, template, 'asfitted_owner', ownerPassword), log: () => {} });
  // Nobody may be connected to a database while it is cloned.
  await withSuperuser(superuserUrl, (client) =>
    client.query(`alter database ${template} is_template true allow_connections false`),
  );
}
