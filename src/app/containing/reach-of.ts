/** What a containment reaches: as its issuer sees it, whoever asks. */
import type { ReachCriteria } from '../../core/reach/criteria.ts';
import { findReach, type Reached } from '../../store/sql/find-reach.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import { type TransactionContext, withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';
import { statedIn } from '../decisions/decide-containment.ts';
import { resolve, type Whose } from '../find-reach.ts';

/** Units that are read at once. */
const atOnce = 1_000;

/** A maker's containment is of its make; a distributor's of its own records. */
export function issuerOf({ owner, statement }: Pick<FactRow, 'owner' | 'statement'>): Whose {
  const { maker } = statedIn({ statement });
  return maker === undefined ? { own: owner, maker: null } : { own: null, maker };
}

function contextOf({ own, maker }: Whose): TransactionContext {
  if (own !== null) return { role: 'reader', orgs: [own], readOnly: true };
  return { role: 'analyst', orgs: [], makers: maker === null ? [] : [maker], readOnly: true };
}

/** The units, each with the first record that matches; of these units alone, where some are named. */
export async function reachOf(
  app: App,
  whose: Whose,
  criteria: ReachCriteria,
  units: readonly string[] | null = null,
): Promise<Map<string, string>> {
  const found = new Map<string, string>();
  for (let after: string | null = null; ; ) {
    const page = units === null ? { after, most: atOnce } : { units };
    const rows: Reached[] = await withTransaction(app.pools.reading, contextOf(whose), async (tx) =>
      findReach(tx, await resolve(tx, whose, criteria), page),
    );
    for (const { unit, fact } of rows) if (!found.has(unit)) found.set(unit, fact);
    after = rows.at(-1)?.unit ?? null;
    if (units !== null || new Set(rows.map((row) => row.unit)).size < atOnce) return found;
  }
}
