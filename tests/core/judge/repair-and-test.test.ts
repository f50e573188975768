import { describe, expect, it } from 'vitest';
import {
  change,
  conversionOnPump,
  findings,
  findingsBy,
  follow,
  inspection,
  kept,
  repair,
  states,
  testRun,
} from '../../support/cases.ts';

const isHeldOrDue = ({ severity }: { severity: string }) => severity === 'hold' || severity === 'due';

describe('a repair', () => {
  it('that renews a part by one of the same kind leaves the function as it was', () => {
    expect(findings(repair()).filter(isHeldOrDue)).toEqual([]);
    expect(kept(repair()).judgement).toMatchObject({ status: 'released', function: 'load-sense-bled' });
    expect(states(repair()).control.stations['bleed-seat']?.record).toBe('fact');
  });

  it('breaks and closes joints as any work does', () => {
    const unclosed = change(repair(), { '/body/torques/0': undefined });
    expect(findingsBy('joint-not-closed', unclosed).map(({ expected }) => expected)).toEqual([
      '1 reading for bleed-seat-element',
    ]);
  });

  it('that leaves something else than the function has there leaves no function, until a look finds one', () => {
    const other = change(repair(), { '/body/fitted/0/element': 'plug-m5' });
    expect(findingsBy('no-function', other)).toMatchObject([{ severity: 'hold', pointer: '/fitted' }]);
    expect(states(other).control.function).toBe(null);
    const mended = follow(other, change(repair(), { '/body/removed/0/element': 'plug-m5' }));
    const seen = change(mended, {
      '/body/found': { function: 'load-sense-bled', stations: { 'bleed-seat': [{ element: 'plug-m5' }] } },
    });
    expect(states(other).control.open.map(({ rule }) => rule)).toContain('no-function');
    expect(states(seen).control).toMatchObject({ function: 'load-sense-bled', status: 'released' });
    const looked = change(follow(other, inspection()), {
      '/body/found': { stations: { 'bleed-seat': [{ element: 'orifice-0.6' }] }, function: 'load-sense-bled' },
    });
    expect(states(looked).control.open.map(({ rule }) => rule)).not.toContain('no-function');
  });
});

describe('a test', () => {
  it('opens nothing, and asks for the checks that the edition asks of a test', () => {
    expect(findings(testRun()).filter(isHeldOrDue)).toEqual([]);
    const unchecked = change(testRun(), { '/body/checks': [] });
    expect(findingsBy('check-due', unchecked).map(({ clearedBy }) => clearedBy[0])).toEqual(
      ['make-safe', 'leak-free', 'function-check'].map((place) => ({ kind: 'check', place })),
    );
  });

  it('makes good the checks and settings that earlier work left due', () => {
    const left = change(conversionOnPump(), {
      '/body/checks': [
        { check: 'make-safe', result: 'passed' },
        { check: 'plate-marked', result: 'passed' },
      ],
      '/body/settings': [],
    });
    expect(states(left).control.status).not.toBe('released');
    expect(states(follow(left, testRun())).control.status).toBe('released');
  });

  it('whose measurement has an unknown instrument is held until it is measured again with a known one', () => {
    const unknown = change(testRun(), { '/body/measurements/0/instrument': { unknown: 'a glass of somebody' } });
    expect(findingsBy('instrument-unknown', unknown)).toMatchObject([
      {
        pointer: '/measurements/0/instrument',
        clearedBy: [
          { kind: 'measurement', place: 'case-drain-flow' },
          { kind: 'disposition', place: 'fact' },
        ],
      },
    ]);
    expect(states(unknown).control.status).toBe('held');
    expect(states(follow(unknown, testRun())).control.status).toBe('released');
    const named = change(testRun(), { '/body/measurements/0/instrument': 'nobody-knows' });
    expect(findingsBy('unknown-id', named)).toMatchObject([{ pointer: '/measurements/0/instrument' }]);
  });

  it('of a thing with an instrument that does not reach so far is held', () => {
    const far = change(testRun(), {
      '/instruments/stand-1/range': { min: { value: '5', unit: 'L/min' }, max: { value: '60', unit: 'L/min' } },
    });
    expect(findingsBy('instrument-out-of-range', far)).toMatchObject([
      { pointer: expect.stringContaining('/measurements/0') },
    ]);
  });
});
