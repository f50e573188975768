/** Recomputes everything that is derived, from facts alone, into the temporary tables of the transaction. */
import { fold } from '../../core/history/fold.ts';
import { type Digests, entryOf, leafHead, type Section, sectionDigest } from '../../core/log/leaf.ts';
import type { Difference } from '../../store/projections/compare-expected.ts';
import { chainEvents, completeRows, setAnswers, setEntries } from '../../store/projections/complete-expected.ts';
import {
  createExpected,
  type ExpectedName,
  type ExpectedRow,
  insertExpected,
} from '../../store/projections/expected-tables.ts';
import {
  countFacts,
  nextAnswers,
  nextFacts,
  nextLeaves,
  nextUnits,
  ownIdsOf,
  type SourceEvent,
  type SourceFact,
} from '../../store/projections/read-sources.ts';
import type { Tx } from '../../store/transaction.ts';
import { stateRow } from '../recording/keep.ts';
import { fitsItsFact } from './fits-its-fact.ts';
import { type Noted, note } from './noted.ts';
import { peopleWanted, rowsOfFact } from './rows-of-fact.ts';

const factsAtOnce = 500;
const unitsAtOnce = 200;

export type Progress = (line: string) => void;
export type Derived = {
  readonly facts: number;
  readonly units: number;
  /** What of the facts themselves can't be right. */
  readonly noted: Noted;
};

/**
 * Passes in bounded batches: every fact puts down its rows; the entries are recomputed with the places that the facts
 * have in the chains of their units; the events of every unit are folded; kept answers are held against their facts. Events are taken from the facts, so
 * that what was done to the kept events shows once, and not in all that follows from them.
 */
export async function deriveAll(tx: Tx, progress: Progress): Promise<Derived> {
  await createExpected(tx);
  const noted: Noted = { count: 0, differences: [] };
  const facts = await everyFact(tx, noted, progress);
  await chainEvents(tx);
  await everyLeaf(tx, facts, progress);
  const units = await everyUnit(tx, progress);
  await everyAnswer(tx);
  await completeRows(tx);
  return { facts, units, noted };
}

async function everyFact(tx: Tx, noted: Noted, progress: Progress): Promise<number> {
  const all = await countFacts(tx);
  let done = 0;
  for (let batch = await nextFacts(tx, null, factsAtOnce); batch.length > 0; ) {
    const readable = batch.filter((fact) => readsAsJson(fact, noted));
    const ownIds = await ownIdsOf(tx, readable.flatMap(peopleWanted));
    const rows = new Map<ExpectedName, ExpectedRow[]>();
    for (const fact of readable) {
      note(noted, ...differencesWithin(fact));
      for (const [name, more] of Object.entries(derivedFrom(fact, ownIds, noted))) {
        const table = name as ExpectedName;
        rows.set(table, (rows.get(table) ?? []).concat(more));
      }
    }
    for (const [table, those] of rows) await insertExpected(tx, table, those);
    done += batch.length;
    progress(`facts: ${done} of ${all}`);
    batch = await nextFacts(tx, batch.at(-1) ?? null, factsAtOnce);
  }
  return done;
}

function readsAsJson(fact: SourceFact, noted: Noted): boolean {
  const broken = (['origin', 'statement', 'judgement'] as const).filter((section) => !isJsonObject(fact[section]));
  note(noted, ...broken.map((section) => differenceIn(fact, section, 'a JSON object', fact[section])));
  return broken.length === 0;
}

function isJsonObject(text: string): boolean {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null;
  } catch {
    return false;
  }
}

/** Sections that say something else than the columns beside them. */
function differencesWithin(fact: SourceFact): Difference[] {
  const { owner } = JSON.parse(fact.origin) as { owner?: unknown };
  const stated = owner === fact.owner ? [] : [differenceIn(fact, 'owner', String(owner), fact.owner)];
  if (fact.private === null || fact.privateSalt === null) return stated;
  const digest = digestOf(fact.private, fact.privateSalt);
  if (digest === fact.privateDigest) return stated;
  const key = `owner=${fact.owner}, fact=${fact.id}`;
  const text = { table: 'fact_privates', key, column: 'section', expected: fact.privateDigest, found: digest };
  return [...stated, text];
}

function derivedFrom(
  fact: SourceFact,
  ownIds: ReadonlyMap<string, string>,
  noted: Noted,
): Partial<Record<ExpectedName, readonly ExpectedRow[]>> {
  try {
    const { facts, ...rows } = rowsOfFact(fact, (owner, person) => ownIds.get(`${owner}/${person}`) ?? null);
    const digests = JSON.stringify(digestsOf(fact));
    return { ...rows, facts: facts.map((row) => ({ ...row, digests })) };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    note(noted, differenceIn(fact, 'statement', `a statement and judgement of a ${fact.kind}`, why));
    return {};
  }
}

function digestsOf(fact: SourceFact): Digests {
  const digest = (section: Exclude<Section, 'private'>, salt: Buffer) => digestOf(fact[section], salt);
  return {
    origin: digest('origin', fact.originSalt),
    statement: digest('statement', fact.statementSalt),
    judgement: digest('judgement', fact.judgementSalt),
    private: fact.privateDigest ?? '',
  };
}

/** No digest for a salt that is none: nothing can match it. */
function digestOf(section: string, salt: Buffer): string {
  return salt.length === 16 ? sectionDigest(section, salt) : `no digest: the salt has ${salt.length} bytes`;
}

function differenceIn(fact: SourceFact, column: string, expected: string, found: string): Difference {
  return { table: 'facts', key: `owner=${fact.owner}, id=${fact.id}`, column, expected, found };
}

async function everyLeaf(tx: Tx, all: number, progress: Progress): Promise<void> {
  let done = 0;
  for (let batch = await nextLeaves(tx, null, factsAtOnce); batch.length > 0; ) {
    const entries = batch.map(({ owner, id, digests, ...head }) => ({
      owner,
      id,
      entry: entryOf(leafHead({ id, ...head, digests: JSON.parse(digests) as Digests })),
    }));
    await setEntries(tx, entries);
    done += batch.length;
    progress(`entries: ${done} of ${all}`);
    batch = await nextLeaves(tx, batch.at(-1) ?? null, factsAtOnce);
  }
}

async function everyUnit(tx: Tx, progress: Progress): Promise<number> {
  let done = 0;
  for (let batch = await nextUnits(tx, null, unitsAtOnce); batch.length > 0; ) {
    const units = [...Map.groupBy(batch, (event) => event.unit)];
    await insertExpected(
      tx,
      'unit_states',
      units.map(([unit, events]) => stateRow(fold(unit, events), makerOf(events))),
    );
    await insertExpected(
      tx,
      'unit_heads',
      units.flatMap(([unit, events]) =>
        events.slice(-1).map(({ seq, entry, recordedAt }) => ({ unit_id: unit, seq, entry, recorded_at: recordedAt })),
      ),
    );
    done += units.length;
    progress(`units: ${done}`);
    batch = await nextUnits(tx, batch.at(-1)?.unit ?? null, unitsAtOnce);
  }
  return done;
}

async function everyAnswer(tx: Tx): Promise<void> {
  for (let batch = await nextAnswers(tx, null, factsAtOnce); batch.length > 0; ) {
    await setAnswers(
      tx,
      batch.filter(fitsItsFact).map(({ owner, unit, answer }) => ({ owner, unit, answer })),
    );
    batch = await nextAnswers(tx, batch.at(-1) ?? null, factsAtOnce);
  }
}

/** The maker of the fact that registered the unit. */
function makerOf(events: readonly SourceEvent[]): string {
  return events.find(({ effect }) => effect.born !== undefined)?.maker ?? '';
}
