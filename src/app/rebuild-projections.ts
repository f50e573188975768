/**
 * Drops `unit_heads`, `unit_states`, `unit_names`, `unit_findings`, `part_uses`, `lot_sums`, `mentions`, `record_references`,
 * `stock_items`, `intakes`, `instrument_events`, `authorisations`, `approvals`, `leave_ends`, `claims`, `claim_entries`,
 * `claim_texts` and `terms`, and renews them from the facts, in one transaction, to the same content. Recordings wait
 * meanwhile, for as long as their time allows, and are then refused as busy: rebuild while the benches are at rest.
 *
 * Left alone: `idempotency_keys` and `registrations`, which keep answers as they were given; what is appended with a
 * fact and never changed (`unit_events`, `editions`, `staged_leaves`, `outbox`, `fact_privates`); and what can't be
 * derived (`people`, `attempts`, `organisations`). Fingerprints of technicians' statements are carried over.
 */
import type { Pools } from '../store/pools.ts';
import { lockRenewed, renewTables } from '../store/projections/renew-tables.ts';
import { withTransaction } from '../store/transaction.ts';
import { deriveAll, type Progress } from './projections/derive-all.ts';
import { projectingTimeouts } from './verify-projections.ts';

/** Rows of each table as it is now. @throws when a fact can't be read: nothing is changed then. */
export async function rebuildProjections(
  pool: Pools['jobs'],
  progress: Progress,
): Promise<{ table: string; rows: number }[]> {
  return await withTransaction(pool, { role: 'projector', orgs: [], timeouts: projectingTimeouts }, async (tx) => {
    await lockRenewed(tx);
    const { noted } = await deriveAll(tx, progress);
    if (noted.count > 0) {
      const places = noted.differences.slice(0, 5).map(({ table, key, column }) => `${table} (${key}), ${column}`);
      throw new Error(
        `Nothing is rebuilt, because facts are not as they were recorded: ${places.join('; ')}${noted.count > places.length ? '; …' : ''}. Restore them from a backup, then rebuild.`,
      );
    }
    return await renewTables(tx);
  });
}
