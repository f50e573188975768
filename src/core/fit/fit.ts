/** What sits in one control (and, under `pump/…`, on its pump), station by station, and how that is known. */

export const bases = ['built', 'plate', 'seen', 'assumed', 'unknown'] as const;
export type Basis = (typeof bases)[number];

export type Held = { readonly element: string; readonly quantity: number };

/** `elements: null` says that the content is not known; an empty list says that the station is empty. */
export type Content = { readonly elements: readonly Held[] | null; readonly basis: Basis };

/** By station id, `pump/…` for stations of the pump. */
export type Fit = Readonly<Record<string, Content>>;
