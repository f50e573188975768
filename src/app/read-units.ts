/**
 * Units as they are now, by name or by the service's id, however many in one transaction. For askers whose scopes were
 * looked at. What is not to be found, or of another make than the asker's, is null: one answer for both.
 */
import { nameKey } from '../core/records/name-key.ts';
import { findUnits, namesAround } from '../store/sql/find-units.ts';
import { readCurrentUnits } from '../store/sql/read-current.ts';
import { readFacts } from '../store/sql/read-facts.ts';
import { byIds, byNames, type WhichUnits } from '../store/sql/which-units.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { isAnalyst, readingContext, recordsBehind, type UnitPath, type UnitView, viewOf } from './read-unit.ts';

export async function readUnits(app: App, asker: Asker, units: readonly string[]): Promise<(UnitView | null)[]> {
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const views = await viewsOfUnits(tx, asker, byIds([...new Set(units)]));
    return units.map((unit) => views.get(unit) ?? null);
  });
}

export async function readUnitsByName(
  app: App,
  asker: Asker,
  paths: readonly UnitPath[],
): Promise<(UnitView | null)[]> {
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const sought = paths.map(({ kind, maker, name }) => ({ unitKind: kind, maker, nameKey: nameKey(name) }));
    const [found, views] = await Promise.all([findUnits(tx, sought), viewsOfUnits(tx, asker, byNames(sought))]);
    return sought.map((one) => {
      const name = found.find(
        (each) => each.maker === one.maker && each.unitKind === one.unitKind && each.nameKey === one.nameKey,
      );
      return (name && views.get(name.unit)) ?? null;
    });
  });
}

/** The last that is asked of the transaction. */
async function viewsOfUnits(tx: Tx, asker: Asker, which: WhichUnits): Promise<Map<string, UnitView>> {
  const [all, names] = await Promise.all([readCurrentUnits(tx, which), namesAround(tx, which)]);
  const current = all.filter(({ maker }) => !isAnalyst(asker) || maker === asker.maker);
  const states = current.map(({ state }) => state);
  const behind = await tx.last(() => readFacts(tx, recordsBehind(states)));
  const facts = new Map(behind.map((fact) => [fact.id, fact]));
  const namesByUnit = Map.groupBy(names, ({ unit }) => unit);
  return new Map(
    current.map(({ maker, kind, state }) => {
      const near = [state.unit, state.mounted?.with ?? ''].flatMap((unit) => namesByUnit.get(unit) ?? []);
      const own = recordsBehind([state]).flatMap((id) => facts.get(id) ?? []);
      return [state.unit, viewOf(state, kind, maker, near, own)];
    }),
  );
}
