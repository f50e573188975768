import { describe, expect, it } from 'vitest';
import type { Content } from '../../../src/core/fit/fit.ts';
import { caseOf, change, conversionOnPump, kept, type Setup, states } from '../../support/cases.ts';

const unknown = { unknown: 'no marking' };
const recorded = '/control/events/0/effect/found';
const held = (...list: readonly [string, number][]) => list.map(([element, quantity]) => ({ element, quantity }));

/** What the judge takes a station to hold after this was taken out and put in, on what the records have. */
function leftAt(
  station: string,
  before: Content | undefined,
  removed: readonly unknown[],
  fitted: readonly unknown[],
): Content {
  const at = (one: unknown) => Object.assign({ station }, one);
  const setup = change(conversionOnPump(), {
    [`${recorded}/${station}`]: before,
    '/body/to': null,
    '/body/removed': removed.map(at),
    '/body/fitted': fitted.map(at),
  });
  return caseOf(setup).after[station] ?? { elements: null, basis: 'unknown' };
}

describe('what a station holds after the work', () => {
  const plug: Content = { elements: held(['plug-m5', 1]), basis: 'plate' };
  const stack: Content = { elements: held(['washer-damping', 1], ['shim-0.5', 2]), basis: 'built' };
  const shim = (quantity: number) => ({ element: 'shim-0.5', quantity });
  const notKnown: Content = { elements: null, basis: 'unknown' };
  const seen = (...list: readonly [string, number][]): Content => ({ elements: held(...list), basis: 'seen' });

  it('is what was there, less what came out, with what went in', () => {
    expect(leftAt('bleed-seat', plug, [{ element: 'plug-m5' }], [{ element: 'orifice-0.6' }])).toEqual(
      seen(['orifice-0.6', 1]),
    );
    expect(leftAt('bleed-seat', plug, [{ element: 'plug-m5' }], [])).toEqual(seen());
    expect(leftAt('damping-stack', stack, [shim(1)], [])).toEqual(seen(['washer-damping', 1], ['shim-0.5', 1]));
    expect(leftAt('damping-stack', stack, [], [shim(1)])).toEqual(seen(['washer-damping', 1], ['shim-0.5', 3]));
    expect(leftAt('damping-stack', stack, [shim(1), shim(1)], [{ element: 'washer-damping' }])).toEqual(
      seen(['washer-damping', 2]),
    );
  });

  it('keeps its basis where nobody touched it', () => {
    expect(leftAt('bleed-seat', plug, [], [])).toEqual(plug);
    expect(leftAt('bleed-seat', undefined, [], [])).toEqual(notKnown);
  });

  it('is not known where what went in has no name', () => {
    expect(leftAt('bleed-seat', plug, [{ element: 'plug-m5' }], [{ element: unknown }])).toEqual(notKnown);
  });

  it('is known where what came out has no name and nothing can be left', () => {
    expect(leftAt('bleed-seat', plug, [{ element: unknown }], [{ element: 'plug-m5' }])).toEqual(seen(['plug-m5', 1]));
    expect(leftAt('damping-stack', stack, [{ element: unknown, quantity: 3 }], [shim(1)])).toEqual(
      seen(['shim-0.5', 1]),
    );
    expect(leftAt('damping-stack', stack, [{ element: unknown, quantity: 2 }, shim(1)], [])).toEqual(seen());
  });

  it('is not known where a piece without a name came out of several', () => {
    expect(leftAt('damping-stack', stack, [{ element: unknown, quantity: 1 }], [])).toEqual(notKnown);
    expect(leftAt('damping-stack', stack, [{ element: unknown, quantity: 1 }, shim(1)], [shim(1)])).toEqual(notKnown);
  });

  it('is what went into a seat of which nothing was known: it has room for one', () => {
    expect(leftAt('bleed-seat', undefined, [], [{ element: 'plug-m5' }])).toEqual(seen(['plug-m5', 1]));
    expect(leftAt('bleed-seat', undefined, [{ element: 'orifice-0.8' }], [{ element: 'plug-m5' }])).toEqual(
      seen(['plug-m5', 1]),
    );
  });

  it('is not known where something was added to a pocket of which nothing was known', () => {
    expect(leftAt('damping-stack', undefined, [], [shim(1)])).toEqual(notKnown);
    expect(leftAt('damping-stack', undefined, [shim(2)], [shim(1)])).toEqual(seen(['shim-0.5', 1]));
  });
});

describe('the fit that a record leaves', () => {
  it('has nothing to say of a closure out of which something nameless came', () => {
    const dirt = { station: 'side-cap', element: { unknown: 'dirt, perhaps' } };
    const setup = change(conversionOnPump(), { '/body/removed/-': dirt });
    expect(kept(setup).effects[0]?.effect.changed).toEqual({
      'bleed-seat': { elements: held(['plug-m5', 1]), basis: 'seen' },
    });
  });

  const setup = (): Setup => conversionOnPump();

  it('has every station that can hold something, of control and pump, and no closure', () => {
    const { fit } = kept(setup()).judgement;
    expect(Object.keys(fit)).toContain('pump/linkage');
    expect(Object.keys(fit)).not.toContain('side-cap');
    expect(Object.keys(fit)).not.toContain('pump/flank-cover');
    expect(fit['bleed-seat']).toEqual({ elements: held(['plug-m5', 1]), basis: 'seen' });
    expect(fit['pilot-seat']).toEqual({ elements: held(['plug-m5', 1]), basis: 'built' });
  });

  it('is what control and pump are folded to', () => {
    const { control, pump } = states(setup());
    const folded = Object.entries({ ...control.stations, ...pump.stations });
    const plain = Object.fromEntries(folded.map(([station, { record: _, ...content }]) => [station, content]));
    expect(plain).toEqual(kept(setup()).judgement.fit);
    expect(control.stations['bleed-seat']?.record).toBe('fact');
    expect(Object.keys(control.stations).some((station) => station.startsWith('pump/'))).toBe(false);
    expect(Object.keys(pump.stations).every((station) => station.startsWith('pump/'))).toBe(true);
  });
});
