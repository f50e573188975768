/** What sat in a unit at a time, station by station, with where each piece came from. */
import type { Content } from '../fit/fit.ts';
import type { Contradiction, UnitState } from '../history/fold.ts';
import { lotKeyOf } from '../records/lot-name.ts';
import { isUnknown } from '../records/parts.ts';
import type { Interval } from '../time/instant.ts';
import type { TracedRecord } from './record.ts';

export type Piece = {
  readonly element: string | { readonly unknown: string };
  readonly quantity: number;
  /** MAKER/NUMBER, or why it isn't known; null: nothing was said of a lot. */
  readonly lot: string | { readonly unknown: string } | null;
  readonly serial: string | null;
};

/** The record that put it there, or that first saw it there. What its reader may not see is null. */
export type Origin = {
  readonly record: string | null;
  readonly kind: string | null;
  readonly performed: Interval | null;
  readonly distributor: string | null;
  readonly shop: string | null;
  readonly technician: TracedRecord['technician'];
  readonly edition: string | null;
  readonly reference: string | null;
  /** The leaf of the record, as its receipt has it. */
  readonly entry: string | null;
  readonly pieces: readonly Piece[];
};

export type StationThen = {
  readonly station: string;
  readonly elements: Content['elements'];
  readonly basis: Content['basis'];
  readonly origin: Origin;
  /** Found otherwise by then although nothing recorded changed it. */
  readonly changedUnrecorded: { readonly before: string; readonly found: Content } | null;
};

export type Records = ReadonlyMap<string, TracedRecord>;

export function stationsThen(
  { stations }: Pick<UnitState, 'stations'>,
  {
    records,
    changed,
    maker,
  }: { readonly records: Records; readonly changed: readonly Contradiction[]; readonly maker: string },
): StationThen[] {
  return Object.entries(stations).map(([station, { elements, basis, record }]) => {
    const otherwise = changed.find((one) => one.station === station);
    return {
      ...{ station, elements, basis },
      origin: originOf(records.get(record), station, maker),
      changedUnrecorded: otherwise === undefined ? null : { before: otherwise.before, found: otherwise.found },
    };
  });
}

export function originOf(record: TracedRecord | undefined, station: string, maker: string): Origin {
  const nobody = { record: null, kind: null, performed: null, distributor: null, shop: null, technician: null };
  if (record === undefined) return { ...nobody, edition: null, reference: null, entry: null, pieces: [] };
  const { id, kind, performed, distributor, shop, technician, edition, reference, entry, lines } = record;
  const pieces = lines.fitted
    .filter((line) => line.station === station)
    .map((line) => ({
      element: line.element,
      quantity: line.quantity,
      lot: lotSaid(line.lot, maker),
      serial: line.serial ?? null,
    }));
  return { record: id, kind, performed, distributor, shop, technician, edition, reference, entry, pieces };
}

export function lotSaid(lot: Parameters<typeof lotKeyOf>[0], maker: string): Piece['lot'] {
  return isUnknown(lot) ? lot : lotKeyOf(lot, maker);
}
