/** What of a body is hashed as the statement, and what is kept apart from it because it may be erased. */
import type { Known } from '../../core/judge/case.ts';

type Members = Readonly<Record<string, unknown>>;

/** The body as sent, with people by the service's ids and without its free text. */
export function statementOf(sent: unknown, known: Known): unknown {
  const { note: _, ...statement } = sent as Members;
  return withPeople(statement, (person) => known.technicians.get(person)?.id);
}

/** The members that may be erased: the free text, and what else is named; null where none is said. */
export function privateOf(sent: unknown, names: readonly string[] = ['note']): unknown {
  const said = Object.entries(sent as Members).filter(([name]) => names.includes(name));
  return said.length === 0 ? null : Object.fromEntries(said);
}

/** The value with every person that it names called otherwise; whoever `called` doesn't know keeps the name. */
export function withPeople(value: unknown, called: (person: string) => string | undefined): unknown {
  if (Array.isArray(value)) return value.map((one) => withPeople(one, called));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, member]) => [
      name,
      isPerson(name, member) ? (called(member) ?? member) : withPeople(member, called),
    ]),
  );
}

/** Everybody whom a statement names as having done something. */
export function peopleIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(peopleIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, member]) => (isPerson(name, member) ? [member] : peopleIn(member)));
}

function isPerson(name: string, member: unknown): member is string {
  return (name === 'technician' || name === 'by') && typeof member === 'string';
}
