/** A reach as one line for each part: a unit with three is in it three times. */
type Use = { readonly place: string; readonly item: string; readonly still: string; readonly through: string | null };
type Unit = {
  readonly name: string | null;
  readonly records: readonly {
    readonly id: string;
    readonly uses: readonly (Use & { role: string; quantity: number })[];
  }[];
};

export function usesReached<Item extends Unit>(items: readonly Item[]) {
  return items.flatMap((item) =>
    item.records.flatMap(({ id, uses }) => uses.map((use) => ({ ...use, unit: item, name: item.name, record: id }))),
  );
}
