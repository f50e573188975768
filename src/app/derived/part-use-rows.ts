/** What a record says went in where, by lot; when recording and when verifying. What isn't known by name is left out. */
import { onPump } from '../../core/catalogue/lookup.ts';
import type { ConversionBody } from '../../core/records/bodies.ts';
import { isUnknown, type LotRef } from '../../core/records/parts.ts';
import { lotKeyOf } from '../../core/rules/unknown-id.ts';
import type { Row } from '../../store/sql/insert-rows.ts';

type UseRow = Omit<Row<'part_uses'>, 'owner' | 'fact' | 'line'>;

/** The control that was worked on, and the pump that it was on. */
export type WorkUnits = { readonly control: string; readonly pump: string | null };

export function partUseRows(
  { fitted, seals }: Pick<ConversionBody, 'fitted' | 'seals'>,
  maker: string,
  { control, pump }: WorkUnits,
): UseRow[] {
  const holder = (place: string) => (place.startsWith(onPump) && pump !== null ? pump : control);
  const row = (role: string, place: string, item: string, quantity: number, lot: LotRef | undefined): UseRow => ({
    maker,
    unit_id: holder(place),
    role,
    place,
    item,
    quantity,
    ...lotOf(lot, maker),
  });
  return [
    ...fitted.flatMap(({ station, element, quantity, lot }) =>
      isUnknown(element) ? [] : [row('element', station, element, quantity, lot)],
    ),
    ...seals.flatMap(({ joint, seal, quantity, lot }) =>
      isUnknown(seal) ? [] : [row('seal', joint, seal, quantity, lot)],
    ),
  ];
}

function lotOf(lot: LotRef | undefined, maker: string): Pick<UseRow, 'lot_maker' | 'lot_number'> {
  const key = lotKeyOf(lot, maker);
  const at = key?.indexOf('/') ?? -1;
  return { lot_maker: key?.slice(0, at) ?? null, lot_number: key?.slice(at + 1) ?? null };
}
