import { mkdirSync, readdirSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { removeDataDir } from '../../src/store/embedded/remove-data-dir.ts';
import { startEmbedded } from '../../src/store/embedded/start-embedded.ts';

const prefix = 'asfitted-tests-';
/** Nothing here must survive a power loss. */
export const fastSettings = { fsync: 'off', full_page_writes: 'off', max_connections: '200' };

/** An embedded Postgres in a temporary folder, removed at the end unless databases of failed tests are in it. */
export async function openThrowAway(): Promise<{
  superuserUrl: string;
  close(keptDatabases: readonly string[]): Promise<void>;
}> {
  await sweep();
  const dataDir = join(tmpdir(), `${prefix}${process.pid}`);
  mkdirSync(dataDir, { mode: 0o755 });
  const server = await startEmbedded({ dataDir, log: () => {}, settings: fastSettings });
  return {
    superuserUrl: server.superuserUrl,
    async close(keptDatabases) {
      await server.stop();
      if (keptDatabases.length === 0) await removeDataDir(dataDir);
      else console.log(`Kept ${keptDatabases.join(', ')} in ${dataDir} until the next run.`);
    },
  };
}

/** What our own runs that are over left behind: killed ones, and those that kept databases. */
async function sweep(): Promise<void> {
  for (const name of readdirSync(tmpdir())) {
    const folder = join(tmpdir(), name);
    const pid = Number(name.slice(prefix.length));
    if (!name.startsWith(prefix) || !Number.isInteger(pid) || isAlive(pid)) continue;
    if (statSync(folder).uid === process.getuid?.()) await removeDataDir(folder);
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
