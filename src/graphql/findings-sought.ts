/** What is asked for of what is held and due: the same as REST takes. */
import { period } from '../core/catalogue/edition.ts';
import { Problem } from '../errors.ts';
import type { GraphContext } from './context.ts';
import type { GraphDueFilter, GraphHeldFilter } from './generated/resolver-types.ts';

export type FindingArgs = {
  readonly rule?: string | null | undefined;
  readonly shop?: string | null | undefined;
  /** As it was known then. */
  readonly known?: string | null | undefined;
  readonly filter?: (GraphHeldFilter & Partial<GraphDueFilter>) | null | undefined;
};

const mostDays = 36_500;

/** What is null is not asked for. @throws Problem of days or a period that are none */
export function findingsSought({ rule, shop, filter }: FindingArgs): Parameters<GraphContext['standing']>[1] {
  const { kind, performedFrom, performedTo, days, handedOver, overdue, overdueAfter } = filter ?? {};
  if (days != null && (days < 0 || days > mostDays)) throw wrong('days', `a whole number from 0 to ${mostDays}`);
  if (overdueAfter != null && !period.safeParse(overdueAfter).success)
    throw wrong('overdueAfter', 'a period such as P14D');
  return {
    ...(rule != null && { rule }),
    ...(shop != null && { shop }),
    ...(kind != null && { kind }),
    ...(performedFrom != null && { performedFrom }),
    ...(performedTo != null && { performedTo }),
    ...(days != null && { olderThanDays: days }),
    ...(handedOver != null && { handedOver }),
    ...(overdue != null && { overdue }),
    ...(overdueAfter != null && { overdueAfter }),
  };
}

function wrong(parameter: string, is: string): Problem {
  return new Problem('invalid-input', `${parameter} is ${is}.`, { errors: [{ parameter, detail: `write ${is}` }] });
}
