/** The records that come after a fact in the order of work, whoever's they are. */

import { effectiveEvents, effectiveOfEach, withReached } from '../../core/history/effective-events.ts';
import type { UnitEvent } from '../../core/history/event.ts';
import { endOf, orderEvents } from '../../core/history/order-events.ts';
import { type OwnedFact, ownersOf } from '../../store/sql/owners-of.ts';
import { counterpartsOf, readEvents, unitsOfFacts } from '../../store/sql/read-events.ts';
import { type Tx, withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';

/** A record, and the first of the causes that it comes after. */
export type Following = OwnedFact & { readonly cause: string };

/**
 * On the units of these facts, and on those that what follows there touched too; in the order of work, each once. Events are
 * read by a recorder that is nobody's. Whose each record is, the jobs role looks up in the name of everybody in the directory:
 * it reads owners and nothing else, and nothing of it goes to who caused it.
 */
export async function findFollowing(app: App, causes: readonly string[]): Promise<Following[]> {
  const nobodys = { role: 'recorder' as const, orgs: [], readOnly: true };
  const following = await withTransaction(app.pools.reading, nobodys, async (tx) => {
    const causeOf = new Map<string, string>();
    const units = new Set<string>();
    for (const cause of causes) {
      const after = await followingOne(tx, cause);
      for (const unit of after.units) units.add(unit);
      for (const fact of after.facts) if (!causeOf.has(fact)) causeOf.set(fact, cause);
    }
    const ordered = orderEvents(effectiveOfEach(await readEvents(tx, [...units]))).map((event) => event.fact);
    return [...new Set(ordered)].flatMap((id) => {
      const cause = causeOf.get(id);
      return cause === undefined ? [] : { id, cause };
    });
  });
  return await withOwners(app, following);
}

/** Whose these records are, as the jobs role alone may know. */
export async function withOwners(app: App, following: readonly Omit<Following, 'owner'>[]): Promise<Following[]> {
  if (following.length === 0) return [];
  const nobodys = { role: 'recorder' as const, orgs: [], readOnly: true };
  const orgs = await withTransaction(app.pools.reading, { ...nobodys, role: 'jobs' }, () =>
    app.models.organisation.findMany(),
  );
  const everybodys = { role: 'jobs' as const, orgs: orgs.map((one) => one.id), readOnly: true };
  const owned = await withTransaction(app.pools.reading, everybodys, (tx) =>
    ownersOf(
      tx,
      following.map((one) => one.id),
    ),
  );
  const byId = new Map(owned.map((one) => [one.id, one.owner]));
  return following.flatMap((one) => {
    const owner = byId.get(one.id);
    return owner === undefined ? [] : { ...one, owner };
  });
}

async function followingOne(tx: Tx, cause: string): Promise<{ units: readonly string[]; facts: readonly string[] }> {
  const events = await readEvents(tx, unitsIn(await unitsOfFacts(tx, [cause])));
  const elsewhere = await atTheTime(tx, events, cause);
  let units = unitsIn([...events, ...elsewhere]);
  for (;;) {
    const known = await readEvents(tx, units);
    const facts = followingOn(known, cause, new Set(elsewhere.map(({ fact }) => fact)));
    const again = known.filter(({ effect }) => effect.judges !== undefined && facts.includes(effect.judges));
    const touched = unitsIn(await unitsOfFacts(tx, [...facts, ...again.map(({ fact }) => fact)]));
    if (touched.every((unit) => units.includes(unit))) return { units, facts };
    units = [...new Set([...units, ...touched])];
  }
}

function unitsIn(touched: readonly { readonly unit: string }[]): string[] {
  return [...new Set(touched.map(({ unit }) => unit))];
}

/**
 * Of a mounting: what was done later on whatever else these units were ever mounted with. Such work may name the pump, and
 * have touched the control alone that it was thought to be on.
 */
async function atTheTime(tx: Tx, events: readonly UnitEvent[], cause: string): Promise<UnitEvent[]> {
  const itself = new Set([
    cause,
    ...events.flatMap(({ fact, effect }) => (fact === cause ? (effect.replaces ?? []) : [])),
  ]);
  const mounting = events.filter(({ fact, effect }) => itself.has(fact) && effect.mounted !== undefined);
  if (mounting.length === 0) return [];
  const [since = ''] = mounting.map(endOf).sort();
  const others = await counterpartsOf(tx, unitsIn(mounting));
  return (await readEvents(tx, others)).filter((event) => !itself.has(event.fact) && endOf(event) >= since);
}

/** Where a record follows on one unit, what comes after it on its other one follows too. */
function followingOn(events: readonly UnitEvent[], cause: string, elsewhere: ReadonlySet<string>): string[] {
  const chains = [...Map.groupBy(events, (event) => event.unit).values()];
  let after = elsewhere;
  for (;;) {
    const more = new Set([...after, ...chains.flatMap((chain) => factsAfter(chain, cause, after))]);
    if (more.size === after.size) break;
    after = more;
  }
  const ordered = orderEvents(effectiveOfEach(events)).map((event) => event.fact);
  return [...new Set(ordered)].filter((fact) => after.has(fact));
}

/** What comes after the cause, or what it replaces, or after the first that is known to follow; of those, what counts. */
function factsAfter(events: readonly UnitEvent[], cause: string, following: ReadonlySet<string>): string[] {
  const replaced = events.find((event) => event.fact === cause)?.effect.replaces;
  const everything = orderEvents(withReached(events)).map((event) => event.fact);
  const from = everything.findIndex((fact) => fact === cause || fact === replaced || following.has(fact));
  if (from < 0) return [];
  const after = new Set(everything.slice(from));
  return orderEvents(effectiveEvents(events))
    .map((event) => event.fact)
    .filter((fact) => fact !== cause && after.has(fact));
}
