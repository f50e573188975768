/** What a request needs loaded before it can be decided. */

import type { RecordKind } from '../../core/catalogue/edition.ts';
import type { UnitKind } from '../../core/history/event.ts';
import type { IdentityBody } from '../../core/records/bodies.ts';
import type { LifeKind } from '../../core/records/life-bodies.ts';
import { lotKey, lotKeyOf } from '../../core/records/lot-name.ts';
import { nameKey } from '../../core/records/name-key.ts';
import type { LotRef, UnitRef } from '../../core/records/parts.ts';
import { parseTime } from '../../core/time/instant.ts';
import type { SerialSought } from '../../store/sql/find-parts.ts';
import type { NameSought } from '../../store/sql/find-units.ts';
import type { StockKind } from '../../store/sql/read-stock.ts';
import { serialOf } from '../derived/part-use-rows.ts';
import { type Frame, isLife, isWork, type Request } from './request.ts';

export type Wants = {
  readonly names: readonly NameSought[];
  readonly people: readonly string[];
  readonly stock: readonly { readonly kind: StockKind; readonly key: string }[];
  readonly edition: { readonly maker: string; readonly edition: string } | null;
  /** The edition of a maker that was the newest in effect at a time. */
  readonly editionAt?: { readonly maker: string; readonly at: string };
  readonly reference: { readonly kind: string; readonly reference: string } | null;
  readonly record: string | null;
  /** Of which maker. */
  readonly terms?: string;
  /** Units by id. */
  readonly units?: readonly string[];
  /** Parts with a serial that are fitted. */
  readonly serials?: readonly Omit<SerialSought, 'owner'>[];
};

const nothing: Wants = { names: [], people: [], stock: [], edition: null, reference: null, record: null };

export function wantsOf(request: Request): Wants {
  if (isWork(request)) return workWants(request);
  if (isLife(request)) return lifeWants(request);
  switch (request.kind) {
    case 'registration':
      return registrationWants(request);
    case 'disposition':
      return {
        ...nothing,
        record: request.record,
        reference: { kind: request.kind, reference: request.body.reference },
      };
    case 'correction': {
      const work = correctedWork(request);
      return { ...(work === null ? nothing : wantsOf(work)), record: request.record, reference: null };
    }
    case 'identity':
      return identityWants(request);
    case 'judgement':
      return { ...wantsOf(request.work), record: request.record, reference: null };
    case 'lot':
      return { ...nothing, stock: [{ kind: 'lot', key: lotKey(request.maker, request.number) }] };
    case 'intake':
    case 'scrapping':
    case 'return':
    case 'count':
      return {
        ...nothing,
        stock: [
          { kind: 'lot', key: lotKey(request.maker, request.number) },
          { kind: 'shop', key: request.body.shop },
        ],
        reference: { kind: request.kind, reference: request.body.reference },
      };
    case 'restocking':
      return {
        ...nothing,
        stock: [
          { kind: 'shop', key: request.body.shop },
          ...lots(request.body.lot).map((key) => ({ kind: 'lot' as const, key })),
        ],
        record: request.body.record,
        reference: { kind: request.kind, reference: request.body.reference },
      };
    case 'containment':
      return { ...nothing, reference: { kind: request.kind, reference: request.body.reference } };
    case 'containment-progress':
      return {
        ...nothing,
        record: request.containment,
        units: [request.body.unit],
        reference: { kind: request.kind, reference: request.body.reference },
      };
    case 'containment-lift':
      // Nothing is lifted twice: the claim is on what is.
      return {
        ...nothing,
        record: request.containment,
        reference: { kind: request.kind, reference: request.containment },
      };
    case 'containment-unit':
      return {
        ...nothing,
        record: request.containment,
        units: [request.unit],
        reference: { kind: request.kind, reference: containedOnce(request) },
      };
    case 'edition':
      return { ...nothing, edition: { maker: request.maker, edition: request.edition } };
    case 'technician':
      return { ...nothing, people: [request.id], stock: [{ kind: 'technician', key: request.id }] };
    case 'instrument':
      return {
        ...nothing,
        stock: [
          { kind: 'instrument', key: request.id },
          ...(request.body.shop === undefined ? [] : [{ kind: 'shop' as const, key: request.body.shop }]),
        ],
      };
    case 'calibration':
    case 'interim-check':
    case 'incident':
      return {
        ...nothing,
        stock: [{ kind: 'instrument', key: request.instrument }],
        reference: { kind: request.kind, reference: request.body.reference },
      };
    case 'instrument-void':
      // Nothing is made void twice: the claim is on what is.
      return {
        ...nothing,
        stock: [{ kind: 'instrument', key: request.instrument }],
        reference: { kind: request.kind, reference: request.body.record },
      };
    case 'attachment':
      return { ...nothing, stock: [{ kind: 'attachment', key: request.id }] };
    case 'shop':
      return { ...nothing, stock: [{ kind: 'shop', key: request.id }] };
    case 'erasure':
      return nothing;
    case 'authorisation': {
      const { reference, attachment } = request.body;
      return {
        ...nothing,
        people: [request.technician],
        stock: attachment === undefined ? [] : [{ kind: 'attachment', key: attachment }],
        reference: { kind: request.kind, reference },
      };
    }
    case 'authorisation-withdrawal':
    case 'approval-withdrawal':
      return {
        ...nothing,
        record: request.kind === 'approval-withdrawal' ? request.approval : request.authorisation,
        reference: { kind: request.kind, reference: request.body.reference },
      };
    case 'claim':
      return claimWants(request);
    case 'claim-evidence': {
      const { reference, shop, technician, attachments } = request.body;
      return {
        ...nothing,
        people: stated(technician),
        stock: claimStock(shop, attachments),
        record: request.claim,
        reference: { kind: request.kind, reference },
      };
    }
    case 'claim-decision':
      return {
        ...nothing,
        record: request.claim,
        reference: { kind: request.kind, reference: request.body.reference },
      };
    case 'terms':
      return { ...nothing, terms: request.maker };
    case 'approval':
      return { ...nothing, reference: { kind: request.kind, reference: request.body.reference } };
  }
}

/** A unit comes under a containment once, and out of it once. */
export function containedOnce({ containment, unit, is }: Omit<Request<'containment-unit'>, keyof Frame>): string {
  return `${containment} ${unit} ${is}`;
}

function identityWants({ body }: Request<'identity'>): Wants {
  const { kind, ref } = unitMeant(body);
  const other = otherOf(body);
  const given = [
    ...('serial' in body && body.serial !== undefined ? [{ maker: ref.maker, serial: body.serial }] : []),
    ...('tag' in body && body.tag !== undefined ? [{ maker: ref.maker, tag: body.tag }] : []),
  ];
  return {
    ...nothing,
    names: [
      named(kind, ref),
      ...(other === null ? [] : [named(other.kind, other.ref)]),
      ...given.map((name) => named(kind, name)),
    ],
    people: stated(body.technician),
    stock: [{ kind: 'shop', key: body.shop }],
    reference: { kind: 'identity', reference: body.reference },
  };
}

function lifeWants(request: Request<LifeKind>): Wants {
  const { kind, ref } = unitMeant(request.body);
  const { body } = request;
  const { from, to, tag } = request.kind === 'movement' ? request.body : {};
  const shops = [body.shop, ...[from, to].flatMap((where) => (typeof where === 'object' ? [where.shop] : []))];
  return {
    ...nothing,
    names: [named(kind, ref), ...(tag === undefined ? [] : [named('control', { maker: ref.maker, tag })])],
    people: stated(body.technician),
    stock: [
      ...shops.map((key) => ({ kind: 'shop' as const, key })),
      ...body.attachments.map((key) => ({ kind: 'attachment' as const, key })),
    ],
    ...(request.kind === 'start-up' && { editionAt: { maker: ref.maker, at: parseTime(body.performedAt).to } }),
    reference: { kind: request.kind, reference: body.reference },
  };
}

function claimWants(request: Request<'claim'>): Wants {
  const { body } = request;
  const { kind, ref } = unitMeant(request.body);
  return {
    ...nothing,
    names: [named(kind, ref)],
    people: stated(body.technician),
    stock: claimStock(body.shop, body.attachments),
    editionAt: { maker: ref.maker, at: parseTime(body.performedAt).to },
    record: body.replaces ?? null,
    reference: { kind: request.kind, reference: body.reference },
  };
}

function claimStock(shop: string, attachments: readonly string[]): Wants['stock'] {
  return [{ kind: 'shop', key: shop }, ...attachments.map((key) => ({ kind: 'attachment' as const, key }))];
}

type Meant = { readonly pump?: UnitRef | undefined; readonly control?: UnitRef | undefined };

/** The unit that a body speaks of: where it names both, the pump. */
export function unitMeant({ pump, control }: Meant): { readonly kind: UnitKind; readonly ref: UnitRef } {
  if (pump !== undefined) return { kind: 'pump', ref: pump };
  if (control === undefined) throw new Error('a body that names no unit was let through');
  return { kind: 'control', ref: control };
}

/** The other unit that is named, and by which member. */
export function otherOf(body: IdentityBody) {
  if (body.what === 'exchanged') return { member: 'control', kind: 'control' as const, ref: body.control };
  return body.what === 'merged' ? { member: 'with', kind: unitMeant(body).kind, ref: body.with } : null;
}

/** What stands in the place of the corrected record, as if it were recorded now; null: nothing does. */
export function correctedWork(request: Request<'correction'>): Request<RecordKind | LifeKind> | null {
  const { body, record: _, ...frame } = request;
  if (body.kind === 'void') return null;
  const { kind } = body;
  const sent = (request.sent as { body: unknown }).body;
  return { ...frame, kind, body: body.body, sent } as Request<RecordKind | LifeKind>;
}

function workWants(request: Request<RecordKind>): Wants {
  const { body } = request;
  const maker = makerOf(request);
  const fitted = 'fitted' in body ? body.fitted : [];
  const removed = 'removed' in body ? body.removed : [];
  const seals = 'seals' in body ? body.seals : [];
  const torques = 'torques' in body ? body.torques : [];
  const readings = [...torques, ...body.settings, ...body.measurements];
  const items = [...fitted, ...removed, ...seals, ...readings, ...body.checks];
  const instruments = [...readings.map((one) => one.instrument), ...body.settings.flatMap((one) => one.second ?? [])];
  const lots = [...fitted, ...seals].map((one) => one.lot);
  return {
    names: [
      ...(body.control === undefined ? [] : [named('control', body.control)]),
      ...(body.pump === undefined ? [] : [named('pump', body.pump)]),
      ...('tag' in body && body.tag !== undefined ? [named('control', { maker, tag: body.tag })] : []),
    ],
    people: [body.technician, ...items.map((one) => one.by)].flatMap(stated),
    stock: [
      { kind: 'shop', key: body.shop },
      ...instruments.flatMap(stated).map((key) => ({ kind: 'instrument' as const, key })),
      ...body.attachments.map((key) => ({ kind: 'attachment' as const, key })),
      ...lots.flatMap((lot) => lotKeyOf(lot, maker) ?? []).map((key) => ({ kind: 'lot' as const, key })),
    ],
    edition: { maker, edition: body.edition },
    reference: { kind: request.kind, reference: body.reference },
    record: null,
    serials: fitted.flatMap(({ serial, lot }) => serialSought(serial, lot, maker)),
  };
}

function serialSought(serial: string | undefined, lot: LotRef | undefined, maker: string) {
  const { serial_maker: serialMaker, serial_key: serialKey } = serialOf(serial, lot, maker);
  return typeof serialMaker === 'string' && typeof serialKey === 'string' ? [{ serialMaker, serialKey }] : [];
}

function registrationWants(request: Request<'registration'>): Wants {
  const { body, maker } = request;
  const own = named(request.of, { maker, serial: request.serial });
  const control = request.of === 'pump' ? request.body.control?.serial : undefined;
  return {
    ...nothing,
    names: [own, ...(control === undefined ? [] : [named('control', { maker, serial: control })])],
    people: stated(body.technician),
    stock: body.shop === undefined ? [] : [{ kind: 'shop', key: body.shop }],
    edition: { maker, edition: body.edition },
  };
}

/** The maker whose catalogue a record is judged by: the maker of its unit. */
export function makerOf({ body }: Request<RecordKind>): string {
  return (body.control ?? body.pump)?.maker ?? '';
}

function named(unitKind: UnitKind, ref: UnitRef): NameSought {
  return { maker: ref.maker, unitKind, nameKey: nameKey('serial' in ref ? ref.serial : ref.tag) };
}

function stated(id: unknown): string[] {
  return typeof id === 'string' ? [id] : [];
}

function lots(lot: { readonly maker: string; readonly number: string } | undefined): string[] {
  return lot === undefined ? [] : [lotKey(lot.maker, lot.number)];
}
