import { describe, expect, it } from 'vitest';
import {
  adjustment,
  built,
  change,
  conversionOnPump,
  conversionOnShelf,
  findings,
  findingsBy,
  follow,
  inspection,
  mounting,
  q,
  type Setup,
  states,
  takingOff,
} from '../../support/cases.ts';

const one = (element: string) => [{ element }];
const electric = {
  'damping-stack': [{ element: 'washer-damping', quantity: 2 }],
  ...{ 'pilot-seat': one('orifice-0.8'), 'drain-seat': one('plug-m5'), 'sense-bore': one('spool-remote') },
  ...{ 'bleed-seat': one('plug-m5'), 'coil-cavity': one('cartridge-electric-24'), 'signal-port': one('port-plug') },
};
const toElectric = (setup: Setup, voltage: string) =>
  change(setup, {
    '/body/for': { voltage },
    '/body/to/function': 'electric-pressure',
    '/body/found': { stations: electric },
    '/body/removed': [],
    '/body/fitted': [],
  });
const builtForOf = (setup: Setup) => states(setup).control.builtFor;

describe('what a control is built for', () => {
  it('is what a conversion on the shelf says, also where it declares no function', () => {
    expect(builtForOf(conversionOnShelf())).toEqual({ size: '83', rotation: 'clockwise' });
    const none = change(conversionOnShelf(), { '/body/to': null });
    expect(builtForOf(none)).toEqual({ size: '83', rotation: 'clockwise' });
    const again = follow(conversionOnShelf(), change(inspection(), { '/pump': null }));
    expect(builtForOf(again)).toEqual({ size: '83', rotation: 'clockwise' });
  });

  it('is, after a conversion on a pump, what the pattern asked for there: a voltage stays known', () => {
    const then = follow(toElectric(conversionOnPump(), '24 V'), inspection());
    expect(builtForOf(toElectric(conversionOnPump(), '24 V'))).toEqual({ voltage: '24 V' });
    const stated = change(then, { '/body/found': { function: 'electric-pressure' } });
    expect(findingsBy('function-not-offered', stated)).toEqual([]);
    // The edition demands a guard band of it: without anything known of the stand nothing would be decided.
    const set = change(adjustment(), {
      '/instruments/stand-1/permissible': q('1', '%'),
      '/body/settings/0': { setting: 'starting-current', reading: q('300', 'mA'), instrument: 'stand-1' },
    });
    expect(findingsBy('setting-outside', follow(toElectric(conversionOnPump(), '24 V'), set))).toMatchObject([
      { expected: '230 to 290 mA' },
    ]);
  });

  it('is the size of the pump for a function that depends on it', () => {
    const limited = change(conversionOnPump(), {
      '/body/to/function': 'torque-limit',
      '/body/found': {
        stations: {
          ...{ 'drain-seat': one('plug-m5'), 'pump/linkage': one('link-torque') },
          ...{ 'pump/torque-spring': one('spring-torque-83'), 'pump/torque-adjuster': one('torque-screw') },
        },
      },
      '/body/removed': [],
      '/body/fitted': [],
    });
    expect(builtForOf(limited)).toEqual({ size: '83' });
  });

  it('is the rotation of the pump for a body that depends on it', () => {
    const wedge = {
      ...{
        'nose-cap': { 'relay-notched': 1 },
        'nose-bore': { 'spool-wedge-cw': 1 },
        'left-seat': { 'orifice-0.8': 1 },
      },
      ...{
        'right-seat': { 'plug-m5': 1 },
        'throat-seat': { 'orifice-0.6': 1 },
        'heel-adjuster': { 'adjuster-heel': 1 },
      },
      ...{
        'heel-spring': { 'spring-265': 1 },
        'ramp-adjuster': { 'adjuster-sense': 1 },
        'signal-port': { 'port-fitting': 1 },
      },
    };
    const kept = change(conversionOnPump(), {
      '/control/events/0/effect/born/body': 'curlew-wedge',
      '/control/events/0/effect/found': built(wedge),
      '/body/to/function': 'load-sense-bled',
      '/body/removed': [],
      '/body/fitted': [],
      '/body/seals': [],
      '/body/torques': [],
      '/body/settings': [],
    });
    expect(builtForOf(kept)).toEqual({ rotation: 'clockwise' });
    const off = follow(kept, takingOff());
    const turned = change(mounting(), { '/pump/events/0/effect/born/rotation': 'counterclockwise' });
    const onAnother = { ...follow(off, mounting()), pump: turned.pump };
    expect(findingsBy('not-for-pump', follow(off, mounting()))).toEqual([]);
    expect(findingsBy('not-for-pump', onAnother)).toMatchObject([
      { because: 'The control is built for clockwise rotation, the pump turns counterclockwise.' },
    ]);
  });

  it('is not a size any more that the function of a later conversion does not ask for', () => {
    const other = change(mounting(), { '/control/events/0/effect/builtFor': { size: '52' } });
    expect(findingsBy('not-for-pump', other)).toHaveLength(1);
    const converted = follow(other, conversionOnPump());
    expect(builtForOf(converted)).toEqual({});
    expect(findings(follow(follow(converted, takingOff()), mounting()))).toEqual([]);
  });

  it('stays as it was where the work on a pump leaves no function', () => {
    const none = change(mounting(), { '/control/events/0/effect/builtFor': { size: '52' } });
    expect(builtForOf(follow(none, change(conversionOnPump(), { '/body/to': null })))).toEqual({ size: '52' });
  });
});
