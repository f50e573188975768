/** What resolvers are handed for the types whose fields are looked up one by one. */

import type { Past } from '../app/read-history.ts';
import type { Basis, Held } from '../core/fit/fit.ts';
import type { Quantity } from '../core/quantity/quantity.ts';
import type { LotName } from '../core/records/lot-name.ts';
import type { Place } from './verdicts.ts';

export type UnitThenParent = Past['state'];
export type MountingParent = Past['mountings'][number];
export type StationParent = {
  readonly station: string;
  readonly elements: readonly Held[] | null;
  readonly basis: Basis;
  readonly recordId: string;
};
export type SettingParent = { readonly setting: string; readonly reading: Quantity; readonly recordId: string };

/** An id, or why it is not known. */
export type NamedView = { readonly id: string | null; readonly unknown: string | null };
export type FittedParent = {
  readonly station: string;
  readonly element: NamedView;
  readonly quantity: number;
  readonly lot: LotName | null;
};
export type SealParent = {
  readonly joint: string;
  readonly seal: NamedView;
  readonly quantity: number;
  readonly lot: LotName | null;
};
export type NamedQuantityView = { readonly name: string; readonly quantity: Quantity };
export type TorqueParent = Place & {
  readonly joint: string;
  readonly how: string;
  readonly readings: readonly Quantity[];
  readonly instrument: NamedView;
};
export type SettingReadingParent = Place & {
  readonly setting: string;
  readonly reading: Quantity;
  readonly instrument: NamedView;
  readonly conditions: readonly NamedQuantityView[];
};
