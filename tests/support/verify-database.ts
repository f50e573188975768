import type { TestDatabase } from './database.ts';
import { naiveDifferences } from './naive-fold.ts';

/** Whether everything derived in a database follows from its facts; throws with every difference. */
export async function verifyDatabase(db: Pick<TestDatabase, 'ownerUrl' | 'superuserUrl'>): Promise<void> {
  const differences = await naiveDifferences(db.superuserUrl);
  if (differences.length > 0)
    throw new Error(`What is derived does not follow from the facts:\n${differences.join('\n')}`);
}
