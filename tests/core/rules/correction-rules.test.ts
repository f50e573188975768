/** Each rule for corrections: one field that it refuses, and the neighbour of that field that it takes. */
import { describe, expect, it } from 'vitest';
import type { CorrectionCase } from '../../../src/core/judge/correction-case.ts';
import { judgeCorrection } from '../../../src/core/judge/judge-correction.ts';
import { correctionRules } from '../../../src/core/rules/correction-rules.ts';

const accepted: CorrectionCase = {
  record: { id: 'record', of: 'conversion', reference: 'BR-1' },
  correctedBy: null,
  kind: 'conversion',
  reference: 'BR-1',
  sameUnits: true,
};
const refused: readonly [string, Partial<CorrectionCase>, object][] = [
  ['corrected-already', { correctedBy: 'other' }, { pointer: '', found: 'other' }],
  ['not-correctable', { record: { ...accepted.record, of: 'registration' }, kind: 'void' }, { found: 'registration' }],
  ['other-kind', { kind: 'mounting' }, { pointer: '/kind', expected: 'conversion or void', found: 'mounting' }],
  ['other-reference', { reference: 'BR-2' }, { pointer: '/body/reference', expected: 'BR-1', found: 'BR-2' }],
  ['other-unit', { sameUnits: false }, { pointer: '/body' }],
];

describe('a correction', () => {
  it('of a record that counts, by one of its kind, reference and unit or by nothing, is taken', () => {
    expect(judgeCorrection(accepted)).toEqual([]);
    expect(judgeCorrection({ ...accepted, kind: 'void', reference: null })).toEqual([]);
  });

  it.each(refused)('is refused by %s for one field', (rule, change, gives) => {
    const found = judgeCorrection({ ...accepted, ...change });
    expect(found).toMatchObject([{ rule, severity: 'refuse', clearedBy: [], ...gives }]);
  });

  it('is held against every rule there is', () => {
    expect(refused.map(([rule]) => rule)).toEqual(correctionRules.map((rule) => rule.id));
  });
});
