/** The judgement on one record: every finding at once, what it proves, and what it does to its units. */
import type { Content } from '../fit/fit.ts';
import type { UnitEffect } from '../history/event.ts';
import type { Status } from '../history/fold.ts';
import { allRules } from '../rules/all-rules.ts';
import type { Finding } from '../rules/finding.ts';
import { findingsOf } from '../rules/rule.ts';
import type { Case } from './case.ts';
import { effectsOf } from './effects.ts';
import { type Verdict, verdictsOf } from './evidence.ts';

export type Judgement = {
  readonly findings: readonly Finding[];
  readonly verdicts: readonly Verdict[];
  readonly status: Status;
  /** What sits where after the work, as far as it is known; stations of the pump under `pump/…`. */
  readonly fit: Readonly<Record<string, Content>>;
  readonly function: string | null;
};

export type Judged =
  | { readonly refused: readonly Finding[] }
  | { readonly judgement: Judgement; readonly effects: readonly UnitEffect[] };

export function judge(judged: Case): Judged {
  const findings = allRules.flatMap((rule) => findingsOf(rule, judged));
  if (findings.some((one) => one.severity === 'refuse'))
    return { refused: findings.filter((one) => one.severity === 'refuse') };
  const effects = effectsOf(judged, findings);
  return {
    judgement: {
      findings,
      verdicts: verdictsOf(judged),
      status: statusOfFindings(findings),
      fit: judged.after,
      function: functionAfter(judged, effects),
    },
    effects,
  };
}

function statusOfFindings(findings: readonly Finding[]): Status {
  if (findings.some((one) => one.severity === 'hold')) return 'held';
  return findings.some((one) => one.severity === 'due') ? 'incomplete' : 'released';
}

function functionAfter({ control }: Case, effects: readonly UnitEffect[]): string | null {
  const declared = effects.find((one) => one.unit === control.unit)?.effect.function;
  return declared === undefined ? control.state.function : declared;
}
