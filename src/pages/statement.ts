/**
 * What a record states, looked at as JSON: records of all kinds and ages are shown by what they have, so a kind that
 * comes later needs no page of its own.
 */

export type Json = Readonly<Record<string, unknown>>;

export function objectOf(value: unknown): Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Json) : {};
}

export function listOf(value: unknown): readonly Json[] {
  return Array.isArray(value) ? value.map(objectOf) : [];
}

export function textOf(value: unknown): string | null {
  return typeof value === 'string' ? value : null;
}

/** Why something is not known, where that was said in its place. */
export function unknownOf(value: unknown): string | null {
  return textOf(objectOf(value)['unknown']);
}

/** A time as it was sent, with a space in place of the T; of one that isn't known to the second, how well it is. */
export function timeOf(value: unknown): string | null {
  const text = textOf(value);
  if (text !== null) return spaced(text);
  const { at, precision } = objectOf(value);
  const [begun, known] = [textOf(at), textOf(precision)];
  return begun === null ? null : `${spaced(begun)}${known === null ? '' : ` (${known})`}`;
}

function spaced(time: string): string {
  return time.replace(/^(\d{4}-\d{2}-\d{2})T/, '$1 ').replace(/(\d)(Z|[+-]\d{2}:\d{2})$/, '$1 $2');
}
