/** How lots stand: what came in, what was used and left otherwise, and what that leaves; at each shop. */
import { type LotName, lotKey } from '../core/records/lot-name.ts';
import { balanceOf, type ItemBalance, type Ledger, type ShopBalance } from '../core/stock/ledger.ts';
import { Problem } from '../errors.ts';
import { listLotsAt } from '../store/sql/list-lots-at.ts';
import type { Until } from '../store/sql/lot-ledgers.ts';
import { readStock, type StockRow } from '../store/sql/read-stock.ts';
import { stockKnown } from '../store/sql/stock-known.ts';
import type { Tx } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { settledFor } from './horizon.ts';
import { asOwner } from './list-own.ts';
import { cut, type PageAsked, unknownCursor } from './page.ts';
import { readLedgers } from './read-ledgers.ts';
import { stating } from './recording/load-lots.ts';
import { requireLot } from './require-lot.ts';

/** Of one lot as it is stated, at every shop that took it in or used it. @param asked null: as it is now */
export async function readLotBalances(app: App, asker: Asker, { maker, number }: LotName, asked: Until | null) {
  return await asOwner(app, asker, async (tx) => {
    await requireLot(tx, asker, { maker, number });
    const owner = asker.organisations.distributor ?? '';
    const then = await thenOf(tx, asked);
    const [row] = await lotsThen(tx, [{ owner, kind: 'lot', key: lotKey(maker, number) }], then.until);
    if (row === undefined) throw new Problem('not-found', 'You had stated no lot of this maker and number then.');
    const [ledger] = await readLedgers(app, tx, [row], then.until);
    if (ledger === undefined) throw new Error('a lot that is stated has no ledger');
    const shops = [...new Set([...ledger.moves, ...ledger.uses].map((one) => one.shop))].sort();
    const { body } = stating(row);
    return {
      ...{ maker, number, part: body.part, version: row.version, record: row.fact },
      ...{ madeAt: body.madeAt ?? null, components: body.components ?? [], withdrawn: body.withdrawn ?? null },
      shops: shops.map((shop) => shopView(ledger, shop)),
      ...then.said,
    };
  });
}

/** Of every lot of which anything came into a shop or was used there, by maker and number. */
export async function readStockAt(
  app: App,
  asker: Asker,
  { shop, ...asked }: { readonly shop: string } & Until,
  { first, after }: PageAsked,
) {
  return await asOwner(app, asker, async (tx) => {
    const owner = asker.organisations.distributor ?? '';
    if (after !== null && !(await isStated(tx, owner, after))) throw unknownCursor();
    const keys = await listLotsAt(tx, owner, shop, after, first + 1);
    const then = await thenOf(tx, asked.performed === null && asked.known === null ? null : asked);
    const rows = await lotsThen(
      tx,
      keys.map((key) => ({ owner, kind: 'lot' as const, key })),
      then.until,
    );
    const ledgers = await readLedgers(app, tx, rows, then.until);
    const items = rows.flatMap((row, at) => {
      const ledger = ledgers[at];
      if (ledger === undefined) return [];
      const { shop: _, ...stands } = shopView(ledger, shop);
      return [{ lot: row.key, part: ledger.contents.part, ...stands }];
    });
    const page = cut(keys, first, (key) => key);
    const listed = items.filter(({ lot }) => page.items.includes(lot)).sort((a, b) => (a.lot < b.lot ? -1 : 1));
    return { items: listed, pageInfo: page.pageInfo, ...then.said };
  });
}

/** @param asked null: now */
async function thenOf(tx: Tx, asked: Until | null) {
  if (asked === null) return { until: null, said: {} };
  const settled = settledFor(asked.known, await tx.began);
  const until: Until = { performed: asked.performed, known: settled.known };
  return { until, said: { performed: asked.performed, ...settled } };
}

type Named = Pick<StockRow, 'owner' | 'kind' | 'key'>;

/** As they were stated then. */
async function lotsThen(tx: Tx, lots: readonly Named[], until: Until | null): Promise<StockRow[]> {
  const known = until?.known ?? null;
  return known === null ? await readStock(tx, lots) : await stockKnown(tx, lots, known);
}

/** A cursor is the name of a lot that is stated; Postgres takes no NUL in a text. */
async function isStated(tx: Tx, owner: string, key: string): Promise<boolean> {
  return !key.includes('\0') && (await readStock(tx, [{ owner, kind: 'lot', key }])).length > 0;
}

type Item = Omit<ItemBalance, 'balance' | 'counted'> & {
  /** Null where it isn't known how much came in. */
  readonly counted: number | null;
  readonly balance: number | null;
  readonly overdrawn: number | null;
};

function shopView(
  ledger: Ledger,
  shop: string,
): { shop: string; known: boolean; kits: ShopBalance['kits']; items: Item[] } {
  const balance = balanceOf(ledger, shop);
  if (balance !== null) {
    const items = balance.items.map((one) => ({ ...one, overdrawn: Math.max(0, -one.balance) }));
    return { shop, known: true, kits: balance.kits, items };
  }
  // Only what went out is known.
  const used = Map.groupBy(
    ledger.uses.filter((use) => use.shop === shop),
    (use) => use.item,
  );
  const unknown = { takenIn: 0, restocked: 0, scrapped: 0, returned: 0, counted: null, balance: null, overdrawn: null };
  const items = [...used].map(([item, uses]) => ({
    ...{ item, ...unknown },
    used: uses.reduce((sum, one) => sum + one.quantity, 0),
  }));
  return { shop, known: false, kits: null, items: items.sort((a, b) => (a.item < b.item ? -1 : 1)) };
}
