/** What speaks against a correction as such; what stands in the record's place is judged as a record of its kind. */
import { correctionRules } from '../rules/correction-rules.ts';
import type { Finding } from '../rules/finding.ts';
import type { CorrectionCase } from './correction-case.ts';

export function judgeCorrection(judged: CorrectionCase): Finding[] {
  return correctionRules.flatMap((rule) =>
    rule.check(judged).map(({ pointer, because, expected = null, found = null }) => ({
      rule: rule.id,
      severity: rule.severity,
      pointer,
      expected,
      found,
      because,
      clearedBy: [],
      text: because,
    })),
  );
}
