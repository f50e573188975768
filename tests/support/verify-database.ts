import { verifyProjections } from '../../src/app/verify-projections.ts';
import { withOwnerPool } from '../../src/store/owner-pool.ts';
import type { TestDatabase } from './database.ts';
import { naiveDifferences } from './naive-fold.ts';

/**
 * Whether everything derived in a database follows from its facts: asks the service's own verification, and a second
 * fold that shares nothing with it. Throws with every difference.
 */
export async function verifyDatabase(db: Pick<TestDatabase, 'ownerUrl' | 'superuserUrl'>): Promise<void> {
  const { differences } = await withOwnerPool(db.ownerUrl, (pool) => verifyProjections(pool, () => {}));
  const lines = [
    ...differences.map(
      ({ table, key, column, expected, found }) => `${table} (${key}), ${column}: expected ${expected}, found ${found}`,
    ),
    ...(await naiveDifferences(db.superuserUrl)),
  ];
  if (lines.length > 0) throw new Error(`What is derived does not follow from the facts:\n${lines.join('\n')}`);
}
