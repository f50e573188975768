/** Writes prisma/snapshot.txt from a freshly migrated database; with --check compares it and ends with 1 if it differs. */
import { readFile, writeFile } from 'node:fs/promises';
import { describeSchema } from '../store/describe-schema.ts';
import { withFreshDatabase } from './fresh-database.ts';
import { lineDifference } from './line-difference.ts';

const file = new URL('../../prisma/snapshot.txt', import.meta.url);
const migrated = await withFreshDatabase(describeSchema);
if (process.argv.includes('--check')) {
  const kept = await readFile(file, 'utf8').catch(() => '');
  if (kept !== migrated) {
    console.error('prisma/snapshot.txt differs from what the migrations make (- kept, + made):');
    console.error(lineDifference(kept, migrated));
    console.error('If the migrations are right, write it anew: npm run schema:snapshot');
    process.exitCode = 1;
  }
} else {
  await writeFile(file, migrated);
}
