/** Locks the lots that a batch is about, in the order of owner and key, and loads what decisions about them read. */
import { lotKey, lotNamed } from '../../core/records/lot-name.ts';
import { type LotBody, lotBody } from '../../core/records/stock-bodies.ts';
import type { Effective } from '../../core/stock/contents.ts';
import {
  findPutThere,
  type PlaceSought,
  type PutThere,
  type Restocked,
  readRestocked,
} from '../../store/sql/find-parts.ts';
import { lockStock } from '../../store/sql/lock-stock.ts';
import type { LotOf } from '../../store/sql/lot-ledgers.ts';
import { lotsOfFacts, readMoves } from '../../store/sql/lot-ledgers.ts';
import { listEditions } from '../../store/sql/read-editions.ts';
import { readStock, type StockRow } from '../../store/sql/read-stock.ts';
import type { Tx } from '../../store/transaction.ts';
import type { Editions } from '../editions.ts';
import { type Ledgers, ledgerKey, loadLedgers } from './ledgers.ts';
import { isLotMove, type Request } from './request.ts';
import type { Wants } from './wants.ts';

export type LoadedLots = {
  readonly stock: readonly StockRow[];
  readonly ledgers: Ledgers;
  /** What corrections of this batch replace: which lots those records took something from. */
  readonly lotsOfRecords: readonly (LotOf & { readonly fact: string })[];
  readonly putThere: readonly PutThere[];
  readonly restocked: readonly Restocked[];
};

type Wanted = { readonly request: Request; readonly wants: Wants };

export async function loadLots(tx: Tx, wanted: readonly Wanted[], editions: Editions): Promise<LoadedLots> {
  const requests = wanted.map((one) => one.request);
  const corrected = requests.flatMap((request) => (request.kind === 'correction' ? [request.record] : []));
  const restocked = requests.flatMap(placeSought);
  const [lotsOfRecords, putThere] = await Promise.all([lotsOfFacts(tx, corrected), findPutThere(tx, restocked)]);
  const named = wanted.flatMap(({ request, wants }) => namedLots(request, wants));
  const lots = distinct([...named, ...lotsOfRecords, ...putThere]);
  const [, stock, moves] = await Promise.all([
    lockStock(tx, 'lot', 'no key update', lots.map(asStock)),
    readStock(tx, [...othersWanted(wanted), ...lots.map(asStock)]),
    readMoves(tx, lots),
  ]);
  const stated = stock.filter((row) => row.kind === 'lot').map(stating);
  const components = distinct(stated.flatMap(componentsOf)).filter((one) => !lots.some((lot) => isSame(lot, one)));
  const inQuestion = new Set(
    [
      ...wanted
        .filter(({ request }) => isInQuestion(request))
        .flatMap(({ request, wants }) => namedLots(request, wants)),
      ...lotsOfRecords,
      ...putThere,
    ].map(ledgerKey),
  );
  const reckoned = stated.filter((one) => inQuestion.has(ledgerKey(one)) || moves.some((move) => isSame(move, one)));
  const known = await editionsOf(
    tx,
    editions,
    reckoned.map(({ lot }) => lotNamed(lot).maker),
  );
  const [parts, ledgers, back] = await Promise.all([
    readStock(tx, components.map(asStock)),
    loadLedgers(tx, {
      ...{ requests, lots: reckoned, inQuestion, moves },
      editionsOf: (maker) => known.get(maker) ?? [],
    }),
    readRestocked(tx, restocked),
  ]);
  return { stock: [...stock, ...parts], ledgers, lotsOfRecords, putThere, restocked: back };
}

/** Every edition of these makers, in the order in which they took effect: what is in a lot of theirs follows from them. */
export async function editionsOf(
  tx: Tx,
  editions: Editions,
  makers: readonly string[],
): Promise<Map<string, Effective[]>> {
  const found = new Map<string, Effective[]>();
  for (const { maker, edition, effectiveFrom } of await listEditions(tx, [...new Set(makers)])) {
    const content = await editions.get(tx, maker, edition);
    if (content !== null) found.set(maker, [...(found.get(maker) ?? []), { from: effectiveFrom, edition: content }]);
  }
  return found;
}

/** A lot as it is stated, with the parts of which its kits are. */
export function stating({ owner, key, statement }: StockRow): LotOf & { readonly body: LotBody } {
  return { owner, lot: key, body: lotBody.parse(JSON.parse(statement)) };
}

/** What is taken in, counted or judged again, or may be: then it counts who took what. */
function isInQuestion(request: Request): boolean {
  return isLotMove(request) || ['restocking', 'correction', 'judgement'].includes(request.kind);
}

function placeSought(request: Request): PlaceSought[] {
  if (request.kind !== 'restocking') return [];
  const { record, station } = request.body;
  return [{ owner: request.owner, record, place: station }];
}

function namedLots({ owner }: Request, { stock }: Wants): LotOf[] {
  return stock.flatMap(({ kind, key }) => (kind === 'lot' ? [{ owner, lot: key }] : []));
}

function othersWanted(wanted: readonly Wanted[]): Pick<StockRow, 'owner' | 'kind' | 'key'>[] {
  return wanted.flatMap(({ request, wants }) =>
    wants.stock.flatMap(({ kind, key }) => (kind === 'lot' ? [] : [{ owner: request.owner, kind, key }])),
  );
}

function componentsOf({ owner, body }: ReturnType<typeof stating>): LotOf[] {
  return (body.components ?? []).map(({ lot: { maker, number } }) => ({ owner, lot: lotKey(maker, number) }));
}

function asStock({ owner, lot }: LotOf) {
  return { owner, kind: 'lot' as const, key: lot };
}

function distinct(lots: readonly LotOf[]): LotOf[] {
  return [...new Map(lots.map((one) => [ledgerKey(one), { owner: one.owner, lot: one.lot }])).values()];
}

function isSame(a: LotOf, b: LotOf): boolean {
  return a.owner === b.owner && a.lot === b.lot;
}
