/** Which instruments, people and shop a record names, and which fact a judgement; when recording and when verifying. Of a registration its shop. */
import { recordKinds } from '../../core/catalogue/edition.ts';
import { lifeKinds } from '../../core/records/life-bodies.ts';
import type { Row } from '../../store/sql/insert-rows.ts';
import { peopleIn } from '../decisions/statement.ts';
import { placeOf } from '../recording/loaded.ts';

type Mention = Pick<Row<'mentions'>, 'what' | 'key'>;

const kinds: readonly string[] = [...recordKinds, ...lifeKinds, 'correction', 'identity'];

/** By the statement as it is kept: people by the service's ids, everything else by the shop's own. */
export function mentionRows(kind: string, statement: unknown): Mention[] {
  if (kind === 'judgement') return rows('cause', [(statement as { cause: string }).cause]);
  const shops = placeOf('', statement).map((place) => place.shop);
  // Apart from what is judged again when something becomes known of a shop: a registration isn't.
  if (kind === 'registration') return rows('registered-at', shops);
  if (!kinds.includes(kind)) return [];
  return [
    ...rows('instrument', instrumentsIn(statement)),
    ...rows('technician', peopleIn(statement)),
    ...rows('shop', shops),
  ];
}

function rows(what: string, keys: readonly string[]): Mention[] {
  return [...new Set(keys)].map((key) => ({ what, key }));
}

function instrumentsIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(instrumentsIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, member]) =>
    (name === 'instrument' || name === 'second') && typeof member === 'string' ? [member] : instrumentsIn(member),
  );
}
