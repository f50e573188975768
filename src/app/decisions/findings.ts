/** Findings that come before the rules: what a record names isn't there to be judged. */

import type { Finding } from '../../core/rules/finding.ts';
import { performedInFuture } from '../../core/rules/performed-in-future.ts';
import { findingsBy } from '../../core/rules/rule.ts';
import type { Interval } from '../../core/time/instant.ts';
import type { Decision } from '../recording/draft.ts';
import type { Loaded } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';

export function refuseUnknown(pointer: string, because: string, found: string | null = null): Decision {
  return { decided: 'refuse', findings: [unknownFinding(pointer, because, found)] };
}

/** Null where the reference is free. */
export function refuseReferenceUsed({ owner, kind }: Request, loaded: Loaded, reference: string): Decision | null {
  const used = loaded.references.find((one) => one.owner === owner && one.kind === kind && one.reference === reference);
  if (used === undefined) return null;
  const because = `${used.fact} has this reference already.`;
  const finding = { rule: 'reference-used', pointer: '/reference', found: used.fact, because, text: because };
  return { decided: 'refuse', findings: [{ severity: 'refuse', expected: null, clearedBy: [], ...finding }] };
}

export function unknownFinding(pointer: string, because: string, found: string | null = null): Finding {
  return {
    rule: 'unknown-id',
    severity: 'refuse',
    pointer,
    expected: null,
    found,
    because,
    clearedBy: [],
    text: because,
  };
}

/** A refusal of what is said to be done later than now; null: it isn't. */
export function doneInFuture(performed: Interval, { now }: Loaded): Decision | null {
  const findings = findingsBy([performedInFuture], { performed, now });
  return findings.length === 0 ? null : { decided: 'refuse', findings };
}

/** A refusal where another fact of this kind has the reference already; null: it is free. */
export function referenceUsed({ owner, kind }: Request, reference: string, loaded: Loaded): Decision | null {
  const used = loaded.references.find((one) => one.owner === owner && one.kind === kind && one.reference === reference);
  if (used === undefined) return null;
  const because = `${kind.charAt(0).toUpperCase()}${kind.slice(1)} ${used.fact} has this reference already.`;
  const unknown = unknownFinding('/reference', because, used.fact);
  return { decided: 'refuse', findings: [{ ...unknown, rule: 'reference-used' }] };
}
