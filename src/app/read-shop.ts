/** What a shop has for a job: kits and loose pieces on its shelf, and its instruments. */
import type { Edition } from '../core/catalogue/edition.ts';
import { elementOf } from '../core/catalogue/lookup.ts';
import type { Shop } from '../core/fit/shop-bench.ts';
import type { Stock } from '../core/fit/supply.ts';
import { lotKey, lotNamed } from '../core/records/lot-name.ts';
import { type InstrumentBody, instrumentBody, type LotBody } from '../core/records/stock-bodies.ts';
import { onShelf } from '../core/stock/shelf.ts';
import { addPeriod } from '../core/time/add-period.ts';
import { type Instant, parseTime } from '../core/time/instant.ts';
import { Problem } from '../errors.ts';
import { listLotsAt } from '../store/sql/list-lots-at.ts';
import { readInstrumentEvents } from '../store/sql/read-instrument-events.ts';
import { readStock } from '../store/sql/read-stock.ts';
import type { Tx } from '../store/transaction.ts';
import type { App } from './context.ts';
import { eventsThatCount } from './derived/instrument-event-row.ts';
import { readLedgers } from './read-ledgers.ts';
import { stating } from './recording/load-lots.ts';

type Asked = { readonly owner: string; readonly edition: Edition; readonly at: Instant };

/** More lots than any shop has in use. */
const mostLots = 20_000;

/** @throws Problem not-found where the distributor has stated no such shop */
export async function readShop(app: App, tx: Tx, shop: string, asked: Asked): Promise<Shop> {
  await requireShop(tx, asked.owner, shop);
  const [stock, instruments] = [await stockOf(app, tx, shop, asked), await instrumentsOf(app, tx, shop, asked)];
  return { shop, stock, instruments, at: asked.at };
}

/** @throws Problem not-found where the distributor has stated no such shop */
export async function requireShop(tx: Tx, owner: string, shop: string): Promise<void> {
  const [stated] = await readStock(tx, [{ owner, kind: 'shop', key: shop }]);
  if (stated === undefined) throw new Problem('not-found', `You have stated no shop ${shop}.`);
}

/**
 * Of the edition's maker: another's kits and elements are others, whatever they are called. What is withdrawn, or past
 * its life, at the time asked is not offered.
 */
export async function stockOf(app: App, tx: Tx, shop: string, { owner, edition, at }: Asked): Promise<Stock> {
  const keys = await listLotsAt(tx, owner, shop, null, mostLots);
  const rows = await readStock(
    tx,
    keys.filter((key) => lotNamed(key).maker === edition.maker).map((key) => ({ owner, kind: 'lot' as const, key })),
  );
  const bodies = new Map(rows.map((row) => [row.key, stating(row).body]));
  const parts = [...bodies.values()].flatMap(({ components = [] }) =>
    components.map(({ lot }) => lotKey(lot.maker, lot.number)),
  );
  const behind = await readStock(
    tx,
    [...new Set(parts)].map((key) => ({ owner, kind: 'lot' as const, key })),
  );
  const component = new Map(behind.map((row) => [row.key, stating(row).body]));
  const stock = { kits: {} as Record<string, number>, pieces: {} as Record<string, number> };
  const ledgers = await readLedgers(app, tx, rows);
  for (const [index, ledger] of ledgers.entries()) {
    const body = bodies.get(rows[index]?.key ?? '');
    if (body === undefined || isWithdrawn(body, at)) continue;
    const { kits, pieces } = onShelf(ledger, shop, (item) => keeps(item, body, component, { edition, at }));
    add(stock.kits, body.part, kits);
    for (const [item, quantity] of pieces) add(stock.pieces, item, quantity);
  }
  return stock;
}

/** Those that are kept there, and those of which nobody has said where they are. */
async function instrumentsOf(app: App, tx: Tx, shop: string, { owner }: Asked): Promise<Shop['instruments']> {
  const all = await app.models.stockItem.findMany({ where: { owner, kind: 'instrument' }, orderBy: { key: 'asc' } });
  const here = all
    .map(({ key, statement }) => ({ key, stated: instrumentBody.parse(JSON.parse(statement)) as InstrumentBody }))
    .filter(({ stated }) => stated.shop === undefined || stated.shop === shop);
  const events = Map.groupBy(
    await readInstrumentEvents(
      tx,
      here.map(({ key }) => ({ owner, key })),
    ),
    (row) => row.instrument,
  );
  return here.map(({ key, stated }) => ({
    ...{ instrument: key, stated },
    events: eventsThatCount(events.get(key) ?? []),
  }));
}

/** A piece of a kit is as old as its own lot says, else as the kit. */
function keeps(
  item: string,
  body: LotBody,
  components: ReadonlyMap<string, LotBody>,
  { edition, at }: Pick<Asked, 'edition' | 'at'>,
): boolean {
  const own = (body.components ?? [])
    .filter(({ element }) => element === item)
    .flatMap(({ lot }) => components.get(lotKey(lot.maker, lot.number)) ?? []);
  if (own.some((one) => isWithdrawn(one, at))) return false;
  const life = elementOf(edition, item)?.shelfLife;
  const madeAt = [body, ...own].findLast((one) => one.madeAt !== undefined)?.madeAt;
  return life === undefined || madeAt === undefined || at <= addPeriod(parseTime(madeAt).to, life);
}

function isWithdrawn({ withdrawn }: LotBody, at: Instant): boolean {
  return withdrawn !== undefined && parseTime(withdrawn.from).from <= at;
}

function add(counts: Record<string, number>, key: string, more: number): void {
  if (more > 0) counts[key] = (counts[key] ?? 0) + more;
}
