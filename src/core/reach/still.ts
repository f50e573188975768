/** Whether a unit still holds what a reach found in it. */
import type { StationState, UnitState } from '../history/fold.ts';

export const stills = ['now', 'once', 'unknown'] as const;
export type Still = (typeof stills)[number];

/** A part that a record put in. */
export type PartPut = {
  readonly fact: string;
  readonly role: 'element' | 'seal';
  readonly place: string;
  readonly item: string;
};

/**
 * A part is in while its station holds what the same record put there, and out once the station holds none of its
 * kind. In between nobody said which piece is which: one of several may have been changed, or another of its kind put
 * in. Of a seal only its going in is recorded.
 */
export function stillIn(use: PartPut, stations: UnitState['stations'] | undefined): 'in' | 'out' | 'unknown' {
  const content = stations?.[use.place];
  if (use.role === 'seal' || content === undefined || content.elements === null) return 'unknown';
  if (content.record === use.fact) return 'in';
  return content.elements.some((held) => held.element === use.item) ? 'unknown' : 'out';
}

/** Of a unit: now where one part is in, unknown where nobody can say of one. */
export function stillOfParts(parts: readonly ('in' | 'out' | 'unknown')[]): Still {
  if (parts.includes('in')) return 'now';
  return parts.includes('unknown') ? 'unknown' : 'once';
}

/** Of a record: as long as anything stands that it did to the unit: a station, a setting or what it is mounted with. */
export function standsOf(record: string, { stations, settings, mounted }: UnitState): boolean {
  return [...Object.values(stations), ...Object.values(settings), ...(mounted === null ? [] : [mounted])].some(
    (one) => one.record === record,
  );
}

/** The stations that hold an element by what a record said, with how many of it. */
export function heldBy(
  record: string,
  element: string,
  { stations }: Pick<UnitState, 'stations'>,
): { readonly place: string; readonly quantity: number }[] {
  return Object.entries(stations).flatMap(([place, content]) =>
    content.record === record ? piecesIn(content, element).map((quantity) => ({ place, quantity })) : [],
  );
}

function piecesIn({ elements }: StationState, element: string): number[] {
  return (elements ?? []).filter((held) => held.element === element).map((held) => held.quantity);
}
