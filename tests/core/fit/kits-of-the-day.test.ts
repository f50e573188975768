/** Kits that are withdrawn on the day of the work are not offered. The demo edition withdraws one from 2025-07-01. */
import { describe, expect, it } from 'vitest';
import { planMounting } from '../../../src/core/fit/plan-mounting.ts';
import { demoJob, demoWith, pump83 } from '../../support/bench/demo-job.ts';
import { planned, planOf } from '../../support/bench/expected.ts';

const early = 'kit-remote-early';

describe('a kit that is withdrawn from a day on', () => {
  const kitsOn = (day: string | undefined) =>
    planOf(
      demoJob('load-sense', 'remote-pressure', { stock: { [early]: 1 }, ...(day !== undefined && { day }) }),
    ).cover.kits.map((kit) => kit.part);

  it('is offered until the day before', () => {
    expect(kitsOn('2025-06-30')).toEqual([early]);
    expect(kitsOn('2025-07-01')).toEqual([]);
    expect(kitsOn('2026-03-14')).toEqual([]);
  });

  it('is offered where the day is not said', () => {
    expect(kitsOn(undefined)).toEqual([early]);
  });

  it('is not offered for a mounting either', () => {
    const withdrawn = demoWith({ '/kits/11/withdrawnFrom': '2026-03-15' });
    const { edition, body, fit, builtFor } = demoJob('load-sense', 'load-sense', { edition: withdrawn });
    const kits = (day: string) => {
      const job = { edition, body, fit, builtFor, pump: pump83, function: 'load-sense', day };
      return planned(planMounting(job)).cover;
    };
    expect(kits('2026-03-14').kits).toEqual([{ part: 'kit-overhaul-nbr', quantity: 1 }]);
    expect(kits('2026-03-15')).toEqual({
      kits: [],
      loose: [{ seal: 'seal-face', quantity: 3 }],
      leftOver: [],
      cost: 0,
    });
  });
});

describe('a kit whose seals the fluid of the pump would eat', () => {
  it('leaves the seals loose, and they are left over', () => {
    const coverWith = (fluid: string) =>
      planOf(demoJob('load-sense', 'remote-pressure', { stock: { [early]: 1 }, pump: { ...pump83, fluid } })).cover;
    const sealsIn = (list: readonly object[]) => list.filter((one) => 'seal' in one).length;
    expect(sealsIn(coverWith('mineral').loose)).toBeLessThan(sealsIn(coverWith('ester').loose));
    expect(coverWith('ester').leftOver).toEqual(
      expect.arrayContaining([
        { element: 'seal-22-nbr', quantity: 1 },
        { element: 'seal-14-nbr', quantity: 3 },
      ]),
    );
  });
});
