/** Lists of what a distributor has stated itself, page by page: attempts, shops, people, instruments, lots, intakes. */

import { type LotName, lotKey } from '../core/records/lot-name.ts';
import { frame } from '../core/records/parts.ts';
import type { Move, MoveKind } from '../core/stock/ledger.ts';
import { Problem } from '../errors.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { isUuid } from './list-records.ts';
import { cut, type PageAsked, unknownCursor } from './page.ts';
import { isAnalyst, readingContext } from './read-unit.ts';
import { requireLot } from './require-lot.ts';

export type StockKind = 'shop' | 'technician' | 'instrument' | 'lot' | 'attachment';

export async function listAttempts(app: App, asker: Asker, { first, after }: PageAsked) {
  return await asOwner(app, asker, async () => {
    await requireCursor(after, isUuid, (id) => app.models.attempt.count({ where: { id } }));
    const rows = await app.models.attempt.findMany({
      ...(after === null ? {} : { where: { id: { gt: after } } }),
      orderBy: { id: 'asc' },
      take: first + 1,
    });
    const items = rows.map((row) => ({
      id: row.id,
      at: row.at.toISOString(),
      kind: row.kind,
      body: JSON.parse(row.body) as unknown,
      findings: JSON.parse(row.findings) as unknown,
    }));
    return cut(items, first, (item) => item.id);
  });
}

export async function listStock(app: App, asker: Asker, kind: StockKind, { first, after }: PageAsked) {
  return await asOwner(app, asker, async () => {
    await requireCursor(after, isText, (key) => app.models.stockItem.count({ where: { kind, key } }));
    const rows = await app.models.stockItem.findMany({
      where: { kind, ...(after === null ? {} : { key: { gt: after } }) },
      orderBy: { key: 'asc' },
      take: first + 1,
    });
    const people =
      kind === 'technician'
        ? await app.models.person.findMany({ where: { ownId: { in: rows.map((row) => row.key) } } })
        : [];
    const items = rows.map((row) => ({
      id: row.key,
      version: row.version,
      record: row.fact,
      ...(JSON.parse(row.statement) as object),
      ...nameOf(people.find((one) => one.ownId === row.key)),
    }));
    return cut(items, first, (item) => item.id);
  });
}

/** What came into a lot, or left it otherwise than by use; `what` null: all of it. */
export async function listMoves(
  app: App,
  asker: Asker,
  lot: LotName,
  what: MoveKind | null,
  { first, after }: PageAsked,
) {
  const ofLot = { lotMaker: lot.maker, lotNumber: lot.number, ...(what !== null && { what }) };
  return await asOwner(app, asker, async (tx) => {
    await requireLot(tx, asker, lot);
    await requireCursor(after, isUuid, (fact) => app.models.intake.count({ where: { ...ofLot, fact } }));
    const rows = await app.models.intake.findMany({
      where: { ...ofLot, ...(after === null ? {} : { fact: { gt: after } }) },
      orderBy: { fact: 'asc' },
      take: first + 1,
    });
    const facts = await readFacts(
      tx,
      rows.map((row) => row.fact),
    );
    const items = rows.map((row) => ({
      id: row.fact,
      what: row.what as MoveKind,
      ...frameOf(facts.find((one) => one.id === row.fact)),
      lot: lotKey(lot.maker, lot.number),
      ...{ shop: row.shop, location: row.location, quantity: row.quantity, counts: row.counts, item: row.item },
      loose: (row.loose === null ? [] : JSON.parse(row.loose)) as Move['loose'],
      origin: row.origin === null ? null : { record: row.origin, station: row.station },
    }));
    return cut(items, first, (item) => item.id);
  });
}

/** The distributor whose people, stock and attempts these are. @throws Problem forbidden for everybody else */
export function ownerAlone(asker: Asker): string {
  const { distributor } = asker.organisations;
  if (isAnalyst(asker) || distributor === null) {
    throw new Problem('forbidden', 'The token must name its distributor.');
  }
  return distributor;
}

/** @throws Problem forbidden for the maker's people: stock is the distributor's own. */
export async function asOwner<T>(app: App, asker: Asker, work: (tx: Tx) => Promise<T>): Promise<T> {
  ownerAlone(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), work);
}

/** A cursor is the id of something that is in the list: what is stated stays stated. */
async function requireCursor(
  after: string | null,
  isOne: (text: string) => boolean,
  count: (after: string) => Promise<number>,
): Promise<void> {
  if (after !== null && (!isOne(after) || (await count(after)) === 0)) throw unknownCursor();
}

/** Postgres keeps no NUL in a text and takes none to compare with. */
const isText = (text: string) => !text.includes('\0');

/** When the goods came in, as it was stated, and the shop's own number. */
function frameOf(fact: FactRow | undefined): { performedAt: unknown; reference: string } {
  const { performedAt, reference } = JSON.parse(fact?.statement ?? '{}') as Record<string, unknown>;
  return { performedAt, reference: frame.reference.parse(reference) };
}

function nameOf(person: { name: string | null; subject: string | null } | undefined): object {
  return person === undefined ? {} : { name: person.name, subject: person.subject };
}
