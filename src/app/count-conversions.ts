/** How many conversions there were, how many passed at first, and which rules held or refused the others. */
import {
  type ConversionsSought,
  countHeldByRule,
  countRefusedByRule,
  countConversions as countRows,
} from '../store/sql/count-conversions.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { ownerOf } from './list-records.ts';
import { isAnalyst, readingContext } from './read-unit.ts';

export type ConversionsAsked = Omit<ConversionsSought, 'owner'>;

export async function countConversions(app: App, asker: Asker, asked: ConversionsAsked) {
  return await withTransaction(app.pools.reading, readingContext(asker), (tx) =>
    countRows(tx, { ...asked, owner: ownerOf(asker) }),
  );
}

/** The busiest rule first. Refused bodies, by when they were refused, are for who sent them: null for the maker's people. */
export async function countRulesOfConversions(app: App, asker: Asker, asked: ConversionsAsked) {
  const sought = { ...asked, owner: ownerOf(asker) };
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const held = Map.groupBy(await countHeldByRule(tx, sought), ({ rule }) => rule);
    const refused = isAnalyst(asker)
      ? null
      : new Map((await countRefusedByRule(tx, sought)).map((one) => [one.rule, one.refused]));
    const rules = [...new Set([...held.keys(), ...(refused?.keys() ?? [])])].map((rule) => ({
      rule,
      held: (held.get(rule) ?? []).reduce((sum, one) => sum + one.held, 0),
      refused: refused === null ? null : (refused.get(rule) ?? 0),
    }));
    const busy = ({ held: holds, refused: refusals }: (typeof rules)[number]) => holds + (refusals ?? 0);
    return rules.sort((a, b) => busy(b) - busy(a) || (a.rule < b.rule ? -1 : 1));
  });
}
