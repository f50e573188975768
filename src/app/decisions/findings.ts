/** Findings that come before the rules: what a record names isn't there to be judged. */

import type { Finding } from '../../core/rules/finding.ts';
import { performedInFuture } from '../../core/rules/performed-in-future.ts';
import { findingsBy } from '../../core/rules/rule.ts';
import type { Interval } from '../../core/time/instant.ts';
import type { Decision } from '../recording/draft.ts';
import { type Loaded, referenceUsedBy } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';

export function refuseUnknown(pointer: string, because: string, found: string | null = null): Decision {
  return { decided: 'refuse', findings: [unknownFinding(pointer, because, found)] };
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
export function referenceUsed(request: Request, reference: string, loaded: Loaded): Decision | null {
  const used = referenceUsedBy(loaded, request, reference);
  if (used === null) return null;
  const kind = request.kind.replace('-', ' ');
  const because = `${kind.charAt(0).toUpperCase()}${kind.slice(1)} ${used} has this reference already.`;
  return { decided: 'refuse', findings: [{ ...unknownFinding('/reference', because, used), rule: 'reference-used' }] };
}
