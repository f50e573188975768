/**
 * Units as they are now, by name or by the service's id, however many in one transaction. For askers whose scopes were
 * looked at. What is not to be found, or of another make than the asker's, is null: one answer for both.
 */
import { nameKey } from '../core/records/name-key.ts';
import type { Problem } from '../errors.ts';
import { type NameSought, namesAround, type UnitName } from '../store/sql/find-units.ts';
import { type CurrentUnit, readCurrentUnits } from '../store/sql/read-current.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import { byIds, byNames, type WhichUnits } from '../store/sql/which-units.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type Past, pastOf, readWhole } from './read-history.ts';
import { isAnalyst, readingContext, recordsBehind, type UnitPath, type UnitView, viewOf } from './read-unit.ts';
import { readPeopleNamed, type Seen } from './record-views.ts';

export async function readUnits(app: App, asker: Asker, units: readonly string[]): Promise<(UnitView | null)[]> {
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const { views } = await viewsOfUnits(tx, asker, byIds([...new Set(units)]));
    return units.map((unit) => views.get(unit) ?? null);
  });
}

export async function readUnitsByName(
  app: App,
  asker: Asker,
  paths: readonly UnitPath[],
): Promise<(UnitView | null)[]> {
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const sought = soughtBy(paths);
    const { views, names } = await viewsOfUnits(tx, asker, byNames(sought));
    return sought.map((one) => views.get(unitNamed(names, one) ?? '') ?? null);
  });
}

/**
 * Each with its past as it stands now, all asked at once and of one snapshot.
 * @param seen is told of every fact that was read, and of whom they name where that is asked for
 */
export async function readUnitsWithPasts(
  app: App,
  asker: Asker,
  paths: readonly UnitPath[],
  seen: Seen,
  asksPeople: boolean,
): Promise<({ readonly unit: UnitView; readonly past: Past | Problem } | null)[]> {
  const sought = soughtBy(paths);
  const { all, whole, behind } = await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const which = byNames(sought);
    const [current, whole] = await Promise.all([readCurrentUnits(tx, which), readWhole(tx, which)]);
    const all = ofOwnMake(asker, current);
    // Of a unit that others turned out to be: what is open from them stands in their records.
    const others = recordsBehind(all.map(({ state }) => state)).filter((id) => !whole.visible.has(id));
    const [behind] = await tx.last(() =>
      Promise.all([
        readFacts(tx, others),
        asksPeople && !isAnalyst(asker) ? readPeopleNamed(tx, [...whole.visible.values()], seen) : null,
      ]),
    );
    return { all, whole, behind };
  });
  for (const [id, fact] of whole.visible) seen.facts.set(id, fact);
  const facts = new Map([...whole.visible, ...behind.map((fact) => [fact.id, fact] as const)]);
  const views = viewsIn(all, whole.names, facts);
  return sought.map((one) => {
    const unit = views.get(unitNamed(whole.names, one) ?? '');
    if (unit === undefined) return null;
    return { unit, past: pastOf(asker, { ...asItStands, ...unit }, whole) };
  });
}

const asItStands = { performed: null, known: null };

function soughtBy(paths: readonly UnitPath[]): NameSought[] {
  return paths.map(({ kind, maker, name }) => ({ unitKind: kind, maker, nameKey: nameKey(name) }));
}

function unitNamed(names: readonly UnitName[], { maker, unitKind, nameKey: key }: NameSought): string | undefined {
  return names.find((one) => one.maker === maker && one.unitKind === unitKind && one.nameKey === key)?.unit;
}

type Viewed = {
  readonly views: ReadonlyMap<string, UnitView>;
  /** What they and those that they are mounted with are called. */
  readonly names: readonly UnitName[];
};

/** The last that is asked of the transaction. */
async function viewsOfUnits(tx: Tx, asker: Asker, which: WhichUnits): Promise<Viewed> {
  const [all, names] = await Promise.all([readCurrentUnits(tx, which), namesAround(tx, which)]);
  const own = ofOwnMake(asker, all);
  const behind = await tx.last(() => readFacts(tx, recordsBehind(own.map(({ state }) => state))));
  return { views: viewsIn(own, names, new Map(behind.map((fact) => [fact.id, fact]))), names };
}

function ofOwnMake(asker: Asker, units: readonly CurrentUnit[]): CurrentUnit[] {
  return units.filter(({ maker }) => !isAnalyst(asker) || maker === asker.maker);
}

function viewsIn(
  current: readonly CurrentUnit[],
  names: readonly UnitName[],
  facts: ReadonlyMap<string, FactRow>,
): Map<string, UnitView> {
  const namesByUnit = Map.groupBy(names, ({ unit }) => unit);
  return new Map(
    current.map(({ maker, kind, state }) => {
      const near = [state.unit, state.mounted?.with ?? ''].flatMap((unit) => namesByUnit.get(unit) ?? []);
      const own = recordsBehind([state]).flatMap((id) => facts.get(id) ?? []);
      return [state.unit, viewOf(state, kind, maker, near, own)] as const;
    }),
  );
}
