/** The demo edition is invented; what the documentation's examples name must be in it. */
import { describe, expect, it } from 'vitest';
import { bodyOf, functionOf, functionsOfferedTo, patternFor, sizeOf } from '../../../src/core/catalogue/lookup.ts';
import { editionNamed } from '../../support/editions/editions.ts';

const demo = editionNamed('demo');
const block = bodyOf(demo, 'curlew-block') ?? missing();
const wedge = bodyOf(demo, 'curlew-wedge') ?? missing();

describe('the demo edition', () => {
  it('has sizes 52, 83 and 124, each rated below its peak and never set above 265 bar', () => {
    for (const id of ['52', '83', '124']) {
      expect(sizeOf(demo, 'curlew', id)).toMatchObject({
        displacement: { value: id, unit: 'cm3' },
        ratedPressure: { value: '250', unit: 'bar' },
        highestSetting: { value: '265', unit: 'bar' },
        peakPressure: { value: '320', unit: 'bar' },
        bodies: ['curlew-block', 'curlew-wedge'],
      });
    }
  });

  it('takes load sensing with a bleed to remote pressure by a plug for an orifice at the bleed seat', () => {
    const demands = (id: string) => patternFor(functionOf(demo, 'curlew-block', id) ?? missing(), {})?.stations;
    expect(demands('load-sense-bled')).toMatchObject({
      'bleed-seat': ['orifice-0.6', 'orifice-0.8'],
      'pilot-seat': ['plug-m5'],
    });
    expect(demands('remote-pressure')).toMatchObject({ 'bleed-seat': ['plug-m5'], 'pilot-seat': ['orifice-0.8'] });
    const seat = block.stations.find((station) => station.id === 'bleed-seat');
    expect(seat).toMatchObject({ access: [['sense-adjuster']], accepts: ['plug-m5', 'orifice-0.6', 'orifice-0.8'] });
  });

  it('closes the adjusters to 61 N.m over a seal of 22 mm, from a source that is named', () => {
    for (const id of ['sense-adjuster-body', 'pressure-adjuster-body']) {
      expect(block.joints.find((joint) => joint.id === id)).toMatchObject({
        torque: { target: { unit: 'N.m' }, tolerance: { unit: 'N.m' } },
        tool: { drive: 'hex', size: '30 mm' },
        seals: [{ seal: 'seal-22', quantity: 1 }],
        source: expect.stringMatching(/\w/),
      });
    }
    expect(block.joints.filter((joint) => joint.closed === 'after-setting').map((joint) => joint.id)).toEqual([
      'pressure-adjuster-locknut',
      'sense-adjuster-locknut',
    ]);
  });

  it('offers what a size, a rotation and a voltage allow', () => {
    const on = (size: string) => functionsOfferedTo(demo, block, { size, voltage: '24 V' }).map((fun) => fun.id);
    expect(on('83')).toEqual([
      'pressure-limit',
      'load-sense',
      'load-sense-bled',
      'remote-pressure',
      'torque-limit',
      'electric-pressure',
    ]);
    expect(on('52')).not.toContain('torque-limit');
    const turned = (rotation: string) => functionsOfferedTo(demo, wedge, { rotation }).map((fun) => fun.id);
    expect(turned('clockwise')).toEqual(['pressure-limit', 'load-sense-bled', 'remote-pressure']);
    expect(turned('counterclockwise')).toEqual(['pressure-limit', 'load-sense-bled']);
  });

  it('asks for the checks that every conversion needs, the first of them safety', () => {
    const required = demo.checks.filter((check) => check.requiredBy.includes('conversion'));
    expect(required.map((check) => [check.id, check.role])).toEqual([
      ['make-safe', 'safety'],
      ['leak-free', 'leak'],
      ['function-check', 'function'],
      ['plate-marked', 'plate'],
    ]);
  });

  it('speaks of its functions, settings and checks in German too', () => {
    const german = demo.texts['de'] ?? {};
    const keys = [
      ...demo.functions.map((fun) => `function/${fun.id}`),
      ...block.settings.map((setting) => `setting/${setting.id}`),
      ...demo.checks.map((check) => `check/${check.id}`),
      ...demo.kits.map((kit) => `kit/${kit.part}`),
      ...[...block.stations, ...wedge.stations].map((station) => `station/${station.id}`),
    ];
    expect(keys.filter((key) => german[key] === undefined)).toEqual([]);
  });
});

describe('the account of one workshop', () => {
  it('says in its own header that it is common practice without a published source', () => {
    expect(editionNamed('workshop-account').texts['en']?.['note']).toContain('common practice, no published source');
  });
});

function missing(): never {
  throw new Error('the demo edition does not have it');
}
