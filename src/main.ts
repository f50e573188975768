/** The process: config → wire → listen → close. */
import closeWithGrace from 'close-with-grace';
import { loadConfig } from './config.ts';
import { makeLogger } from './http/logger.ts';
import { wire } from './wire.ts';

/** Milliseconds: longer than the slowest answer may take. */
const closeWithin = 20_000;

const config = loadConfig();
const logger = makeLogger({ level: config.logLevel });
const service = await wire(config, logger);
closeWithGrace({ delay: closeWithin, logger }, async ({ err, signal }) => {
  if (err === undefined) logger.info({ signal }, 'closing');
  else logger.error({ err }, 'closing after an error');
  await service.close();
});
await service.server.listen({ host: config.host, port: config.port });
