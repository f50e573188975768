/** Instruments of a distributor: what is stated of one over time, and which are due. */
import { type InstrumentEvent, isGood, type Standing, standingAt } from '../core/conformity/instrument-history.ts';
import { frame } from '../core/records/parts.ts';
import type { InstrumentBody } from '../core/records/stock-bodies.ts';
import { daysTo } from '../core/time/days.ts';
import { Problem } from '../errors.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { readFacts } from '../store/sql/read-facts.ts';
import { type InstrumentEventRow, readInstrumentEvents } from '../store/sql/read-instrument-events.ts';
import { readStock } from '../store/sql/read-stock.ts';
import { stockKnown } from '../store/sql/stock-known.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { eventsThatCount, instrumentEventOf, voidsIn } from './derived/instrument-event-row.ts';
import { settledFor } from './horizon.ts';
import { ownerAlone } from './list-own.ts';
import { type PageAsked, pageOf } from './page.ts';
import { readingContext } from './read-unit.ts';

/** @param asked at: an instant; null: now. known: with what was known then; null: with all that is */
export async function readInstrument(
  app: App,
  asker: Asker,
  id: string,
  asked: { readonly at: string | null; readonly known: string | null },
) {
  const owner = ownerAlone(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const until = settledFor(asked.known, await tx.began);
    const sought = [{ owner, kind: 'instrument' as const, key: id }];
    const [stated] = until.known === null ? await readStock(tx, sought) : await stockKnown(tx, sought, until.known);
    if (stated === undefined) throw new Problem('not-found', 'No instrument of yours is known by this id.');
    const body = JSON.parse(stated.statement) as InstrumentBody;
    const rows = await knownBy(tx, await readEventRows(tx, owner, [id]), until.known);
    const voids = voidsIn(rows);
    const at = asked.at ?? until.known ?? (await readClock(tx));
    return {
      ...{ id, version: stated.version, record: stated.fact, statement: body, at },
      ...(asked.known !== null && until),
      ...standingView(standingAt(body, eventsThatCount(rows), at)),
      events: rows
        .flatMap((row) => instrumentEventOf(row) ?? [])
        .map((one) => ({
          ...{ ...eventView(one), good: one.kind === 'incident' ? null : isGood(body, one) },
          voidedBy: voids.get(one.fact) ?? null,
        })),
    };
  });
}

/** Those whose calibration is due within so many days, the soonest first; those that nobody has calibrated come last. */
export async function listDueInstruments(
  app: App,
  asker: Asker,
  { within, at, known }: { readonly within: number; readonly at: string | null; readonly known: string | null },
  page: PageAsked,
) {
  const owner = ownerAlone(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const until = settledFor(known, await tx.began);
    const stated = await app.models.stockItem.findMany({
      where: { owner, kind: 'instrument' },
      orderBy: { key: 'asc' },
    });
    const sought = stated.map(({ key }) => ({ owner, kind: 'instrument' as const, key }));
    const all = until.known === null ? stated : await stockKnown(tx, sought, until.known);
    const keys = all.map((one) => one.key);
    const rows = await knownBy(tx, await readEventRows(tx, owner, keys), until.known);
    const events = Map.groupBy(rows, (row) => row.instrument);
    const asked = at ?? until.known ?? (await readClock(tx));
    const items = all.map(({ key, statement }) => {
      const body = JSON.parse(statement) as InstrumentBody;
      const standing = standingAt(body, eventsThatCount(events.get(key) ?? []), asked);
      const { due, suspect } = standing;
      return {
        ...{ instrument: key, kind: body.kind, shop: body.shop ?? null, due, awaited: body.awaited ?? null },
        suspect: suspect?.body.what ?? null,
        daysLeft: due === null ? null : daysTo(due, asked),
      };
    });
    const listed = items.filter(({ daysLeft, suspect }) => daysLeft === null || daysLeft <= within || suspect !== null);
    return { ...pageOf(listed.sort(bySoonest), page, (one) => one.instrument), ...(known !== null && until) };
  });
}

function bySoonest(a: { due: string | null; instrument: string }, b: { due: string | null; instrument: string }) {
  const [first, second] = [a, b].map(({ due, instrument }) => `${due ?? '~'} ${instrument}`);
  return (first ?? '') < (second ?? '') ? -1 : 1;
}

function standingView({ calibration, due, overdue, neverCalibrated, suspect, later }: Standing) {
  return {
    ...{ calibration: calibration?.fact ?? null, due, overdue, neverCalibrated },
    suspect: suspect === null ? null : { record: suspect.fact, what: suspect.body.what },
    foundWorse: later === null ? null : { record: later.fact, at: later.at },
  };
}

function eventView({ fact, kind, performed, body }: InstrumentEvent) {
  const { reference, performedAt: _, note: __, ...said } = body;
  return { record: fact, kind, performed, reference: frame.reference.parse(reference), said };
}

/** Those of them that were recorded by then; null: all. */
export async function knownBy(tx: Tx, rows: readonly InstrumentEventRow[], known: string | null) {
  if (known === null) return rows;
  const facts = await readFacts(
    tx,
    rows.map(({ fact }) => fact),
  );
  const heard = new Set(facts.filter(({ recordedAt }) => recordedAt <= known).map(({ id }) => id));
  return rows.filter(({ fact }) => heard.has(fact));
}

async function readEventRows(tx: Tx, owner: string, keys: readonly string[]) {
  return await readInstrumentEvents(
    tx,
    keys.map((key) => ({ owner, key })),
  );
}
