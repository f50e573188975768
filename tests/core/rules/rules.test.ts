import { describe, expect, it } from 'vitest';
import { allRules } from '../../../src/core/rules/all-rules.ts';
import { change, findings, findingsBy } from '../../support/cases.ts';
import { ruleTestRows as rows, ruleTests as tests } from './all-rule-tests.ts';

describe('a rule finds one wrong field, and nothing in the accepted neighbour of that field', () => {
  for (const { rule, says, on, at, wrong, right, gives } of rows) {
    it(`${rule}: ${says}`, () => {
      const severity = allRules.find((one) => one.id === rule)?.severity;
      const found = findingsBy(rule, change(on(), { [at]: wrong }));
      expect(found).toMatchObject(gives.map((one) => ({ rule, severity, ...one })));
      expect(found).not.toEqual([]);
      expect(findingsBy(rule, change(on(), { [at]: right }))).toEqual([]);
    });
  }
});

describe('without its line in the list a rule finds nothing, and no other says the same', () => {
  for (const { rule, says, on, at, wrong } of rows) {
    it(`${rule}: ${says}`, () => {
      const without = allRules.filter((one) => one.id !== rule);
      const setup = change(on(), { [at]: wrong });
      const said = findingsBy(rule, setup).map((one) => `${one.pointer} ${one.because}`);
      const left = findings(setup, without).map((one) => `${one.pointer} ${one.because}`);
      expect(said.filter((one) => left.includes(one))).toEqual([]);
      expect(left).toEqual(
        findings(setup)
          .filter((one) => one.rule !== rule)
          .map((one) => `${one.pointer} ${one.because}`),
      );
    });
  }
});

describe('the list of rules', () => {
  it('has a test by name for every rule, and no test of a rule that is not in it', () => {
    expect(Object.keys(tests).sort()).toEqual(allRules.map((rule) => rule.id).sort());
    expect(Object.values(tests).filter((list) => list.length === 0)).toEqual([]);
  });

  it('gives refusals first, then holds, dues and notes, each rule once', () => {
    const order = ['refuse', 'hold', 'due', 'note'];
    const severities = allRules.map((rule) => order.indexOf(rule.severity));
    expect(severities).toEqual(severities.toSorted());
    expect(new Set(allRules.map((rule) => rule.id)).size).toBe(allRules.length);
  });

  it('says of every hold and due what clears it, and of nothing else', () => {
    for (const { id, severity, clears } of allRules) {
      expect(clears !== null, id).toBe(severity === 'hold' || severity === 'due');
    }
    for (const { rule, on, at, wrong } of rows) {
      for (const { severity, clearedBy } of findingsBy(rule, change(on(), { [at]: wrong }))) {
        expect(clearedBy.length > 0, rule).toBe(severity === 'hold' || severity === 'due');
      }
    }
  });
});
