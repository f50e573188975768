/**
 * The places that a job sheet speaks of: those of its control's body, and of the pump where there is one. A body that the
 * edition has not has none.
 */
import type { Edition } from '../catalogue/edition.ts';
import { bodyOf, sizeOf } from '../catalogue/lookup.ts';
import { bare, type Layout, layoutOf } from './layout.ts';

export function sheetLayout(
  edition: Edition,
  heads: {
    readonly control: { readonly body: string };
    readonly pump: { readonly series: string; readonly size: string } | null;
  },
): Layout {
  const { control, pump } = heads;
  return layoutOf(
    bodyOf(edition, control.body) ?? bare,
    pump === null ? null : sizeOf(edition, pump.series, pump.size),
  );
}
