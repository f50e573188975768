/**
 * What of a movement, start-up or retirement is kept apart, because it can name a customer and may be erased: free text
 * of where it came from and went, the machine, and who has accepted what was handed over.
 */
import type { Known } from '../../core/judge/case.ts';
import { privateOf, statementOf } from './statement.ts';

type Sent = Readonly<Record<string, unknown>> & { readonly handedOver?: Readonly<Record<string, unknown>> };

const texts = ['from', 'to', 'machine'] as const;

export function lifeStatement(sent: unknown, known: Known): unknown {
  const { handedOver, ...rest } = sent as Sent;
  const stated = Object.entries(rest).filter(([name, value]) => !isApart(name, value));
  const { acceptedBy: _, ...dues } = handedOver ?? {};
  return statementOf({ ...Object.fromEntries(stated), ...(handedOver && { handedOver: dues }) }, known);
}

/** Null where there is none of it. */
export function lifePrivate(sent: unknown): unknown {
  const { handedOver, ...rest } = sent as Sent;
  const apart = {
    ...(privateOf(sent) as object | null),
    ...Object.fromEntries(Object.entries(rest).filter(([name, value]) => isApart(name, value))),
    ...(handedOver && { handedOver: { acceptedBy: handedOver['acceptedBy'] } }),
  };
  return Object.keys(apart).length === 0 ? null : apart;
}

function isApart(name: string, value: unknown): boolean {
  return (texts as readonly string[]).includes(name) && typeof value === 'string';
}
