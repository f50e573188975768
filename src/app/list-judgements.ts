/** What a fact changed in the judgement of records: each later judgement, with the units that it is on as they are now. */
import type { Status, UnitState } from '../core/history/fold.ts';
import type { Verdict } from '../core/judge/evidence.ts';
import { frame } from '../core/records/parts.ts';
import { namesOfUnits } from '../store/sql/find-units.ts';
import { type JudgementRow, listJudgements as listRows } from '../store/sql/list-judgements.ts';
import { readCurrent, unitsInFacts } from '../store/sql/read-current.ts';
import { readFacts } from '../store/sql/read-facts.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { settledFor } from './horizon.ts';
import { isUuid } from './list-records.ts';
import { cut, type PageAsked, unknownCursor } from './page.ts';
import { nameOf, readingContext, requireReading } from './read-unit.ts';
import { statesKnown } from './states-known.ts';

export async function listJudgements(
  app: App,
  asker: Asker,
  asked: { readonly cause: string; readonly known: string | null },
  { first, after }: PageAsked,
) {
  const { cause } = asked;
  requireReading(asker);
  if (after !== null && !isUuid(after)) throw unknownCursor();
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    if (after !== null && (await readFacts(tx, [after])).length === 0) throw unknownCursor();
    const settled = settledFor(asked.known, await tx.began);
    const { known } = settled;
    const page = cut(await listRows(tx, { cause, known, after }, first + 1), first, (row) => row.id);
    const ids = page.items.map((row) => row.id);
    const touched = Map.groupBy(await unitsInFacts(tx, ids), ({ fact }) => fact);
    const units = [...new Set(ids.flatMap((id) => touched.get(id) ?? []).map(({ unit }) => unit))];
    const states = known === null ? await readCurrent(tx, units) : await statesKnown(tx, units, known);
    const near = states.flatMap(({ unit, mounted }) => [unit, ...(mounted === null ? [] : [mounted.with])]);
    const names = await namesOfUnits(tx, [...new Set(near)]);
    const now = new Map(states.map((state) => [state.unit, unitOf(state, (unit) => nameOf(names, unit))]));
    const items = page.items.map((row) => ({
      ...{ id: row.id, cause, recordedAt: row.recordedAt, ...recordOf(row), ...changeOf(row) },
      units: (touched.get(row.id) ?? []).flatMap(({ unit }) => now.get(unit) ?? []),
    }));
    return { items, pageInfo: page.pageInfo, ...(asked.known !== null && settled) };
  });
}

function recordOf({ record, kind, statement, performedFrom, performedTo }: JudgementRow) {
  const reference = frame.reference.parse((JSON.parse(statement) as { reference: unknown }).reference);
  return { record, kind, reference, performed: { from: performedFrom, to: performedTo } };
}

function unitOf({ unit, born, status, mounted }: UnitState, nameIn: (unit: string) => string | null) {
  const mountedWith = mounted && { unit: mounted.with, name: nameIn(mounted.with), since: mounted.since };
  return { unit, kind: born?.kind ?? null, name: nameIn(unit), status, mountedWith };
}

/** As kept; judgements of earlier releases lack members. */
type Judged = {
  readonly was?: Status;
  readonly status?: Status;
  readonly changes?: readonly {
    readonly pointer: string;
    readonly of: string;
    readonly place: string;
    readonly was: Verdict['verdict'] | null;
    readonly is: Verdict['verdict'] | null;
  }[];
};

function changeOf({ judgement }: JudgementRow) {
  const { was = null, status: is = null, changes = [] } = JSON.parse(judgement) as Judged;
  return { status: { was, is }, verdicts: changes };
}
