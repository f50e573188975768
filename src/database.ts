/** The database that the service works on: the one that it is given, or its own. */
import type { Logger } from 'pino';
import type { Config } from './config.ts';
import { startEmbedded } from './store/embedded/start-embedded.ts';
import { migrate } from './store/migrate.ts';

export type Database = { readonly serviceUrl: string; readonly stop: () => Promise<void> };

/** A database given by URL is migrated by `npm run migrate` alone; our own is brought up to date here. */
export async function openDatabase(config: Config, logger: Logger): Promise<Database> {
  if (config.databaseUrl !== null) return { serviceUrl: config.databaseUrl, stop: async () => {} };
  const embedded = await startEmbedded({ dataDir: config.dataDir, log: (line) => logger.info(line) });
  await migrate({ ownerUrl: embedded.ownerUrl, log: (line) => logger.info(line) });
  return { serviceUrl: embedded.serviceUrl, stop: embedded.stop };
}
