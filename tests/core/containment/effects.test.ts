/** What a containment does to a unit, and what each step ends. */
import { describe, expect, it } from 'vitest';
import { containedBy, isDone, liftedFrom, progressed } from '../../../src/core/containment/effects.ts';
import type { OpenFinding } from '../../../src/core/history/event.ts';
import { progressSteps } from '../../../src/core/records/containment-bodies.ts';

const clear = { kind: 'containment', place: 'c' } as const;
const ofScrap = { kind: 'containment', place: 'c/scrapped' } as const;
const stop = { containment: 'c', severity: 'stop', instruction: 'take it out' } as const;
const inspect = { ...stop, severity: 'inspect' } as const;
const finding = (severity: 'hold' | 'due'): OpenFinding => ({
  ...{ rule: 'contained', severity, pointer: '/criteria', clearedBy: [clear], instruction: 'take it out' },
});
const other: OpenFinding = { ...finding('hold'), clearedBy: [{ kind: 'containment', place: 'another' }] };

describe('a unit that comes under a containment', () => {
  it('is held by a stop, has an inspection due, or is only told of', () => {
    expect(containedBy(stop)).toEqual({ opens: [finding('hold')] });
    expect(containedBy(inspect)).toEqual({ opens: [finding('due')] });
    expect(containedBy({ ...stop, severity: 'inform' })).toEqual({});
  });

  it('is let go when that is lifted', () => {
    expect(liftedFrom('c')).toEqual({ clears: [clear] });
  });
});

describe('a step', () => {
  it('is the last that is asked for, or not', () => {
    const done = (severity: 'stop' | 'inspect' | 'inform') => progressSteps.filter((step) => isDone(step, severity));
    expect(done('stop')).toEqual(['cleared', 'converted', 'scrapped']);
    expect(done('inspect')).toEqual(['inspected', 'cleared', 'converted', 'scrapped']);
    expect(done('inform')).toEqual(done('inspect'));
  });

  it('clears the unit where it is the last, and holds it for good where that is scrap', () => {
    const whole = { clears: [clear, ofScrap] };
    for (const step of ['cleared', 'converted'] as const)
      expect(progressed(step, stop, [finding('hold')])).toEqual(whole);
    expect(progressed('inspected', inspect, [finding('due')])).toEqual(whole);
    expect(progressed('scrapped', stop, [])).toEqual({
      ...whole,
      opens: [{ rule: 'scrapped', severity: 'hold', pointer: '/step', clearedBy: [ofScrap] }],
    });
  });

  it('leaves it contained where it is not, and contains it again where it had been let go', () => {
    expect(progressed('secured', stop, [other, finding('hold')])).toEqual({ clears: [ofScrap] });
    expect(progressed('inspected', stop, [other])).toEqual({ clears: [ofScrap], opens: [finding('hold')] });
    expect(progressed('secured', inspect, [])).toEqual({ clears: [ofScrap], opens: [finding('due')] });
  });
});
