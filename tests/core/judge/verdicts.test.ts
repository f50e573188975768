import { describe, expect, it } from 'vitest';
import { adjustment, change, conversionOnPump, judged, kept, mounting, q, type Setup } from '../../support/cases.ts';

/** Nobody has said how true the instrument is: that is said, and no number is made up. */
const nothingKnown = {
  ...{ uncertainty: null, guardBand: null, probability: null, basis: null, linear: null },
  ...{ calibration: null, foundBy: null },
};

const verdicts = (setup: Setup) => kept(setup).judgement.verdicts;

describe('the verdicts on the readings of a record', () => {
  it('say of every reading within what it was held, by which rule, and with which version of its instrument', () => {
    expect(verdicts(adjustment())).toEqual([
      {
        ...{ pointer: '/torques/0/reading', of: 'torque', place: 'pressure-adjuster-locknut', reading: q('21', 'N.m') },
        ...{ min: q('19', 'N.m'), max: q('23', 'N.m') },
        ...{ rule: 'simple', verdict: 'conforms', instrument: 'fact-of-wrench-1', ...nothingKnown },
        ...{ estimate: q('21', 'N.m'), fitness: { ratio: null, fit: null, partOfRange: 0.21 } },
      },
      {
        ...{ pointer: '/settings/0/reading', of: 'setting', place: 'pressure-limit', reading: q('215', 'bar') },
        min: { ...q('50', 'bar'), from: 'function load-sense-bled' },
        max: { ...q('250', 'bar'), from: 'element adjuster-250' },
        ...{ rule: 'simple', verdict: 'conforms', instrument: 'fact-of-gauge-1', ...nothingKnown },
        ...{ estimate: q('215', 'bar'), fitness: { ratio: null, fit: null, partOfRange: 0.538 } },
      },
    ]);
  });

  it('are given for each screw, also for what was closed again, and where the instrument is not known', () => {
    const again = { joint: 'mounting', how: 'set', reading: q('30', 'N.m'), instrument: { unknown: 'borrowed' } };
    const list = verdicts(change(mounting(), { '/body/torques/-': again })).filter((one) => one.place === 'mounting');
    expect(list.map((one) => [one.pointer, one.verdict, one.instrument])).toEqual([
      ['/torques/0/reading/0', 'conforms', 'fact-of-wrench-1'],
      ['/torques/0/reading/1', 'conforms', 'fact-of-wrench-1'],
      ['/torques/0/reading/2', 'conforms', 'fact-of-wrench-1'],
      ['/torques/0/reading/3', 'conforms', 'fact-of-wrench-1'],
      ['/torques/3/reading', 'outside', null],
    ]);
    const unknownGauge = change(adjustment(), { '/body/settings/0/instrument': { unknown: 'borrowed' } });
    expect(verdicts(unknownGauge).at(-1)).toMatchObject({ of: 'setting', verdict: 'conforms', instrument: null });
  });

  it('are not given on a setting that the function has not, or where there is no function', () => {
    const of = (setup: Setup) => verdicts(setup).filter((one) => one.of === 'setting');
    const other = { setting: 'pump/torque-limit', reading: q('9', 'N.m'), instrument: 'stand-1' };
    expect(of(change(adjustment(), { '/body/settings/0': other }))).toEqual([]);
    expect(of(change(conversionOnPump(), { '/body/to': null }))).toEqual([]);
    expect(of(conversionOnPump())).toHaveLength(1);
  });

  it('are no verdict on a unit that measures something else: the record is refused for it, on one limit as on two', () => {
    const index = conversionOnPump().edition.functions.findIndex((one) => one.id === 'load-sense');
    for (const limits of [
      { min: q('10', 'bar') },
      { max: q('35', 'bar') },
      { min: q('10', 'bar'), max: q('35', 'bar') },
      {},
    ]) {
      const setup = change(conversionOnPump(), {
        [`/edition/functions/${index}/settings/1`]: { setting: 'differential', ...limits },
        '/control/events/0/effect/found/sense-spring': undefined,
        '/body/settings/0/reading': q('20', 'mA'),
      });
      const result = judged(setup);
      expect('refused' in result ? result.refused.map((one) => one.rule) : []).toEqual(['unit-wrong']);
    }
  });

  it('hold for values as large and as fine as a reading may be', () => {
    const huge = change(adjustment(), {
      '/body/settings/0/reading': q('9999.99999999999', 'MPa'),
      '/body/torques/0/reading': q('22.9999999999999', 'N.m'),
    });
    expect(verdicts(huge).map((one) => one.verdict)).toEqual(['conforms', 'outside']);
    const negative = change(adjustment(), { '/body/settings/0/reading': q('-215', 'bar') });
    expect(verdicts(negative).at(-1)?.verdict).toBe('outside');
  });
});
