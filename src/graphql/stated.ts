/**
 * What a record states, read from its statement, which is kept as it was sent: what a schema fills in on the way in is
 * filled in again here. A record of a kind without a list has none of it.
 */

import { decimalOf } from '../core/quantity/decimal.ts';
import type { Quantity } from '../core/quantity/quantity.ts';
import type { LotName } from '../core/records/lot-name.ts';
import type {
  FittedParent,
  NamedQuantityView,
  NamedView,
  SealParent,
  SettingReadingParent,
  TorqueParent,
} from './parents.ts';
import { having, type RecordSeen } from './record-parts.ts';

type Members = Readonly<Record<string, unknown>>;

/** The body of the record: of a correction the one that stands in place of what it replaces, or nothing. */
export function bodyOf({ kind, statement }: RecordSeen): Members {
  const stated = statement as Members;
  return kind === 'correction' ? ((stated['body'] as Members | undefined) ?? {}) : stated;
}

/** A text of the body; null where it is not said. */
export function textIn(record: RecordSeen, name: string): string | null {
  const value = bodyOf(record)[name];
  return typeof value === 'string' ? value.trim() : null;
}

/** By the shop's own id, or, once that is forgotten, by the service's. To the maker's people nobody is named. */
export function technicianOf(record: RecordSeen): NamedView | null {
  const said = bodyOf(record)['technician'];
  if (said === undefined) return null;
  const named = namedBy(said);
  if (named.id === null) return named;
  const ownId = having(record, 'people').people[named.id];
  return ownId === undefined ? null : { id: ownId, unknown: null };
}

export function torquesOf(record: RecordSeen): TorqueParent[] {
  return listIn(record, 'torques').map((one, index) => ({
    ...{ record, at: `/torques/${index}` },
    joint: one['joint'] as string,
    how: one['how'] as string,
    readings: [one['reading']].flat().map(quantityOf),
    instrument: namedBy(one['instrument']),
  }));
}

export function settingsRead(record: RecordSeen): SettingReadingParent[] {
  return listIn(record, 'settings').flatMap((one, index) =>
    one['reading'] === undefined
      ? []
      : [
          {
            ...{ record, at: `/settings/${index}` },
            setting: one['setting'] as string,
            reading: quantityOf(one['reading']),
            instrument: namedBy(one['instrument']),
            conditions: conditionsOf(one),
          },
        ],
  );
}

export function checksOf(record: RecordSeen) {
  return listIn(record, 'checks').map((one) => ({
    check: one['check'] as string,
    result: one['result'] as string,
    value: one['value'] === undefined ? null : quantityOf(one['value']),
    reason: (one['reason'] as string | undefined) ?? null,
  }));
}

export function measurementsOf(record: RecordSeen) {
  return listIn(record, 'measurements').map((one) => ({
    measured: one['measured'] as string,
    reading: quantityOf(one['reading']),
    instrument: namedBy(one['instrument']),
    conditions: conditionsOf(one),
  }));
}

export function removedIn(record: RecordSeen) {
  return listIn(record, 'removed').map((one) => ({
    station: one['station'] as string,
    element: namedBy(one['element']),
    quantity: quantityIn(one),
  }));
}

export function fittedIn(record: RecordSeen): FittedParent[] {
  return listIn(record, 'fitted').map((one) => ({
    station: one['station'] as string,
    element: namedBy(one['element']),
    quantity: quantityIn(one),
    lot: lotIn(one, record),
  }));
}

export function sealsIn(record: RecordSeen): SealParent[] {
  return listIn(record, 'seals').map((one) => ({
    joint: one['joint'] as string,
    seal: namedBy(one['seal']),
    quantity: quantityIn(one),
    lot: lotIn(one, record),
  }));
}

/** What was sent under this name, where it is a list: what is a list in one kind of record may be something else in another. */
function listIn(record: RecordSeen, name: string): Members[] {
  const value = bodyOf(record)[name];
  return Array.isArray(value) ? (value as Members[]) : [];
}

export function namedBy(value: unknown): NamedView {
  if (typeof value === 'string') return { id: value.trim(), unknown: null };
  const why = (value as Members | null | undefined)?.['unknown'];
  return { id: null, unknown: typeof why === 'string' ? why : null };
}

/** A number was taken for its shortest decimal. */
function quantityOf(sent: unknown): Quantity {
  const { value, unit } = sent as { value: string | number; unit: Quantity['unit'] };
  return { value: typeof value === 'number' ? decimalOf(value) : value, unit };
}

function conditionsOf(one: Members): NamedQuantityView[] {
  return Object.entries((one['conditions'] as Members | undefined) ?? {}).map(([name, sent]) => ({
    name,
    quantity: quantityOf(sent),
  }));
}

function quantityIn(one: Members): number {
  return (one['quantity'] as number | undefined) ?? 1;
}

/** A number alone is that of the maker of the unit. */
function lotIn({ lot }: Members, { maker }: RecordSeen): LotName | null {
  if (typeof lot === 'string') return maker === null ? null : { maker, number: lot.trim() };
  const { maker: other, number } = (lot ?? {}) as Members;
  return typeof other === 'string' && typeof number === 'string' ? { maker: other, number: number.trim() } : null;
}
