/** Which checks a kind of work asks for, now and once the control is on a pump. */
import type { Edition, RecordKind } from '../catalogue/edition.ts';

export type RequiredChecks = { readonly now: readonly string[]; readonly afterMounting: readonly string[] };

/**
 * A control worked on off its pump can't be tested for leaks or function, and its plate is the pump's: those checks
 * wait for the mounting, as does all that the edition places on a mounted control. Making safe what isn't under
 * pressure is not asked for.
 */
export function requiredChecks(edition: Edition, kind: RecordKind, onPump: boolean): RequiredChecks {
  const required = edition.checks.filter((check) => check.requiredBy.includes(kind));
  const waits = (check: (typeof required)[number]) =>
    check.where === 'mounted' || check.role === 'leak' || check.role === 'function' || check.role === 'plate';
  if (onPump) return { now: required.map((check) => check.id), afterMounting: [] };
  return {
    now: required.filter((check) => !waits(check)).map((check) => check.id),
    afterMounting: required.filter((check) => waits(check) && check.role !== 'safety').map((check) => check.id),
  };
}
