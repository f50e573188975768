import { describe, expect, it } from 'vitest';
import { judgementRules } from '../../../src/core/rules/judgement-rules.ts';
import { findingsBy } from '../../../src/core/rules/rule.ts';

describe('control-elsewhere', () => {
  it('holds work that was recorded of another control than the one on the pump, until its record is decided about', () => {
    expect(findingsBy(judgementRules, { record: 'fact', recorded: 'K-1', now: 'K-2' })).toMatchObject([
      {
        ...{ rule: 'control-elsewhere', severity: 'hold', pointer: '/pump', expected: 'K-2', found: 'K-1' },
        clearedBy: [
          { kind: 'disposition', place: 'fact' },
          { kind: 'correction', place: 'fact' },
        ],
      },
    ]);
  });

  it('holds nothing that was done on the control that was there', () => {
    expect(findingsBy(judgementRules, { record: 'fact', recorded: 'K-1', now: 'K-1' })).toEqual([]);
  });
});
