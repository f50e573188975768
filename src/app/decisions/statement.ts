/** What of a body is hashed as the statement, and what is kept apart from it because it may be erased. */
import type { Known } from '../../core/judge/case.ts';

type Members = Readonly<Record<string, unknown>>;

/** The body as sent, with people by the service's ids and without its free text. */
export function statementOf(sent: unknown, known: Known): unknown {
  const { note: _, ...statement } = sent as Members;
  return withPeopleReplaced(statement, known);
}

/** The free text; null where there is none. */
export function privateOf(sent: unknown): unknown {
  const { note } = sent as Members;
  return note === undefined ? null : { note };
}

function withPeopleReplaced(value: unknown, known: Known): unknown {
  if (Array.isArray(value)) return value.map((one) => withPeopleReplaced(one, known));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, member]) => {
      const isPerson = (name === 'technician' || name === 'by') && typeof member === 'string';
      return [name, isPerson ? (known.technicians.get(member)?.id ?? member) : withPeopleReplaced(member, known)];
    }),
  );
}
