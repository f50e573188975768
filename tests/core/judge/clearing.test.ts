import { describe, expect, it } from 'vitest';
import { statusOf } from '../../../src/core/history/concession.ts';
import type { UnitEvent } from '../../../src/core/history/event.ts';
import { fold, type UnitState } from '../../../src/core/history/fold.ts';
import { allRules } from '../../../src/core/rules/all-rules.ts';
import { type Clear, clearKinds } from '../../../src/core/rules/finding.ts';
import { caseOf, change, events, kept, type Setup } from '../../support/cases.ts';
import { ruleTestRows } from '../rules/all-rule-tests.ts';

const holding = new Set(
  allRules.filter((rule) => rule.severity === 'hold' || rule.severity === 'due').map((rule) => rule.id),
);
const rows = ruleTestRows.filter(({ rule }) => holding.has(rule));

describe('what holds a unit is open until exactly what it says clears it', () => {
  for (const { rule, says, on, at, wrong } of rows) {
    it(`${rule}: ${says}`, () => {
      const setup = change(on(), { [at]: wrong });
      const opened = openedBy(rule, setup);
      expect(opened.length).toBe(kept(setup).judgement.findings.filter((one) => one.rule === rule).length);
      for (const { unit, before, finding } of opened) {
        for (const clear of universe(setup)) {
          const after = fold(unit, [...before, clearing(before, clear)]);
          const clears = finding.clearedBy.some((one) => one.kind === clear.kind && one.place === clear.place);
          expect([clear, isOpen(after, finding)]).toEqual([clear, !clears]);
          expect(after.status).toBe(statusOf(after.open));
        }
      }
    });
  }

  it('has such a test for every rule that holds or leaves something due', () => {
    expect(new Set(rows.map((one) => one.rule))).toEqual(holding);
  });
});

describe('a unit held by one finding alone', () => {
  for (const { rule, says, on, at, wrong } of rows) {
    it(`is as free as the rest leaves it once that is cleared: ${rule}: ${says}`, () => {
      const setup = change(on(), { [at]: wrong });
      for (const { unit, before } of openedBy(rule, setup)) {
        const { open } = fold(unit, before);
        const all = open.flatMap((one) => one.clearedBy.slice(0, 1));
        const severities = open.map((one) => one.severity);
        expect(fold(unit, before).status).toBe(severities.includes('hold') ? 'held' : 'incomplete');
        const cleared = [...before];
        for (const clear of all) cleared.push(clearing(cleared, clear));
        expect(fold(unit, cleared)).toMatchObject({ status: 'released', open: [] });
      }
    });
  }
});

type Opened = { unit: string; before: readonly UnitEvent[]; finding: UnitState['open'][number] };

/** Each finding of the rule on the unit that it holds: the control or its pump, never both. */
function openedBy(rule: string, setup: Setup): Opened[] {
  const { control, pump } = events(setup);
  return [control, pump].flatMap((before) => {
    const unit = before[0]?.unit ?? '';
    const open = before.length === 0 ? [] : fold(unit, before).open;
    return open.filter((one) => one.rule === rule).map((finding) => ({ unit, before, finding }));
  });
}

function isOpen({ open }: UnitState, finding: Opened['finding']): boolean {
  return open.some((one) => one.fact === finding.fact && one.pointer === finding.pointer && sameClears(one, finding));
}

function sameClears(a: { clearedBy: readonly Clear[] }, b: { clearedBy: readonly Clear[] }): boolean {
  return JSON.stringify(a.clearedBy) === JSON.stringify(b.clearedBy);
}

/** Every kind of evidence at every place of the case, and at what is not a place of it. */
function universe(setup: Setup): Clear[] {
  const { layout, edition, fact } = caseOf(setup);
  const listed = [
    ...layout.stations,
    ...layout.joints,
    ...layout.mountingJoints,
    ...layout.settings,
    ...edition.checks,
  ];
  const places = new Set([...listed.map((one) => one.id), 'control', 'pump', fact, 'another-fact']);
  return clearKinds.flatMap((kind) => [...places].map((place) => ({ kind, place })));
}

function clearing(before: readonly UnitEvent[], clear: Clear): UnitEvent {
  const at = '2026-04-01T00:00:00.000000Z';
  return {
    ...{ unit: before[0]?.unit ?? '', seq: before.length + 1, prev: null, fact: `clearing-${before.length}` },
    ...{ kind: 'test', performedFrom: at, performedTo: at, recordedAt: at, after: null, effect: { clears: [clear] } },
  };
}
