/** What a rule is: one file, one sentence, one check. */
import { recordKinds } from '../catalogue/edition.ts';
import type { Case, JudgedKind } from '../judge/case.ts';
import type { Clear, Finding, Severity } from './finding.ts';

/** Whatever is done to a unit on a bench. */
export const benchWork: readonly JudgedKind[] = recordKinds;

/** A rule on cases of some kind. */
export type RuleOn<Judged> = {
  /** Stable: callers and older records name it. */
  readonly id: string;
  readonly severity: Severity;
  /** What the rule demands, as a sentence. */
  readonly sentence: string;
  /** Why: the practice, standard or decision behind it. */
  readonly basis: string;
  /** What clears a hold or due, in words; null for what holds nothing. */
  readonly clears: string | null;
  readonly check: (judged: Judged) => readonly Violation[];
};

/** A rule on bench work and registrations, and which of them it is on. */
export type Rule = RuleOn<Case> & { readonly kinds: readonly JudgedKind[] };

/** What a rule found; id and severity come from the rule. */
export type Violation = {
  readonly pointer: string;
  readonly expected?: string | null;
  readonly found?: string | null;
  readonly because: string;
  readonly clearedBy?: readonly Clear[];
};

export function findingsOf(rule: Rule, judged: Case): Finding[] {
  return rule.kinds.includes(judged.kind) ? findingsBy([rule], judged) : [];
}

/** Every finding of these rules, in their order. */
export function findingsBy<Judged>(rules: readonly RuleOn<Judged>[], judged: Judged): Finding[] {
  return rules.flatMap((rule) => rule.check(judged).map((violation) => findingOf(rule, violation)));
}

function findingOf(
  rule: Pick<Rule, 'id' | 'severity'>,
  { pointer, expected = null, found = null, because, clearedBy = [] }: Violation,
): Finding {
  return {
    rule: rule.id,
    severity: rule.severity,
    pointer,
    expected,
    found,
    because,
    clearedBy,
    text: textOf(because, clearedBy),
  };
}

function textOf(because: string, clearedBy: readonly Clear[]): string {
  if (clearedBy.length === 0) return because;
  return `${because} Cleared by ${clearedBy.map((clear) => `${clear.kind} ${clear.place}`).join(' or ')}.`;
}

/** Leave to use, given for this record by somebody entitled to it. */
export function concession({ fact }: Pick<Case, 'fact'>): Clear {
  return { kind: 'disposition', place: fact };
}
