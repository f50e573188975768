import { randomBytes } from 'node:crypto';
import { afterAll, inject, type RunnerTask } from 'vitest';
import { type ServerUrls, urlOf, withSuperuser } from './test-server.ts';
import { verifyDatabase } from './verify-database.ts';

export type TestDatabase = {
  readonly name: string;
  readonly serviceUrl: string;
  readonly ownerUrl: string;
  /** This database as superuser. */
  readonly superuserUrl: string;
  close(): Promise<void>;
};

/**
 * A migrated database for one test file: `const db = await testDatabase();` at the top level. It is dropped after
 * the file's last test (later than the file's own `afterAll`, where pools are closed), or kept, and its name printed,
 * when one was red. `close()` drops it earlier. With `migrated: false` it is empty.
 *
 * Before it is dropped, everything derived in it must follow from its facts, or the file is red: see
 * verify-database.ts. With `verified: false` that isn't asked, for files that write rows which no fact explains.
 */
export async function testDatabase(options: { migrated?: boolean; verified?: boolean } = {}): Promise<TestDatabase> {
  const { migrated = true, verified = migrated } = options;
  const urls = await askDesk();
  const name = urls.template.replace(/template$/, randomBytes(4).toString('hex'));
  await withSuperuser(urls.superuserUrl, (client) =>
    client.query(`create database ${name} template ${migrated ? urls.template : 'template0'} owner asfitted_owner`),
  );
  let closed = false;
  const close = () =>
    withSuperuser(urls.superuserUrl, async (client) => {
      await client.query(`drop database if exists ${name} with (force)`);
      closed = true;
    });
  const db: TestDatabase = {
    name,
    serviceUrl: urlOf(urls.superuserUrl, name, 'asfitted_service', urls.servicePassword),
    ownerUrl: urlOf(urls.superuserUrl, name, 'asfitted_owner', urls.ownerPassword),
    superuserUrl: urlOf(urls.superuserUrl, name),
    close,
  };
  // biome-ignore lint/correctness/noEmptyPattern: vitest reads the pattern to see which fixtures are wanted
  afterAll(async ({}, suite) => {
    if (closed) return;
    const isRed = suite.tasks.some(failed);
    const whyNotVerified = verified && !isRed ? await verifyDatabase(db).catch((error: unknown) => error) : undefined;
    if (!isRed && whyNotVerified === undefined) await close();
    else console.log(`Database ${name} is kept: ${isRed ? 'a test failed' : 'it could not be verified'}.`);
    if (whyNotVerified !== undefined) throw whyNotVerified;
  });
  return db;
}

async function askDesk(): Promise<ServerUrls> {
  const response = await fetch(inject('testServerDesk'));
  if (!response.ok) throw new Error(`No Postgres for the tests: ${await response.text()}`);
  return (await response.json()) as ServerUrls;
}

function failed(task: RunnerTask): boolean {
  return task.result?.state === 'fail' || (task.type === 'suite' && task.tasks.some(failed));
}
