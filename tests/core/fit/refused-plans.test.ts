/** What a planner refuses, with the reason, and the nearest job that it plans. Values are those of the demo edition. */
import { describe, expect, it } from 'vitest';
import { allowedLike, satisfies } from '../../../src/core/fit/choose-contents.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { demoJob, demoWith, pump83 } from '../../support/bench/demo-job.ts';

const refusalOf = (job: ConversionJob) => {
  const plan = planConversion(job);
  return 'refused' in plan ? plan.refused : null;
};
const choosing = (station: string, element: string, to = 'load-sense-bled', rest: Partial<ConversionJob> = {}) =>
  refusalOf(demoJob('load-sense', to, { ...rest, choices: { [station]: element } }));

describe('a choice', () => {
  it('is one that the function leaves at that station', () => {
    expect(choosing('bleed-seat', 'orifice-0.8')).toBeNull();
    expect(choosing('bleed-seat', 'plug-m5')).toBe(
      "the function doesn't allow plug-m5 at bleed-seat: choose one of orifice-0.6, orifice-0.8",
    );
  });

  it('is refused where the function wants nothing, several pieces, or whatever is there', () => {
    for (const station of ['vent-seat', 'damping-stack', 'test-port', 'side-cap', 'nowhere', 'pump/linkage']) {
      expect(choosing(station, 'plug-m5')).toBe(`the function leaves no choice at ${station}`);
    }
  });

  it('on the pump waits for the pump', () => {
    const onShelf = { pump: null, builtFor: { size: '83' } };
    expect(choosing('pump/linkage', 'link-torque', 'torque-limit')).toBeNull();
    expect(choosing('pump/linkage', 'link-torque', 'torque-limit', onShelf)).toBe(
      'pump/linkage is on the pump: choose once the control is there',
    );
    expect(choosing('bleed-seat', 'orifice-0.6', 'torque-limit', onShelf)).toBeNull();
  });
});

describe('a conversion is refused', () => {
  it('for a body, size or series that the edition has not', () => {
    const job = demoJob('load-sense', 'load-sense-bled');
    expect(refusalOf({ ...job, body: 'curlew-cube' })).toBe('edition 2026-1 has no body curlew-cube');
    expect(refusalOf({ ...job, pump: { ...pump83, size: '90' } })).toBe(
      'edition 2026-1 has no size 90 of series curlew',
    );
    expect(refusalOf({ ...job, pump: { ...pump83, series: 'wren' } })).toBe(
      'edition 2026-1 has no size 83 of series wren',
    );
    expect(refusalOf(job)).toBeNull();
  });

  it('for a pump that the body does not go on', () => {
    const pump = { ...pump83, size: '52' };
    const edition = demoWith({ '/series/0/sizes/0/bodies': ['curlew-wedge'] });
    expect(refusalOf(demoJob('load-sense', 'load-sense-bled', { edition, pump }))).toBe(
      "body curlew-block doesn't go on size 52 of series curlew",
    );
    expect(refusalOf(demoJob('load-sense', 'load-sense-bled', { pump }))).toBeNull();
  });

  it('for a function that the body can not have, and says which ones it can', () => {
    const job = demoJob('load-sense', 'load-sense-bled');
    expect(planConversion({ ...job, to: 'thermostat' })).toEqual({
      refused: "body curlew-block can't have thermostat with size 83 and rotation clockwise",
      offered: ['pressure-limit', 'load-sense', 'load-sense-bled', 'remote-pressure', 'torque-limit'],
    });
    expect(planConversion({ ...job, pump: null, to: 'torque-limit' })).toEqual({
      refused: "body curlew-block can't have torque-limit while its size (83 or 124) is not stated",
      offered: ['pressure-limit', 'load-sense', 'load-sense-bled', 'remote-pressure'],
    });
  });

  it('for a function that depends on a voltage, until that is stated', () => {
    const job = demoJob('load-sense', 'electric-pressure');
    expect(refusalOf(job)).toBe(
      "body curlew-block can't have electric-pressure while its voltage (12 V or 24 V) is not stated",
    );
    expect(refusalOf({ ...job, builtFor: { voltage: '48 V' } })).toBe(
      "body curlew-block can't have electric-pressure with size 83 and rotation clockwise and voltage 48 V",
    );
    expect(refusalOf({ ...job, builtFor: { voltage: '24 V' } })).toBeNull();
  });

  it('for a function that depends on more than one thing that is not stated, and names them all', () => {
    const edition = demoWith({
      '/functions/4/patterns/0/when/voltage': '12 V',
      '/functions/4/patterns/1/when/voltage': '24 V',
    });
    const job = { ...demoJob('load-sense', 'torque-limit', { edition }), pump: null };
    expect(refusalOf(job)).toBe(
      "body curlew-block can't have torque-limit while its size (83 or 124) and voltage (12 V or 24 V) are not stated",
    );
    expect(refusalOf({ ...job, builtFor: { size: '83' } })).toBe(
      "body curlew-block can't have torque-limit while its voltage (12 V) is not stated",
    );
    expect(refusalOf({ ...job, builtFor: { size: '83', voltage: '12 V' } })).toBeNull();
  });

  it('for a function whose place on the pump only a size of that name in another series has', () => {
    const bare = {
      displacement: '83 cm3',
      ratedPressure: '250 bar',
      highestSetting: '265 bar',
      peakPressure: '320 bar',
    };
    const values = Object.entries({ ...bare, maxSpeed: '2400 r/min' }).map(([name, text]) => {
      const [value, unit] = text.split(' ');
      return [name, { value, unit }];
    });
    const sizes = [{ id: '83', ...Object.fromEntries(values), bodies: ['curlew-block'] }];
    const edition = demoWith({ '/series/-': { id: 'wren', sizes } });
    const other = { ...pump83, series: 'wren' };
    const plan = planConversion({ ...demoJob('load-sense', 'torque-limit', { edition }), pump: other });
    expect(plan).toMatchObject({ refused: expect.stringContaining("can't have torque-limit") });
    expect(refusalOf(demoJob('load-sense', 'torque-limit', { edition }))).toBeNull();
  });

  it('for what was opened when that does not reach what is changed, and names only that', () => {
    const job = demoJob('load-sense-bled', 'remote-pressure');
    expect(refusalOf({ ...job, opened: ['sense-adjuster', 'sense-spring'] })).toBe(
      "pilot-seat can't be reached through what was opened",
    );
    expect(refusalOf({ ...job, opened: ['sense-adjuster', 'sense-spring', 'side-cap'] })).toBeNull();
  });
});

describe('a content', () => {
  it('that is not known satisfies nothing but a demand to keep it', () => {
    const unknown = { elements: null, basis: 'unknown' as const };
    expect(satisfies(unknown, 'keep')).toBe(true);
    expect(satisfies(unknown, 'none')).toBe(false);
    expect(satisfies({ elements: [], basis: 'seen' }, 'none')).toBe(true);
  });

  it('is one of a list, the one that is there where it will do, or all of a list of quantities together', () => {
    const one = (element: string) => [{ element, quantity: 1 }];
    expect(allowedLike(['plug', 'orifice'], [])).toEqual(one('plug'));
    expect(allowedLike(['plug', 'orifice'], one('orifice'))).toEqual(one('orifice'));
    expect(allowedLike(['plug', 'orifice'], one('spool'))).toEqual(one('plug'));
    const stack = [...one('washer'), { element: 'shim', quantity: 2 }];
    expect(allowedLike(stack, one('shim'))).toEqual(stack);
  });

  it('leaves of what may be there up to a number what is there, as far as it is allowed and has room', () => {
    const stack = [
      { element: 'thick', upTo: 2 },
      { element: 'spring', quantity: 1 },
      { element: 'thin', upTo: 2 },
    ];
    const held = (...quantities: number[]) =>
      ['spring', 'thick', 'thin'].flatMap((element, nth) => {
        const quantity = quantities[nth] ?? 0;
        return quantity > 0 ? [{ element, quantity }] : [];
      });
    expect(allowedLike(stack, [])).toEqual(held(1, 0, 0));
    expect(allowedLike(stack, held(0, 0, 1))).toEqual(held(1, 0, 1));
    expect(allowedLike(stack, held(2, 3, 1))).toEqual(held(1, 2, 1));
    expect(allowedLike(stack, held(1, 2, 2), 4)).toEqual(held(1, 2, 1));
    const seen = (...quantities: number[]) => ({ elements: held(...quantities), basis: 'seen' as const });
    expect(satisfies(seen(1, 2, 2), stack)).toBe(true);
    expect(satisfies(seen(1, 0, 0), stack)).toBe(true);
    expect(satisfies(seen(1, 0, 3), stack)).toBe(false);
    expect(satisfies(seen(0, 1, 0), stack)).toBe(false);
    expect(satisfies(seen(1, 1, 0), [{ element: 'spring', quantity: 1 }])).toBe(false);
  });
});
