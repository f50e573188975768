/** What a rule is: one file, one sentence, one check. */
import { recordKinds } from '../catalogue/edition.ts';
import type { Case, JudgedKind } from '../judge/case.ts';
import type { Clear, Finding, Severity } from './finding.ts';

/** Whatever is done to a unit on a bench. */
export const benchWork: readonly JudgedKind[] = recordKinds;

export type Rule = {
  /** Stable: callers and older records name it. */
  readonly id: string;
  readonly severity: Severity;
  readonly kinds: readonly JudgedKind[];
  /** What the rule demands, as a sentence. */
  readonly sentence: string;
  /** Why: the practice, standard or decision behind it. */
  readonly basis: string;
  /** What clears a hold or due, in words; null for what holds nothing. */
  readonly clears: string | null;
  readonly check: (judged: Case) => readonly Violation[];
};

/** What a rule found; id and severity come from the rule. */
export type Violation = {
  readonly pointer: string;
  readonly expected?: string | null;
  readonly found?: string | null;
  readonly because: string;
  readonly clearedBy?: readonly Clear[];
};

export function findingsOf(rule: Rule, judged: Case): Finding[] {
  if (!rule.kinds.includes(judged.kind)) return [];
  return rule.check(judged).map(({ pointer, expected = null, found = null, because, clearedBy = [] }) => ({
    rule: rule.id,
    severity: rule.severity,
    pointer,
    expected,
    found,
    because,
    clearedBy,
    text: textOf(because, clearedBy),
  }));
}

function textOf(because: string, clearedBy: readonly Clear[]): string {
  if (clearedBy.length === 0) return because;
  return `${because} Cleared by ${clearedBy.map((clear) => `${clear.kind} ${clear.place}`).join(' or ')}.`;
}

/** Leave to use, given for this record by somebody entitled to it. */
export function concession({ fact }: Case): Clear {
  return { kind: 'disposition', place: fact };
}
