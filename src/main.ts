/** The process: config → database and, meanwhile, the rest of the sources → wire → listen → close. */
import closeWithGrace from 'close-with-grace';
import { type Config, ConfigError, loadConfig } from './config.ts';
import { openDatabase } from './database.ts';
import { databaseFault } from './http/database-errors.ts';
import { makeLogger } from './http/logger.ts';
import type { Service } from './wire.ts';

/** Milliseconds: longer than the slowest answer may take. */
const closeWithin = 20_000;

const config = readConfig();
const logger = makeLogger({ level: config.logLevel });
const service = await start();
closeWithGrace({ delay: closeWithin, logger }, async ({ err, signal }) => {
  if (err === undefined) logger.info({ signal }, 'closing');
  else logger.error({ err }, 'closing after an error');
  await service.close();
});
await service.server.listen({ host: config.host, port: config.port });

/** What the operator set wrong is said once, without the trace of an error of ours. */
function readConfig(): Config {
  try {
    return loadConfig();
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    console.error(error.message);
    process.exit(1);
  }
}

/** Likewise a database that isn't there. */
async function start(): Promise<Service> {
  try {
    // Our own Postgres takes a second or two to be there, and so does reading the service's modules.
    const [database, { wire }] = await Promise.all([openDatabase(config, logger), import('./wire.ts')]);
    return await wire(config, logger, database);
  } catch (error) {
    if (config.databaseUrl === null || databaseFault(error) !== 'database-unavailable') throw error;
    const why = error instanceof Error && error.message !== '' ? ` (${error.message})` : '';
    console.error(
      `The database that DATABASE_URL names cannot be reached${why}. Start it, or leave DATABASE_URL out: the service then runs one of its own.`,
    );
    process.exit(1);
  }
}
