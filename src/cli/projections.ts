/**
 * `npm run -s projections -- verify`: proves that everything derived follows from the facts. Exits 1 on a difference.
 * `npm run -s projections -- rebuild`: renews the projections from the facts, then verifies.
 *
 * Works as the owner of the database: DATABASE_OWNER_URL, or the embedded database in DATA_DIR. Progress goes to
 * standard error, differences and the outcome to standard output.
 */
import type { Progress } from '../app/projections/derive-all.ts';
import { rebuildProjections } from '../app/rebuild-projections.ts';
import { verifyProjections } from '../app/verify-projections.ts';
import { loadConfig } from '../config.ts';
import { withOwnerPool } from '../store/owner-pool.ts';
import { differenceLine } from './difference-line.ts';
import { withOwnerUrl } from './with-owner-url.ts';

const usage = 'usage: npm run -s projections -- verify | rebuild';
const progress: Progress = (line) => console.error(line);

const [command, ...more] = process.argv.slice(2);
if ((command !== 'verify' && command !== 'rebuild') || more.length > 0) {
  console.error(usage);
  process.exitCode = 2;
} else {
  try {
    await withOwnerUrl(loadConfig(), async (ownerUrl) => {
      if (command === 'rebuild') await rebuild(ownerUrl);
      await verify(ownerUrl);
    });
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    process.exitCode = 1;
  }
}

async function rebuild(ownerUrl: string): Promise<void> {
  const renewed = await withOwnerPool(ownerUrl, (pool) => rebuildProjections(pool, progress));
  for (const { table, rows } of renewed) console.log(`${table}: ${rows} rows`);
}

async function verify(ownerUrl: string): Promise<void> {
  const { differences, count, facts, units, tables } = await withOwnerPool(ownerUrl, (pool) =>
    verifyProjections(pool, progress),
  );
  for (const difference of differences) console.log(differenceLine(difference));
  if (count > differences.length) console.log(`… and ${count - differences.length} more`);
  console.log(
    `${count === 0 ? 'verified' : 'NOT as the facts say'}: ${facts} facts, ${units} units, ${tables} tables, ${count} differences`,
  );
  if (count > 0) process.exitCode = 1;
}
