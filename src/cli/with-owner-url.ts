import type { Config } from '../config.ts';
import { startEmbedded } from '../store/embedded/start-embedded.ts';
import { migrate } from '../store/migrate.ts';

/**
 * Work as the owner of the database: of DATABASE_OWNER_URL, or of the embedded one in DATA_DIR.
 * @throws Error where a database is named without its owner
 */
export async function withOwnerUrl(config: Config, work: (ownerUrl: string) => Promise<void>): Promise<void> {
  if (config.databaseUrl !== null || config.databaseOwnerUrl !== null) {
    if (config.databaseOwnerUrl === null) throw new Error('Set DATABASE_OWNER_URL to the database as its owner.');
    return await work(config.databaseOwnerUrl);
  }
  const database = await startEmbedded({ dataDir: config.dataDir, log: console.error });
  try {
    await migrate({ ownerUrl: database.ownerUrl, log: console.error });
    await work(database.ownerUrl);
  } finally {
    await database.stop();
  }
}
