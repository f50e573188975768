/**
 * What a batch has loaded, and what it has decided since: a later request of the batch sees what an earlier one left.
 * Every look-up goes by owner and id, because the transaction can see every organisation of the batch.
 */
import type { Edition } from '../../core/catalogue/edition.ts';
import type { UnitEvent, UnitKind } from '../../core/history/event.ts';
import { eventsAt, fold, type UnitState } from '../../core/history/fold.ts';
import type { Known } from '../../core/judge/case.ts';
import { nameKey } from '../../core/records/name-key.ts';
import type { UnitRef } from '../../core/records/parts.ts';
import type { InstrumentBody, LotBody } from '../../core/records/stock-bodies.ts';
import type { SerialUse } from '../../store/sql/find-parts.ts';
import type { UnitName } from '../../store/sql/find-units.ts';
import type { Head } from '../../store/sql/lock-heads.ts';
import type { KeyRow, ReferenceRow } from '../../store/sql/read-claims.ts';
import type { EditionRow } from '../../store/sql/read-editions.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import type { InstrumentEventRow } from '../../store/sql/read-instrument-events.ts';
import type { ApprovalRow, AuthorisationRow } from '../../store/sql/read-leave.ts';
import type { SealedRow } from '../../store/sql/read-sealed.ts';
import type { PersonRow, StockKind, StockRow } from '../../store/sql/read-stock.ts';
import type { ClaimRow, TermsRow } from '../../store/sql/read-warranty.ts';
import { eventsThatCount } from '../derived/instrument-event-row.ts';
import { approvalOf, authorisationOf } from '../derived/leave-rows.ts';
import type { LoadedLots } from './load-lots.ts';

export type Loaded = LoadedLots & {
  /** The database's clock, read under the locks. */
  readonly now: string;
  readonly keys: readonly KeyRow[];
  readonly references: readonly ReferenceRow[];
  readonly names: readonly UnitName[];
  readonly heads: Map<string, Head>;
  readonly events: Map<string, UnitEvent[]>;
  readonly people: readonly PersonRow[];
  /** Of people and shops that requests name, as far as editions at hand ask for them. */
  readonly instrumentEvents: readonly InstrumentEventRow[];
  readonly authorisations: readonly AuthorisationRow[];
  readonly approvals: readonly ApprovalRow[];
  /** Claims that requests of this batch are about or correct, and those that correct them. */
  readonly claims: readonly ClaimRow[];
  /** Every version of the makers that state some. */
  readonly terms: readonly TermsRow[];
  readonly editions: readonly EditionRow[];
  readonly contents: ReadonlyMap<string, Edition>;
  /** What receipts are made of, of facts that requests of this batch may state again. */
  readonly sealed: readonly SealedRow[];
  /** Records that requests of this batch are about, as their owner sees them. */
  readonly records: readonly FactRow[];
  /** Of records that are judged again: their last judgement, where it is not their own. */
  readonly judgedLast: ReadonlyMap<string, string>;
  /** Where parts went that have a serial which a record of this batch fits. */
  readonly serialUses: SerialUse[];
  readonly unitsOfRecords: readonly { readonly fact: string; readonly unit: string }[];
  /** Where records were made that say where a unit is, or that are held for it; as far as the batch's owners see them. */
  readonly places: Map<string, Place>;
  /** Of a record that is judged again, or replaced: the events by which each unit was first told of it. */
  readonly firstSaid?: ReadonlyMap<string, Pick<UnitEvent, 'seq' | 'recordedAt'>>;
  readonly registrations: readonly {
    readonly owner: string;
    readonly unit: string;
    readonly fingerprint: string;
    readonly answer: string;
  }[];
};

export type Place = { readonly owner: string; readonly shop: string };

/** Where the record was made; of a correction, what stands in the place of the record. */
export function placeOf(owner: string, statement: unknown): Place[] {
  const { shop, body } = statement as { shop?: unknown; body?: { shop?: unknown } };
  const stated = shop ?? body?.shop;
  return typeof stated === 'string' ? [{ owner, shop: stated }] : [];
}

export function unitNamed(loaded: Loaded, kind: UnitKind, ref: UnitRef): string | null {
  const key = nameKey('serial' in ref ? ref.serial : ref.tag);
  const name = loaded.names.find((one) => one.unitKind === kind && one.maker === ref.maker && one.nameKey === key);
  return name?.unit ?? null;
}

/** What a tag leads to already: the unit, and how it is called; null: it is free. */
export function tagHolder(loaded: Loaded, maker: string, tag: string): { unit: string; name: string } | null {
  const unit = unitNamed(loaded, 'control', { maker, tag });
  return unit === null ? null : { unit, name: nameOfUnit(loaded, unit) ?? tag };
}

/** The state of a unit just before work whose interval ends at `performedTo`, with all that is known. */
export function stateBefore(loaded: Loaded, unit: string, performedTo: string): UnitState {
  return fold(unit, eventsAt(loaded.events.get(unit) ?? [], performedTo, null));
}

/** The serial as written, else the tag; null for a control that is known by its pump alone. */
export function nameOfUnit(loaded: Loaded, unit: string): string | null {
  const names = loaded.names.filter((one) => one.unit === unit);
  return (names.find((one) => one.nameKind === 'serial') ?? names[0])?.asWritten ?? null;
}

export function editionOf(loaded: Loaded, maker: string, edition: string): Edition | null {
  return loaded.contents.get(`${maker}/${edition}`) ?? null;
}

/** The edition that was newest in effect at an instant. */
export function newestEdition(editions: readonly EditionRow[], maker: string, at: string): string | null {
  const inEffect = editions.filter((one) => one.maker === maker && one.effectiveFrom <= at);
  return inEffect.at(-1)?.edition ?? null;
}

export function stockItem(loaded: Loaded, owner: string, kind: StockKind, key: string): StockRow | null {
  return loaded.stock.find((one) => one.owner === owner && one.kind === kind && one.key === key) ?? null;
}

/** The fact of this owner and kind that has the reference already; null: it is free. */
export function referenceUsedBy(
  loaded: Loaded,
  { owner, kind }: { readonly owner: string; readonly kind: string },
  reference: string,
): string | null {
  const used = loaded.references.find((one) => one.owner === owner && one.kind === kind && one.reference === reference);
  return used?.fact ?? null;
}

/** What this owner has stated of its stock and people. */
export function knownTo(loaded: Loaded, owner: string): Known {
  const own = loaded.stock.filter((one) => one.owner === owner);
  const of = (kind: StockKind) => own.filter((one) => one.kind === kind);
  return {
    approvals: loaded.approvals.filter((one) => one.owner === owner).map(approvalOf),
    attachments: new Set(of('attachment').map((one) => one.key)),
    shops: new Set(of('shop').map((one) => one.key)),
    technicians: new Map(
      loaded.people
        .filter((one) => one.owner === owner)
        .map((one) => [
          one.ownId,
          {
            id: one.id,
            subject: one.subject,
            authorisations: loaded.authorisations
              .filter((given) => given.owner === owner && given.person === one.id)
              .map(authorisationOf),
          },
        ]),
    ),
    instruments: new Map(
      of('instrument').map((one) => [
        one.key,
        {
          fact: one.fact,
          statement: JSON.parse(one.statement) as InstrumentBody,
          events: eventsThatCount(
            loaded.instrumentEvents.filter((event) => event.owner === owner && event.instrument === one.key),
          ),
        },
      ]),
    ),
    lots: new Map(
      of('lot').map((one) => [one.key, { fact: one.fact, statement: JSON.parse(one.statement) as LotBody }]),
    ),
  };
}
