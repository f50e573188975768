/** The lead's question: which units and kits in stock serve an order, with the job sheet of the best. */
import type { Edition } from '../core/catalogue/edition.ts';
import { functionsOf } from '../core/catalogue/lookup.ts';
import type { Plan } from '../core/fit/plan.ts';
import { type Sheet, type SheetHeads, sheetOf } from '../core/fit/sheet.ts';
import { fitDigest } from '../core/fit/sheet-digest.ts';
import { sheetLayout } from '../core/fit/sheet-layout.ts';
import { requirementsOf, supplyOfPlan } from '../core/fit/shop-bench.ts';
import {
  isHeld,
  type Option,
  type Order,
  piecesToBuy,
  type StockUnit,
  stockOptions,
} from '../core/fit/stock-options.ts';
import type { Stock } from '../core/fit/supply.ts';
import { fitOf } from '../core/history/at-hand.ts';
import { asAt } from '../core/history/concession.ts';
import type { Instant } from '../core/time/instant.ts';
import { Problem } from '../errors.ts';
import { namesOfUnits, type UnitName } from '../store/sql/find-units.ts';
import { listStockUnits } from '../store/sql/list-stock-units.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { listMakers } from '../store/sql/read-editions.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { editionInEffect } from './editions.ts';
import { ownerAlone } from './list-own.ts';
import { type PageAsked, pageOf } from './page.ts';
import { readShop, requireShop, stockOf } from './read-shop.ts';
import { nameOf, readingContext } from './read-unit.ts';

export type OrderAsked = Order & {
  /** Null: the only one that has published anything. */
  readonly maker: string | null;
  readonly edition: string | null;
  /** Null: any shop of the asker. */
  readonly shop: string | null;
  /** Which kind of unit is wanted; null: whichever. */
  readonly unit: 'control' | 'pump' | null;
  /** When it must be done; null: now. Stock that may not be used any more by then doesn't count. */
  readonly by: Instant | null;
  readonly languages: readonly string[];
};

export async function listOptions(app: App, asker: Asker, order: OrderAsked, page: PageAsked) {
  const owner = ownerAlone(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const now = await readClock(tx);
    const asked = { ...order, maker: order.maker ?? (await onlyMaker(tx)) };
    if (asked.shop !== null) await requireShop(tx, owner, asked.shop);
    const at = asked.by !== null && asked.by > now ? asked.by : now;
    const edition = await editionInEffect(app.editions, tx, asked.maker, asked.edition, now);
    const offering = edition.bodies.map(({ id }) => id).filter((body) => isOffered(edition, body, asked.function));
    if (offering.length === 0)
      throw new Problem('no-plan', `Edition ${edition.edition} has no function ${asked.function}.`, {
        extra: { offered: [...new Set(edition.functions.map(({ id }) => id))] },
      });
    const rows = await listStockUnits(tx, { owner, maker: asked.maker, shop: asked.shop, bodies: offering });
    const units = rows.flatMap(({ shop, state, ...row }) =>
      shop === null ? [] : [{ ...row, shop, state: asAt(state, at) }],
    );
    const stocks = new Map<string, Stock>();
    for (const shop of new Set(units.map((one) => one.shop)))
      stocks.set(shop, await stockOf(app, tx, shop, { owner, edition, at }));
    const options = stockOptions({
      ...{ edition, order: asked, units, at },
      stockOf: (shop) => stocks.get(shop) ?? { kits: {}, pieces: {} },
    }).filter(({ pump }) => asked.unit === null || (asked.unit === 'pump') === (pump !== null));
    const names = await namesOfUnits(
      tx,
      options.flatMap(({ control, pump }) => [control.state.unit, ...(pump === null ? [] : [pump.state.unit])]),
    );
    const listed = pageOf(options, page, idOf);
    const [best] = page.after === null ? options : [];
    return {
      ...{ edition: edition.edition, at },
      best: best === undefined ? null : await sheetsOf(app, tx, best, { owner, edition, names, at, asked }),
      items: listed.items.map((option) => viewOf(option, asked, names)),
      pageInfo: listed.pageInfo,
    };
  });
}

async function onlyMaker(tx: Tx): Promise<string> {
  const [only, ...more] = await listMakers(tx);
  if (only !== undefined && more.length === 0) return only;
  const detail = only === undefined ? 'nobody has published an edition' : `name one of ${[only, ...more].join(', ')}`;
  throw new Problem('invalid-input', 'It is not clear whose function is meant.', {
    errors: [{ parameter: 'maker', detail }],
  });
}

function isOffered(edition: Edition, body: string, wanted: string): boolean {
  return functionsOf(edition, body).some(({ id, retired }) => id === wanted && retired !== true);
}

function idOf({ control, pump }: Option): string {
  return pump === null ? control.state.unit : `${pump.state.unit}.${control.state.unit}`;
}

type Named = OrderAsked & { readonly maker: string };

function viewOf(option: Option, { maker }: Named, names: readonly UnitName[]) {
  const { shop, control, pump, supply, work, cost, mounting } = option;
  const { cover, pieces, buy } = supply;
  return {
    ...{ id: idOf(option), shop, control: unitView(control, names), pump: pump && unitView(pump, names) },
    ...{ mounts: mounting !== null, held: isHeld(option), work, cost },
    ...{ kits: cover.kits, pieces, leftOver: cover.leftOver, buy, toBuy: piecesToBuy(option) },
    unit: pathOf(maker, pump !== null && mounting === null ? pump : control, names),
  };
}

function unitView({ state, since, isStated }: StockUnit, names: readonly UnitName[]) {
  const { unit, function: fun, status, open } = state;
  return {
    ...{ unit, name: nameOf(names, unit), function: fun, status, since },
    ...{ custody: isStated ? ('stated' as const) : ('registered' as const) },
    findings: [...new Set(open.map(({ rule }) => rule))],
  };
}

/** Where the service has it; null: it is known by its pump alone. */
function pathOf(maker: string, { state }: StockUnit, names: readonly UnitName[]): string | null {
  const name = nameOf(names, state.unit);
  return name === null ? null : `/v1/${state.born?.kind ?? 'control'}s/${maker}/${encodeURIComponent(name)}`;
}

type Best = {
  readonly owner: string;
  readonly edition: Edition;
  readonly names: readonly UnitName[];
  readonly at: Instant;
  readonly asked: Named;
};

/** The mounting's sheet is as it will be when the control has been converted. */
async function sheetsOf(app: App, tx: Tx, option: Option, { owner, edition, names, at, asked }: Best) {
  const { control, pump, conversion, mounting } = option;
  const shop = await readShop(app, tx, option.shop, { owner, edition, at });
  const controlOf = { unit: control.state.unit, maker: asked.maker, name: nameOf(names, control.state.unit) };
  const { size, rotation, voltage } = asked;
  const asAsked = { ...(size && { size }), ...(rotation && { rotation }), ...(voltage && { voltage }) };
  const builtFor =
    pump === null || mounting !== null ? { ...control.state.builtFor, ...asAsked } : control.state.builtFor;
  const { body } = control;
  const under =
    pump === null
      ? null
      : { unit: pump.state.unit, maker: asked.maker, name: nameOf(names, pump.state.unit), ...pump.atHand };
  const fit = { ...fitOf(control.state), ...(pump === null ? {} : fitOf(pump.state)) };
  const made = (plan: Plan, heads: SheetHeads): Sheet => {
    const place = { edition, layout: sheetLayout(edition, heads), fluid: heads.pump?.fluid ?? null };
    const atShop = {
      shop: option.shop,
      supply: supplyOfPlan(plan, place, shop),
      requirements: requirementsOf(plan, place, shop),
    };
    return sheetOf(plan, edition, asked.languages, heads, atShop);
  };
  const heads = { control: { ...controlOf, body, builtFor }, to: { function: asked.function } };
  return {
    id: idOf(option),
    conversion: made(conversion, {
      ...heads,
      pump: mounting === null ? under : null,
      from: { function: control.state.function, fit: fitDigest(fit) },
    }),
    mounting:
      mounting === null
        ? null
        : made(mounting, { ...heads, pump: under, from: { function: asked.function, fit: fitDigest(fit) } }),
  };
}
