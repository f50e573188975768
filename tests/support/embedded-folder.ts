import { chmodSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, afterEach } from 'vitest';
import { removeDataDir } from '../../src/store/embedded/remove-data-dir.ts';
import { type Embedded, startEmbedded } from '../../src/store/embedded/start-embedded.ts';
import { embeddedProcess, end } from './embedded-process.ts';

/**
 * A temporary folder for one test file's DATA_DIRs. What a test starts is stopped after it, and everything is removed
 * after the file.
 */
export function embeddedFolder() {
  const folder = mkdtempSync(join(tmpdir(), 'asfitted-embedded-'));
  // The server's own user must get through to the folders that a test doesn't close on purpose.
  chmodSync(folder, 0o755);
  const dataDirs: string[] = [];
  const running: Embedded[] = [];
  const children: ReturnType<typeof embeddedProcess>['child'][] = [];
  const lines: string[] = [];
  afterEach(async () => {
    for (const child of children.splice(0)) await end(child, 'SIGKILL');
    for (const server of running.splice(0)) await server.stop();
  });
  afterAll(async () => {
    for (const dataDir of dataDirs) await removeDataDir(dataDir);
    rmSync(folder, { recursive: true, force: true });
  });
  return {
    folder,
    /** What the launcher logged. */
    lines,
    newDataDir(name = `data-${dataDirs.length}`) {
      const dataDir = join(folder, name);
      dataDirs.push(dataDir);
      return dataDir;
    },
    async start(dataDir: string, settings: Record<string, string> = { fsync: 'off' }) {
      const server = await startEmbedded({ dataDir, log: (line) => lines.push(line), settings });
      running.push(server);
      return server;
    },
    startElsewhere(dataDir: string) {
      const held = embeddedProcess(dataDir);
      children.push(held.child);
      return held;
    },
  };
}

export async function ask(url: string, sql: string): Promise<unknown[]> {
  const client = new pg.Client({ connectionString: url });
  client.on('error', () => {});
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

/** Where the cluster of a DATA_DIR lies. */
export function homeOf(dataDir: string): string {
  return (JSON.parse(readFileSync(join(dataDir, 'postgres.json'), 'utf8')) as { home: string }).home;
}
