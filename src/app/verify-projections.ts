/**
 * Proves that everything derived follows from the facts: recomputes it and compares row by row, column by column.
 *
 * What can't be derived, and so is not compared: `people` (names, own ids and token subjects, which may be erased),
 * `idempotency_keys`, `attempts`, `pending_judgements` and `organisations`; the free text of a fact once it is erased; generated ids of
 * `staged_leaves` and `outbox`. Of a kept answer in `registrations` all is compared but the key and signature of its receipt. The fingerprint of a technician's statement is made of what may be erased; it is left as it is.
 */

import type { Pools } from '../store/pools.ts';
import { compareExpected, type Difference, orphanPrivates } from '../store/projections/compare-expected.ts';
import { expectedTables } from '../store/projections/expected-tables.ts';
import { type Timeouts, type Tx, withTransaction } from '../store/transaction.ts';
import { deriveAll, type Progress } from './projections/derive-all.ts';
import { mostListed } from './projections/noted.ts';

export type Verification = {
  readonly facts: number;
  readonly units: number;
  readonly tables: number;
  /** How many differences there are, and the first of each table. */
  readonly count: number;
  readonly differences: readonly Difference[];
};

/** A large database takes its time, and nobody waits for this transaction. */
export const projectingTimeouts: Timeouts = {
  statementMs: 3_600_000,
  lockMs: 10_000,
  idleMs: 600_000,
  transactionMs: 86_400_000,
};

/**
 * On one snapshot, so that recording may go on meanwhile. `pool` connects as the owner, who may become the role that
 * sees all organisations' rows.
 */
export async function verifyProjections(pool: Pools['jobs'], progress: Progress): Promise<Verification> {
  return await onOneSnapshot(pool, async (tx) => await verifyWithin(tx, progress));
}

export async function onOneSnapshot<T>(pool: Pools['jobs'], work: (tx: Tx) => Promise<T>): Promise<T> {
  const context = { role: 'projector' as const, orgs: [], oneSnapshot: true, timeouts: projectingTimeouts };
  return await withTransaction(pool, context, work);
}

export async function verifyWithin(tx: Tx, progress: Progress): Promise<Verification> {
  const { facts, units, noted } = await deriveAll(tx, progress);
  const orphans = await orphanPrivates(tx, mostListed);
  let count = noted.count + orphans.count;
  const differences = [...noted.differences, ...orphans.differences];
  for (const spec of expectedTables) {
    progress(`comparing ${spec.table}`);
    const compared = await compareExpected(tx, spec, mostListed);
    count += compared.count;
    differences.push(...compared.differences);
  }
  // And fact_privates, which hold no more than their facts' digests say.
  return { facts, units, tables: expectedTables.length + 1, count, differences };
}
