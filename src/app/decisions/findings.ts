/** Findings that come before the rules: what a record names isn't there to be judged. */
import type { Finding } from '../../core/rules/finding.ts';
import type { Decision } from '../recording/draft.ts';

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
