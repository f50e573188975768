/** Under which containments a unit was, before the day asked for or after it, as its events say. */
import type { UnitEvent } from '../history/event.ts';
import type { Instant } from '../time/instant.ts';

export type ContainedThen = {
  readonly unit: string;
  readonly containment: string;
  readonly severity: 'hold' | 'due';
  readonly instruction: string | null;
  readonly from: Instant;
  /** Null: it still is. */
  readonly to: Instant | null;
  /** It came under it after the day asked for. */
  readonly after: boolean;
};

/** @param events in the order of work */
export function containmentsThen(events: readonly UnitEvent[], performed: Instant): ContainedThen[] {
  return events.flatMap(({ unit, effect, performedTo }, at) =>
    (effect.opens ?? []).flatMap(({ rule, severity, clearedBy, instruction = null }): ContainedThen[] => {
      const containment = clearedBy.find((one) => one.kind === 'containment')?.place;
      if (rule !== 'contained' || containment === undefined) return [];
      const ended = events
        .slice(at + 1)
        .find((later) => later.unit === unit && (later.effect.clears ?? []).some(({ place }) => place === containment));
      const to = ended?.performedTo ?? null;
      return [{ unit, containment, severity, instruction, from: performedTo, to, after: performedTo > performed }];
    }),
  );
}
