/**
 * `npm run -s audit`: holds the database against itself, against the log and against what is published of it. Exits 1 on a
 * difference, and names its table, column and row.
 *
 * Works as the owner of the database, as `projections` does; keys and LOG_DIR are those of the service. Progress goes to
 * standard error, differences and the outcome to standard output.
 */
import { audit } from '../app/log/audit.ts';
import { loadConfig } from '../config.ts';
import { loadLogKeys } from '../store/local-keys.ts';
import { logFiles } from '../store/log-files.ts';
import { withOwnerPool } from '../store/owner-pool.ts';
import { differenceLine } from './difference-line.ts';
import { withOwnerUrl } from './with-owner-url.ts';

if (process.argv.length > 2) {
  console.error('usage: npm run -s audit');
  process.exitCode = 2;
} else {
  try {
    const config = loadConfig();
    await withOwnerUrl(config, async (ownerUrl) => {
      const { signers, former } = await loadLogKeys({
        ...{ files: config.signingKeyFiles, dataDir: config.dataDir },
        ...config.log,
      });
      const log = { files: logFiles(config.log.directory), keys: [...signers, ...former] };
      const { differences, count, facts, units, leaves, checkpoints, files } = await withOwnerPool(ownerUrl, (pool) =>
        audit(pool, log, (line) => console.error(line)),
      );
      for (const difference of differences) console.log(differenceLine(difference));
      if (count > differences.length) console.log(`… and ${count - differences.length} more`);
      console.log(
        `${count === 0 ? 'audited' : 'NOT as it was recorded'}: ${facts} facts, ${units} units, ${leaves} leaves, ${checkpoints} checkpoints, ${files} files, ${count} differences`,
      );
      if (count > 0) process.exitCode = 1;
    });
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    process.exitCode = 1;
  }
}
