/**
 * What the service should say of one seat of one control, of one wrench, and of what is contained, from the records alone,
 * in memory and without anything of the service. A record says what was found in the seat; it counts from its work on, as soon as it is recorded,
 * until a correction has replaced it. Each state is worked out anew from the list.
 */
export type Seen = {
  readonly id: string;
  readonly at: string;
  readonly recorded: string;
  readonly seat: string;
  /** The record that this one replaces; its place among records of one time is that one's. */
  readonly replaces: string | null;
  /** It only makes that one void. */
  readonly isVoid: boolean;
};
export type Calibrated = { readonly id: string; readonly at: string; readonly recorded: string };

/** A record that names a lot, or replaces one that did. */
export type Used = {
  readonly id: string;
  readonly recorded: string;
  readonly by: string;
  readonly unit: string;
  readonly lot: string | null;
  readonly replaces: string | null;
};
/** `by`: of whose records; null: the maker's, of all. */
export type Contained = {
  readonly id: string;
  readonly recorded: string;
  readonly by: string | null;
  readonly lot: string;
  lifted: string | null;
};

export class Model {
  readonly used: Used[] = [];
  readonly contained: Contained[] = [];
  readonly seen: Seen[] = [];
  readonly calibrations: Calibrated[] = [];

  /** Records that a correction may still replace. */
  get standing(): Seen[] {
    return this.seen.filter(({ id, isVoid }) => !isVoid && this.seen.every((one) => one.replaces !== id));
  }

  /** Of the seat: what it holds, since which record, the function, and the record that found it otherwise than expected. */
  seatAt(performed: string, known: string) {
    const heard = this.seen.filter(({ recorded }) => recorded <= known);
    const placeOf = (one: Seen): number => {
      const before = this.seen.findIndex(({ id }) => id === one.replaces);
      return before < 0 ? this.seen.indexOf(one) : placeOf(this.seen[before] as Seen);
    };
    const counting = heard
      .filter(({ id, isVoid, at }) => !isVoid && at <= performed && heard.every((one) => one.replaces !== id))
      .sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : placeOf(a) - placeOf(b)));
    let state = { seat: 'orifice-0.6', since: 'registration', function: 'load-sense-bled' as string | null };
    let unrecorded: string | null = null;
    for (const { id, seat } of counting) {
      unrecorded = seat === state.seat ? null : id;
      // Either orifice is a bleed; with a plug it is that function no more.
      const fun = seat === 'plug-m5' ? null : state.function;
      state = { seat, since: seat === state.seat ? state.since : id, function: fun };
    }
    return { ...state, unrecorded };
  }

  /** The calibration in force. */
  calibrationAt(at: string, known: string): string | null {
    const heard = this.calibrations.filter((one) => one.recorded <= known && one.at <= at);
    return heard.sort((a, b) => (a.at < b.at ? -1 : 1)).at(-1)?.id ?? null;
  }

  /** Whether a record that counts names the lot, among those of this distributor or of all. */
  isUsed(lot: string, by: string | null, unit: string | null, known: string): boolean {
    const heard = this.used.filter(({ recorded }) => recorded <= known);
    return heard.some(
      (one) =>
        one.lot === lot &&
        (by === null || one.by === by) &&
        (unit === null || one.unit === unit) &&
        heard.every(({ replaces }) => replaces !== one.id),
    );
  }

  /** The containments that hold the unit: it came under them when they were issued or by any record since, and stays. */
  holding(unit: string, known: string): string[] {
    const moments = this.used.map(({ recorded }) => recorded).filter((recorded) => recorded <= known);
    return this.contained
      .filter(({ recorded, lifted }) => recorded <= known && (lifted === null || lifted > known))
      .filter(({ lot, by, recorded }) =>
        [recorded, ...moments.filter((one) => one > recorded)].some((moment) => this.isUsed(lot, by, unit, moment)),
      )
      .map(({ id }) => id)
      .sort();
  }
}
