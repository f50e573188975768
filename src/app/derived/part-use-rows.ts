/** What a record says went in where, by lot; when recording and when verifying. What isn't known by name is left out. */

import { onPump } from '../../core/catalogue/lookup.ts';
import type { ConversionBody } from '../../core/records/bodies.ts';
import { lotKeyOf, lotNamed } from '../../core/records/lot-name.ts';
import { nameKey } from '../../core/records/name-key.ts';
import { isUnknown, type LotRef } from '../../core/records/parts.ts';
import type { Row } from '../../store/sql/insert-rows.ts';

type UseRow = Omit<Row<'part_uses'>, 'owner' | 'fact' | 'line'>;

/** Of the record: where it belongs in the order in which its lots were drawn on. */
export type UseFrame = { readonly shop: string; readonly reference: string; readonly performedTo: string };

/** The control that was worked on, and the pump that it was on. */
export type WorkUnits = { readonly control: string; readonly pump: string | null };

export function partUseRows(
  { fitted, seals }: Pick<ConversionBody, 'fitted' | 'seals'>,
  maker: string,
  { control, pump }: WorkUnits,
  { shop, reference, performedTo }: UseFrame,
): UseRow[] {
  const holder = (place: string) => (place.startsWith(onPump) && pump !== null ? pump : control);
  const row = (role: string, place: string, item: string, quantity: number, lot: LotRef | undefined): UseRow => ({
    maker,
    unit_id: holder(place),
    role,
    place,
    item,
    quantity,
    ...{ ...lotOf(lot, maker), shop, reference, performed_to: performedTo },
    ...{ serial_maker: null, serial_key: null },
  });
  return [
    ...fitted.flatMap(({ station, element, quantity, lot, serial }) =>
      isUnknown(element)
        ? []
        : [{ ...row('element', station, element, quantity, lot), ...serialOf(serial, lot, maker) }],
    ),
    ...seals.flatMap(({ joint, seal, quantity, lot }) =>
      isUnknown(seal) ? [] : [row('seal', joint, seal, quantity, lot)],
    ),
  ];
}

/** A part is known by whoever made it and its serial: by the lot's maker, where the record names one. */
export function serialOf(
  serial: string | undefined,
  lot: LotRef | undefined,
  maker: string,
): Pick<UseRow, 'serial_maker' | 'serial_key'> {
  if (serial === undefined) return { serial_maker: null, serial_key: null };
  return { serial_maker: lotOf(lot, maker).lot_maker ?? maker, serial_key: nameKey(serial) };
}

function lotOf(lot: LotRef | undefined, maker: string): Pick<UseRow, 'lot_maker' | 'lot_number'> {
  const key = lotKeyOf(lot, maker);
  const named = key === null ? null : lotNamed(key);
  return { lot_maker: named?.maker ?? null, lot_number: named?.number ?? null };
}
