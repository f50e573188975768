/** The lots that a batch draws on, as far as what came into them is known. */

import type { RecordKind } from '../../core/catalogue/edition.ts';
import { lotKey, lotKeyOf, lotNamed } from '../../core/records/lot-name.ts';
import { isUnknown } from '../../core/records/parts.ts';
import type { LotBody } from '../../core/records/stock-bodies.ts';
import { type Contents, contentsOf, drawnAs, type Effective } from '../../core/stock/contents.ts';
import { type Ledger, type Move, type MoveKind, supplyOf, type Use } from '../../core/stock/ledger.ts';
import { parseTime } from '../../core/time/instant.ts';
import type { SerialUse } from '../../store/sql/find-parts.ts';
import type { LotOf } from '../../store/sql/lot-ledgers.ts';
import { type MoveOfLot, readUses } from '../../store/sql/lot-ledgers.ts';
import { sumUses } from '../../store/sql/lot-sums.ts';
import type { Tx } from '../../store/transaction.ts';
import type { MoveRow } from '../derived/move-rows.ts';
import type { Draft } from './draft.ts';
import { isWork, type Request } from './request.ts';
import { correctedWork, makerOf } from './wants.ts';

/** Uses are null where the batch can't take more than there is: then nobody needs to know who took what. */
export type LoadedLedger = Omit<Ledger, 'uses'> & { readonly uses: readonly Use[] | null };
/** By `ledgerKey`. */
export type Ledgers = Map<string, LoadedLedger>;

export function ledgerKey({ owner, lot }: LotOf): string {
  return `${owner} ${lot}`;
}

type Given = {
  readonly requests: readonly Request[];
  /** The lots of the batch, locked, with what their owners state of them. */
  readonly lots: readonly (LotOf & { readonly body: LotBody })[];
  /** Lots of which this batch is about the drawing itself: it brings something in, or takes a record's part back. */
  readonly inQuestion: ReadonlySet<string>;
  readonly moves: readonly MoveOfLot[];
  readonly editionsOf: (maker: string) => readonly Effective[];
};

/** Of the lots of which anything came in, or is coming in by this batch. */
export async function loadLedgers(tx: Tx, given: Given): Promise<Ledgers> {
  const moved = Map.groupBy(given.moves, ledgerKey);
  const reckoned = given.lots.filter((one) => moved.has(ledgerKey(one)) || given.inQuestion.has(ledgerKey(one)));
  const drafts = reckoned.map(({ owner, lot, body }) => ({
    ...{ owner, lot, contents: contentsOfLot(lot, body, given.editionsOf), moves: moved.get(`${owner} ${lot}`) ?? [] },
  }));
  const demands = demandsOf(given.requests);
  const sums = Map.groupBy(await sumUses(tx, drafts), ledgerKey);
  const exact = drafts.filter((draft) => {
    const key = ledgerKey(draft);
    const hasCount = draft.moves.some((move) => move.what === 'count');
    const taken = [...(sums.get(key) ?? []), ...(demands.get(key) ?? [])];
    return given.inQuestion.has(key) || hasCount || !isEnough(draft, taken);
  });
  const uses = Map.groupBy(await readUses(tx, exact), ledgerKey);
  const isExact = new Set(exact.map(ledgerKey));
  return new Map(
    drafts.map(({ contents, moves, ...lot }) => {
      const key = ledgerKey(lot);
      return [key, { contents, moves, uses: isExact.has(key) ? (uses.get(key) ?? []) : null }];
    }),
  );
}

export function contentsOfLot(
  lot: string,
  { part, madeAt }: LotBody,
  editionsOf: (maker: string) => readonly Effective[],
): Contents {
  return contentsOf(part, madeAt === undefined ? null : parseTime(madeAt).to, editionsOf(lotNamed(lot).maker));
}

/** What a fact leaves in the ledgers of its owner: the next request of the batch draws on what is left. */
export function enterStock(
  ledgers: Ledgers,
  owner: string,
  entry: {
    readonly replaces: string | null;
    readonly uses: readonly (Use & { readonly lot: string })[];
    readonly move: (Move & { readonly lot: string }) | null;
  },
): void {
  const { replaces, uses, move } = entry;
  if (replaces !== null) {
    for (const [key, ledger] of withoutUses(ledgers, replaces)) ledgers.set(key, ledger);
  }
  for (const { lot, ...use } of uses) {
    const ledger = ledgers.get(ledgerKey({ owner, lot }));
    if (ledger?.uses != null) ledgers.set(ledgerKey({ owner, lot }), { ...ledger, uses: [...ledger.uses, use] });
  }
  if (move === null) return;
  const ledger = ledgers.get(ledgerKey({ owner, lot: move.lot }));
  if (ledger !== undefined)
    ledgers.set(ledgerKey({ owner, lot: move.lot }), { ...ledger, moves: [...ledger.moves, move] });
}

/** As if these records had taken nothing. */
export function withoutUses(ledgers: Ledgers, ...facts: readonly string[]): Ledgers {
  return new Map(
    [...ledgers].map(([key, ledger]) => [
      key,
      { ...ledger, uses: ledger.uses?.filter((use) => !facts.includes(use.fact)) ?? null },
    ]),
  );
}

export function moveOf(row: MoveRow, at: string): (Move & { readonly lot: string }) | null {
  if (row.lot_maker === null || row.lot_number === null) return null;
  return {
    ...{ lot: lotKey(String(row.lot_maker), String(row.lot_number)), at, shop: String(row.shop) },
    ...{ what: row.what as MoveKind, reference: String(row.reference), quantity: Number(row.quantity) },
    ...{ counts: row.counts as Move['counts'], item: row.item === null ? null : String(row.item) },
    loose: row.loose === null ? [] : (JSON.parse(String(row.loose)) as Move['loose']),
  };
}

/** The line of a record as its lot sees it. */
export function usedFrom(use: Draft['uses'][number], fact: string): (Use & { readonly lot: string })[] {
  if (use.lot_maker === null || use.lot_number === null) return [];
  return [
    {
      ...{ lot: lotKey(String(use.lot_maker), String(use.lot_number)), fact, shop: String(use.shop) },
      ...{ at: String(use.performed_to), reference: String(use.reference) },
      ...{ item: String(use.item), quantity: Number(use.quantity) },
    },
  ];
}

export function serialOf(use: Draft['uses'][number], owner: string, fact: string): SerialUse[] {
  if (use.serial_maker === null || use.serial_key === null) return [];
  return [
    {
      ...{ owner, fact, serialMaker: String(use.serial_maker), serialKey: String(use.serial_key) },
      ...{ unit: String(use.unit_id), place: String(use.place) },
    },
  ];
}

type Taken = { readonly shop: string; readonly item: string; readonly quantity: number };

/** What the requests of the batch would take, all together, whatever becomes of them. */
function demandsOf(requests: readonly Request[]): Map<string, (LotOf & Taken)[]> {
  const all = requests.flatMap((request) => {
    const work = workIn(request);
    if (work === null) return [];
    const { body } = work;
    const fitted = 'fitted' in body ? body.fitted.map((one) => ({ ...one, item: one.element })) : [];
    const seals = 'seals' in body ? body.seals.map((one) => ({ ...one, item: one.seal })) : [];
    return [...fitted, ...seals].flatMap(({ item, lot: ref, quantity }) => {
      const lot = lotKeyOf(ref, makerOf(work));
      return lot === null || isUnknown(item) ? [] : [{ owner: request.owner, lot, shop: body.shop, item, quantity }];
    });
  });
  return Map.groupBy(all, ledgerKey);
}

function workIn(request: Request): Request<RecordKind> | null {
  if (isWork(request)) return request;
  if (request.kind === 'judgement') return workIn(request.work);
  const work = request.kind === 'correction' ? correctedWork(request) : null;
  return work !== null && isWork(work) ? work : null;
}

/** Without counts, what there is of an item doesn't depend on what was used. */
function isEnough({ contents, moves }: Omit<Ledger, 'uses'>, taken: readonly Taken[]): boolean {
  return [...new Set(moves.map((move) => move.shop))].every((shop) => {
    const supply = supplyOf({ contents, moves, uses: [] }, shop);
    if (supply === null) return true;
    const used = new Map<string, number>();
    for (const one of taken.filter((line) => line.shop === shop)) {
      const item = drawnAs(contents, one.item);
      used.set(item, (used.get(item) ?? 0) + one.quantity);
    }
    return [...used].every(([item, quantity]) => quantity <= (supply.get(item) ?? 0));
  });
}
