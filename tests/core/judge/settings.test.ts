import { describe, expect, it } from 'vitest';
import {
  adjustment,
  change,
  conversionOnPump,
  conversionOnShelf,
  follow,
  mounting,
  q,
  states,
  takingOff,
} from '../../support/cases.ts';
import { inEdition } from '../rules/rule-test.ts';

const settingsOf = (setup: ReturnType<typeof adjustment>) =>
  Object.fromEntries(
    Object.entries(states(setup).control.settings).map(([id, { value, unit }]) => [id, `${value} ${unit}`]),
  );

describe('the settings of a pair', () => {
  it('are what was read last, as it was read, and keep what was not touched', () => {
    const twice = change(adjustment(), {
      '/body/settings/-': { setting: 'pressure-limit', reading: q('21.60', 'MPa'), instrument: 'gauge-1' },
    });
    expect(settingsOf(adjustment())).toEqual({ 'pressure-limit': '215 bar', differential: '20 bar' });
    expect(settingsOf(twice)).toEqual({ 'pressure-limit': '21.60 MPa', differential: '20 bar' });
  });

  it('are not known where their adjuster was taken out and nothing was read afterwards', () => {
    const unread = change(conversionOnPump(), { '/body/settings': [] });
    expect(settingsOf(unread)).toEqual({ 'pressure-limit': '210 bar' });
  });

  it('are not known where a place was opened that takes their spring, or another was turned under the same locknut', () => {
    const range = { min: q('50', 'bar'), max: q('250', 'bar') };
    const sprung = change(conversionOnPump(), {
      [`${inEdition('elements', 'orifice-0.6')}/ranges`]: { 'pressure-limit': range },
    });
    expect(settingsOf(sprung)).toEqual({ differential: '20 bar' });
    const index = adjustment().edition.bodies[0]?.settings.findIndex((one) => one.id === 'differential');
    const together = change(adjustment(), { [`/edition/bodies/0/settings/${index}/station`]: 'pressure-adjuster' });
    expect(settingsOf(together)).toEqual({ 'pressure-limit': '215 bar' });
  });

  it('are not what was found when the adjuster was taken out after that', () => {
    const found = { settings: { differential: q('19', 'bar'), 'pressure-limit': q('205', 'bar') } };
    const unread = change(conversionOnPump(), { '/body/settings': [], '/body/found': found });
    expect(settingsOf(unread)).toEqual({ 'pressure-limit': '205 bar' });
  });

  it('are lost when the control comes off, and are not those of the next pump', () => {
    expect(settingsOf(takingOff())).toEqual({});
    const unset = change(mounting(), { '/body/settings': [] });
    expect(settingsOf(follow(takingOff(), unset))).toEqual({});
    expect(settingsOf(follow(takingOff(), mounting()))).toEqual({
      'pressure-limit': '210 bar',
      differential: '20 bar',
    });
  });

  it('cannot be read on the shelf', () => {
    const read = change(conversionOnShelf(), {
      '/body/settings': [{ setting: 'differential', reading: q('20', 'bar'), instrument: 'stand-1' }],
    });
    expect(settingsOf(read)).toEqual({});
  });
});
