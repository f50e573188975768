/** What speaks against a correction as such; what stands in the record's place is judged as a record of its kind. */
import { correctionRules } from '../rules/correction-rules.ts';
import type { Finding } from '../rules/finding.ts';
import { findingsBy } from '../rules/rule.ts';
import type { CorrectionCase } from './correction-case.ts';

export function judgeCorrection(judged: CorrectionCase): Finding[] {
  return findingsBy(correctionRules, judged);
}
