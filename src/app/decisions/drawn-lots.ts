/** How the lots of a record stand at its shop, with what it takes; and where else parts with its serials are. */

import { effectiveEvents } from '../../core/history/effective-events.ts';
import type { UnitEvent } from '../../core/history/event.ts';
import { endOf, orderEvents } from '../../core/history/order-events.ts';
import type { Case, JudgedRecord } from '../../core/judge/case.ts';
import { touchedBy } from '../../core/judge/make-case.ts';
import { lotNamed } from '../../core/records/lot-name.ts';
import { drawnAs } from '../../core/stock/contents.ts';
import { balanceOf, type Ledger, type Overdrawn, overdrawnBy } from '../../core/stock/ledger.ts';
import type { Touched } from '../judging/touched.ts';
import type { Draft } from '../recording/draft.ts';
import { type LoadedLedger, ledgerKey, usedFrom } from '../recording/ledgers.ts';
import { type Loaded, nameOfUnit } from '../recording/loaded.ts';

type Drawing = {
  readonly owner: string;
  readonly fact: string;
  readonly shop: string;
  readonly uses: Draft['uses'];
};

/** The record's own lines are counted once, also where it is judged again. */
export function standingOfLots({ owner, fact, shop, uses }: Drawing, loaded: Loaded): Case['stock'] {
  const own = Map.groupBy(
    uses.flatMap((use) => usedFrom(use, fact)),
    (use) => use.lot,
  );
  return new Map(
    [...own].flatMap(([lot, lines]): [string, readonly Overdrawn[]][] => {
      const ledger = loaded.ledgers.get(ledgerKey({ owner, lot }));
      if (ledger === undefined || balanceOf(withUses(ledger), shop) === null) return [];
      const over = overdrawnBy(withUses(ledger, fact, lines), shop).get(fact) ?? [];
      // By the names that the record has for what it took.
      const named = lines.map(({ item }) => ({ item, as: drawnAs(ledger.contents, item) }));
      return [
        [lot, named.flatMap(({ item, as }) => over.filter((one) => one.item === as).map((one) => ({ ...one, item })))],
      ];
    }),
  );
}

/** The lots of which other records took what wasn't there, now that this one is there too, or did before and don't now. */
export function lotsShifted({ owner, fact, shop, uses }: Drawing, loaded: Loaded): Touched[] {
  const own = Map.groupBy(
    uses.flatMap((use) => usedFrom(use, fact)),
    (use) => use.lot,
  );
  return [...own].flatMap(([lot, lines]): Touched[] => {
    const ledger = loaded.ledgers.get(ledgerKey({ owner, lot }));
    if (ledger?.uses == null) return [];
    const without = overdrawnBy(withUses(ledger, fact), shop);
    const withIt = new Map(overdrawnBy(withUses(ledger, fact, lines), shop));
    withIt.delete(fact);
    return isSame(without, withIt) ? [] : [lotTouched(lot)];
  });
}

export function lotTouched(lot: string): Touched {
  return { what: 'lot', ...lotNamed(lot) };
}

/** Without what this record is kept with, and with these lines in its place. */
function withUses(ledger: LoadedLedger, fact = '', lines: Ledger['uses'] = []): Ledger {
  return { ...ledger, uses: [...(ledger.uses ?? []).filter((use) => use.fact !== fact), ...lines] };
}

type Found = ReadonlyMap<string, readonly Overdrawn[]>;

function isSame(a: Found, b: Found): boolean {
  const said = (found: Found) =>
    [...found]
      .map(([fact, over]) => `${fact} ${over.map((one) => one.item).join(' ')}`)
      .sort()
      .join();
  return said(a) === said(b);
}

type Fitting = {
  readonly owner: string;
  readonly fact: string;
  readonly record: Pick<JudgedRecord, 'removed' | 'fitted'>;
  readonly at: string;
  /** By line of `fitted`, as `part_uses` has them. */
  readonly uses: Draft['uses'];
  /** What comes after the record on each of its units. */
  readonly later: ReadonlyMap<string, readonly UnitEvent[]>;
};

/** Of each fitted line with a serial that is somewhere else while it is there: where. */
export function serialsElsewhere({ owner, fact, record, at, uses, later }: Fitting, loaded: Loaded): Case['twice'] {
  const elements = uses.filter((use) => use.role === 'element');
  const lines = record.fitted
    .map((line, index) => ({ line, index }))
    .filter(({ line }) => typeof line.element === 'string');
  return new Map(
    lines.flatMap(({ index }, nth): [number, string][] => {
      const own = elements[nth];
      if (own === undefined || own.serial_key === null) return [];
      const isSamePart = (use: { serialMaker: string; serialKey: string }) =>
        use.serialMaker === own.serial_maker && use.serialKey === own.serial_key;
      const unit = String(own.unit_id);
      const until = firstChange(later.get(unit) ?? [], String(own.place));
      const twin = elements.find(
        (one, other) => other < nth && one.serial_key === own.serial_key && one.serial_maker === own.serial_maker,
      );
      if (twin !== undefined) return [[index, `${twin.place} by the same record`]];
      const other = loaded.serialUses.find((use) => {
        if (use.owner !== owner || use.fact === fact || !isSamePart(use)) return false;
        const stay = stayOf(use, loaded);
        // What the record itself takes out of there isn't there any more.
        const takesOut = later.has(use.unit) && touchedBy(record).includes(use.place);
        const end = takesOut && stay !== null && stay.from <= at ? at : (stay?.until ?? null);
        return stay !== null && isBefore(at, end) && isBefore(stay.from, until);
      });
      return other === undefined
        ? []
        : [[index, `${other.place} of ${nameOfUnit(loaded, other.unit) ?? 'another unit'}`]];
    }),
  );
}

/** From when until when it was there; null: the record that put it there doesn't count any more. */
function stayOf({ unit, fact, place }: Loaded['serialUses'][number], loaded: Loaded) {
  const ordered = orderEvents(effectiveEvents(loaded.events.get(unit) ?? []));
  const at = ordered.findIndex((event) => event.fact === fact);
  const event = ordered[at];
  if (event === undefined) return null;
  return { from: endOf(event), until: firstChange(ordered.slice(at + 1), place) };
}

function firstChange(later: readonly UnitEvent[], place: string): string | null {
  const changing = later.find((event) => event.effect.changed?.[place] !== undefined);
  return changing === undefined ? null : endOf(changing);
}

function isBefore(time: string, end: string | null): boolean {
  return end === null || time < end;
}
