import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { removeDataDir } from '../store/embedded/remove-data-dir.ts';
import { startEmbedded } from '../store/embedded/start-embedded.ts';
import { migrate } from '../store/migrate.ts';

/** Runs `work` on a freshly migrated database of its own server, and throws both away. */
export async function withFreshDatabase<T>(work: (ownerUrl: string) => Promise<T>): Promise<T> {
  const dataDir = mkdtempSync(join(tmpdir(), 'asfitted-fresh-'));
  try {
    const server = await startEmbedded({ dataDir, log: () => {}, settings: { fsync: 'off' } });
    try {
      await migrate({ ownerUrl: server.ownerUrl, log: () => {} });
      return await work(server.ownerUrl);
    } finally {
      await server.stop();
    }
  } finally {
    await removeDataDir(dataDir);
  }
}
