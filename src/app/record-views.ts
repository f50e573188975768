/** Records whole, as their asker may see them, with their status as it is now. */
import { statusOf } from '../core/history/concession.ts';
import type { UnitState } from '../core/history/fold.ts';
import { namesOf } from '../store/sql/find-units.ts';
import { currentInFacts, unitsInFacts } from '../store/sql/read-current.ts';
import { type FactRow, readFacts, readPrivates } from '../store/sql/read-facts.ts';
import { readPeopleById } from '../store/sql/read-stock.ts';
import { saidSince } from '../store/sql/said-since.ts';
import { inFacts } from '../store/sql/which-units.ts';
import type { Tx } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import { peopleIn } from './decisions/statement.ts';
import { isAnalyst, nameOf } from './read-unit.ts';
import { concessionRecords, viewsOfFindings } from './view-findings.ts';

export type RecordView = Awaited<ReturnType<typeof viewsOf>>[number];

/** By id. */
export type FactsSeen = Map<string, FactRow>;

/** What of a view is read beside the fact; false: it is left empty. */
export type RecordParts = {
  /** Units, status, what is open, what was said since. */
  readonly standing: boolean;
  readonly notes: boolean;
  readonly people: boolean;
};
export const wholeRecord: RecordParts = { standing: true, notes: true, people: true };

/** What was known of records at a time: with the states of their units as they were known then. */
export type KnownThen = { readonly known: string; readonly states: readonly UnitState[] };

/**
 * Of these facts those that the transaction can see, in the order of their ids. The last that is asked of it.
 * @param seen what the same asker was given of them before: a fact stays as it is
 * @param then null: as they are now
 */
export async function viewsOf(
  tx: Tx,
  asker: Asker,
  ids: readonly string[],
  seen: FactsSeen = new Map(),
  then: KnownThen | null = null,
  parts: RecordParts = wholeRecord,
) {
  const standing = parts.standing ? ids : [];
  const [rows, touched, said, names, notes] = await Promise.all([
    factsAmong(tx, ids, seen),
    then === null ? currentInFacts(tx, standing) : touchedThen(tx, standing, then),
    saidSince(tx, standing),
    standing.length === 0 ? [] : namesOf(tx, inFacts(standing)),
    isAnalyst(asker) || !parts.notes ? [] : readPrivates(tx, ids),
  ]);
  const isKnown = ({ recordedAt }: { readonly recordedAt: string }) => then === null || recordedAt <= then.known;
  const facts = rows.filter(isKnown);
  const states = touched.map(({ state }) => state);
  const statesByFact = new Map<string, UnitState[]>();
  for (const { state, facts } of touched)
    for (const fact of facts) statesByFact.set(fact, [...(statesByFact.get(fact) ?? []), state]);
  const later = Map.groupBy(said.filter(isKnown), ({ record }) => record);
  const statements = new Map(facts.map((fact) => [fact.id, JSON.parse(fact.statement) as unknown]));
  const forPeople = isAnalyst(asker) || !parts.people ? [] : facts;
  const named = forPeople.flatMap(({ id, owner }) =>
    peopleIn(statements.get(id)).map((person) => ({ owner, id: person })),
  );
  const [limiting, people] = await tx.last(() =>
    Promise.all([
      readFacts(tx, [...new Set(states.flatMap(({ open }) => concessionRecords(open)))]),
      readPeopleById(tx, [...new Map(named.map((one) => [`${one.owner} ${one.id}`, one])).values()]),
    ]),
  );
  return facts.map((fact) => {
    const own = statesByFact.get(fact.id) ?? [];
    const open = own.flatMap((state) => state.open.filter((one) => one.fact === fact.id));
    const note = notes.find((one) => one.fact === fact.id && one.owner === fact.owner);
    const since = later.get(fact.id) ?? [];
    const statement = statements.get(fact.id);
    const doers = new Set(peopleIn(statement));
    return {
      id: fact.id,
      kind: fact.kind,
      maker: fact.maker,
      edition: fact.edition,
      ruleset: fact.ruleset,
      performed: { from: fact.performedFrom, to: fact.performedTo },
      recordedAt: fact.recordedAt,
      concerns: fact.concerns,
      correctedBy: since.find((one) => one.kind !== 'judgement')?.fact ?? null,
      judgedAgain: since.filter((one) => one.kind === 'judgement').map((one) => one.fact),
      entry: fact.entry,
      units: own.map(({ unit, born }) => ({ unit, kind: born?.kind ?? null, name: nameOf(names, unit) })),
      /** As it is now; the judgement says how it was judged then. */
      status: statusOf(open),
      open: viewsOfFindings(open, limiting),
      origin: JSON.parse(fact.origin) as unknown,
      statement,
      judgement: JSON.parse(fact.judgement) as unknown,
      private: note === undefined ? null : (JSON.parse(note.section) as unknown),
      /** The shop's own ids of the people that the statement names. */
      people: Object.fromEntries(
        people.filter((one) => one.owner === fact.owner && doers.has(one.id)).map((one) => [one.id, one.ownId]),
      ),
    };
  });
}

/** The units that they touched, as they were known then. */
async function touchedThen(tx: Tx, ids: readonly string[], { known, states }: KnownThen) {
  const touched = Map.groupBy(await unitsInFacts(tx, ids, known), ({ unit }) => unit);
  return states.map((state) => ({ state, facts: (touched.get(state.unit) ?? []).map(({ fact }) => fact) }));
}

async function factsAmong(tx: Tx, ids: readonly string[], seen: FactsSeen): Promise<FactRow[]> {
  const before = ids.flatMap((id) => seen.get(id) ?? []);
  if (before.length === ids.length) return before.toSorted(byId);
  return [
    ...before,
    ...(await readFacts(
      tx,
      ids.filter((id) => !seen.has(id)),
    )),
  ].toSorted(byId);
}

function byId(a: FactRow, b: FactRow): number {
  return a.id < b.id ? -1 : 1;
}
