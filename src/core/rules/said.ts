/** What a station holds, in words. */
import type { Content, Held } from '../fit/fit.ts';

export function said({ elements }: Content): string {
  if (elements === null) return 'something unknown';
  return elements.length === 0 ? 'nothing' : saidHeld(elements);
}

function saidHeld(elements: readonly Held[]): string {
  return elements.map(({ element, quantity }) => (quantity === 1 ? element : `${quantity} × ${element}`)).join(' and ');
}
