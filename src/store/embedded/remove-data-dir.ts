import { existsSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { runningServer } from './pid-file.ts';
import { readPlace } from './place.ts';
import { killServer } from './stop-server.ts';

/** Removes a DATA_DIR and its cluster, wherever that lies, for good; a server that still runs in it is killed first. */
export async function removeDataDir(dataDir: string): Promise<void> {
  const file = join(dataDir, 'postgres.json');
  if (existsSync(file)) {
    const { home, cluster } = readPlace(file);
    const running = runningServer(cluster);
    if (running !== null) await killServer(cluster, running.pid);
    rmSync(home, { recursive: true, force: true });
  }
  rmSync(dataDir, { recursive: true, force: true });
}
