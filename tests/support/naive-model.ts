/**
 * What the service should say of one seat of one control and of one wrench, from the records alone, in memory and without
 * anything of the service. A record says what was found in the seat; it counts from its work on, as soon as it is recorded,
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

export class Model {
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
}
