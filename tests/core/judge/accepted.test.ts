import { describe, expect, it } from 'vitest';
import {
  adjustment,
  change,
  conversionOnPump,
  conversionOnShelf,
  findings,
  follow,
  inspection,
  kept,
  mounting,
  type Setup,
  states,
  takingOff,
} from '../../support/cases.ts';

describe('a record that nothing is wrong with', () => {
  it.each<[string, () => Setup]>([
    ['a conversion on a pump', conversionOnPump],
    ['a mounting', mounting],
    ['a taking off', takingOff],
    ['an adjustment', adjustment],
    ['an inspection', inspection],
  ])('%s has no finding at all and is released', (_, setup) => {
    expect(findings(setup())).toEqual([]);
    expect(kept(setup()).judgement.status).toBe('released');
    expect(states(setup()).control.status).toBe('released');
    expect(states(setup()).pump.status).toBe('released');
  });

  it('keeps the hours that were read: of the pump where one is named', () => {
    const hours = { value: '1250', unit: 'h' };
    const read = (setup: Setup) => states(change(setup, { '/body/hours': hours }));
    const onPump = read(mounting());
    expect(onPump.pump.hours).toEqual({ ...hours, record: 'fact' });
    expect(onPump.control.hours).toBeNull();
    expect(read(conversionOnShelf()).control.hours).toEqual({ ...hours, record: 'fact' });
    expect(states(mounting()).pump.hours).toBeNull();
  });

  it('a conversion on the shelf has dues alone: what can only be set, closed and checked on a pump', () => {
    const setup = conversionOnShelf();
    expect(findings(setup).map(({ rule, severity, clearedBy }) => [rule, severity, clearedBy[0]?.place])).toEqual([
      ['setting-due', 'due', 'pressure-limit'],
      ['setting-due', 'due', 'differential'],
      ['joint-due', 'due', 'sense-adjuster-locknut'],
      ['check-due', 'due', 'leak-free'],
      ['check-due', 'due', 'function-check'],
      ['check-due', 'due', 'plate-marked'],
    ]);
  });

  it('a conversion on the shelf is released by the mounting that follows', () => {
    const then = follow(conversionOnShelf(), mounting());
    expect(findings(then)).toEqual([]);
    expect(states(then).control).toMatchObject({ status: 'released', open: [], function: 'load-sense' });
  });
});
