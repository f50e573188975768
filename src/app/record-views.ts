/** Records whole, as their asker may see them, with their status as it is now. */
import { statusOf } from '../core/history/concession.ts';
import type { UnitState } from '../core/history/fold.ts';
import { onceFor } from '../core/once-for.ts';
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

/** What one request was given before, and needn't ask for again. */
export type Seen = {
  /** By id: a fact stays as it is. */
  readonly facts: Map<string, FactRow>;
  /** The shop's own ids by owner and the service's id; null: forgotten. */
  readonly people: Map<string, string | null>;
};
export const nothingSeen = (): Seen => ({ facts: new Map(), people: new Map() });

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
 * @param seen what the same asker was given before
 * @param then null: as they are now
 */
export async function viewsOf(
  tx: Tx,
  asker: Asker,
  ids: readonly string[],
  seen: Seen = nothingSeen(),
  then: KnownThen | null = null,
  parts: RecordParts = wholeRecord,
) {
  const standing = parts.standing ? ids : [];
  const [rows, touched, said, names, notes] = await Promise.all([
    factsAmong(tx, ids, seen),
    then === null ? currentInFacts(tx, standing) : touchedThen(tx, standing, then),
    saidSince(tx, standing),
    standing.length === 0 ? [] : namesOf(tx, inFacts(standing)),
    asksNotes(asker, parts) ? readPrivates(tx, ids) : [],
  ]);
  const isKnown = ({ recordedAt }: { readonly recordedAt: string }) => then === null || recordedAt <= then.known;
  const facts = rows.filter(isKnown);
  const limits = touched.flatMap(({ state }) => concessionRecords(state.open));
  const [limiting] = await tx.last(() =>
    Promise.all([
      readFacts(tx, [...new Set(limits)]),
      asksPeople(asker, parts) ? readPeopleNamed(tx, facts, seen) : null,
    ]),
  );
  return viewsWith(
    facts,
    { touched, said: said.filter(isKnown), names, notes, limiting },
    peopleOf(asker, parts, seen),
  );
}

/** The same of now, where nothing is asked for that wasn't seen before; null: something is. */
export function viewsAtHand(asker: Asker, ids: readonly string[], seen: Seen, parts: RecordParts): RecordView[] | null {
  if (parts.standing || asksNotes(asker, parts) || ids.some((id) => !seen.facts.has(id))) return null;
  const facts = ids.flatMap((id) => seen.facts.get(id) ?? []).toSorted(byId);
  if (asksPeople(asker, parts) && peopleUnseen(facts, seen).length > 0) return null;
  const nothing = { touched: [], said: [], names: [], notes: [], limiting: [] };
  return viewsWith(facts, nothing, peopleOf(asker, parts, seen));
}

/** Enters the people whom these facts name into what was seen. */
export async function readPeopleNamed(tx: Tx, facts: readonly FactRow[], seen: Seen): Promise<void> {
  const unseen = peopleUnseen(facts, seen);
  const people = await readPeopleById(tx, unseen);
  for (const one of unseen) seen.people.set(personKey(one), null);
  for (const one of people) seen.people.set(personKey(one), one.ownId);
}

/** What of views was read beside the facts. */
type Beside = {
  readonly touched: readonly { readonly state: UnitState; readonly facts: readonly string[] }[];
  readonly said: Awaited<ReturnType<typeof saidSince>>;
  readonly names: Awaited<ReturnType<typeof namesOf>>;
  readonly notes: Awaited<ReturnType<typeof readPrivates>>;
  readonly limiting: readonly FactRow[];
};

function viewsWith(
  facts: readonly FactRow[],
  { touched, said, names, notes, limiting }: Beside,
  peopleNamed: (fact: FactRow) => Readonly<Record<string, string>>,
) {
  const statesByFact = new Map<string, UnitState[]>();
  for (const { state, facts } of touched)
    for (const fact of facts) statesByFact.set(fact, [...(statesByFact.get(fact) ?? []), state]);
  const later = Map.groupBy(said, ({ record }) => record);
  return facts.map((fact) => {
    const own = statesByFact.get(fact.id) ?? [];
    const open = own.flatMap((state) => state.open.filter((one) => one.fact === fact.id));
    const note = notes.find((one) => one.fact === fact.id && one.owner === fact.owner);
    const since = later.get(fact.id) ?? [];
    const { statement } = statedIn(fact);
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
      people: peopleNamed(fact),
    };
  });
}

/** To the maker's people nobody is named, and no note is shown. */
function asksNotes(asker: Asker, { notes }: RecordParts): boolean {
  return notes && !isAnalyst(asker);
}

function asksPeople(asker: Asker, { people }: RecordParts): boolean {
  return people && !isAnalyst(asker);
}

function peopleOf(asker: Asker, parts: RecordParts, { people }: Seen) {
  return (fact: FactRow): Record<string, string> => {
    if (!asksPeople(asker, parts)) return {};
    const named = statedIn(fact).people.map((one) => [one.id, people.get(personKey(one))]);
    return Object.fromEntries(named.filter(([, ownId]) => typeof ownId === 'string'));
  };
}

function peopleUnseen(facts: readonly FactRow[], { people }: Seen): Person[] {
  const named = new Map(facts.flatMap((fact) => statedIn(fact).people.map((one) => [personKey(one), one] as const)));
  return [...named].flatMap(([key, one]) => (people.has(key) ? [] : [one]));
}

/** Read once, however often a request comes back to the record. */
const statedIn = onceFor(({ owner, statement }: FactRow) => {
  const stated = JSON.parse(statement) as unknown;
  return { statement: stated, people: [...new Set(peopleIn(stated))].map((id): Person => ({ owner, id })) };
});

type Person = { readonly owner: string; readonly id: string };

function personKey({ owner, id }: Person): string {
  return `${owner} ${id}`;
}

/** The units that they touched, as they were known then. */
async function touchedThen(tx: Tx, ids: readonly string[], { known, states }: KnownThen) {
  const touched = Map.groupBy(await unitsInFacts(tx, ids, known), ({ unit }) => unit);
  return states.map((state) => ({ state, facts: (touched.get(state.unit) ?? []).map(({ fact }) => fact) }));
}

async function factsAmong(tx: Tx, ids: readonly string[], { facts: seen }: Seen): Promise<FactRow[]> {
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
