import { describe, expect, it } from 'vitest';
import type { Body, Edition, Fun, Size } from '../../../src/core/catalogue/edition.ts';
import {
  bodyOf,
  elementOf,
  functionOf,
  functionsOf,
  functionsOfferedTo,
  jointsOf,
  patternFor,
  pumpValueNames,
  pumpValueOf,
  sealsFitting,
  settingsOf,
  sizeOf,
  sizesWith,
  stationsOf,
} from '../../../src/core/catalogue/lookup.ts';
import { changed, checkedEdition, editionInput, editionNamed } from '../../support/editions/editions.ts';

const small = editionNamed('small');
const linkage = editionNamed('linkage');
const rotation = editionNamed('rotation');

describe('a look-up by id', () => {
  it('finds bodies, elements and sizes, and answers null for what is not there', () => {
    expect(bodyOf(small, 'block')).toBe(small.bodies[0]);
    expect(bodyOf(small, 'blok')).toBeNull();
    expect(elementOf(small, 'shim')).toBe(small.elements[4]);
    expect(elementOf(small, 'shimm')).toBeNull();
    expect(sizeOf(small, 'curlew', '83')?.displacement).toEqual({ value: '83', unit: 'cm3' });
    expect(sizeOf(small, 'curlew', '84')).toBeNull();
    expect(sizeOf(small, 'dunlin', '83')).toBeNull();
  });

  it('tells functions of the same id apart by body', () => {
    expect(functionOf(small, 'block', 'limit')?.patterns).toHaveLength(1);
    expect(functionOf(small, 'turned', 'limit')?.patterns).toHaveLength(2);
    expect(functionOf(small, 'turned', 'sense')).toBeNull();
    expect(functionOf(small, 'blok', 'limit')).toBeNull();
    expect(functionsOf(small, 'block').map((fun) => fun.id)).toEqual(['limit', 'sense', 'torque']);
    expect(functionsOf(small, 'blok')).toEqual([]);
  });

  it('finds the seals of a seal size and the sizes of a body, over all series', () => {
    const edition = smallWith({
      '/elements/-': { id: 'seal-10-fkm', kind: 'seal', fits: 'seal-10' },
      '/series/-': { id: 'dunlin', sizes: [{ ...small.series[0]?.sizes[0], id: '60' }] },
    });
    expect(sealsFitting(edition, 'seal-10').map((seal) => seal.id)).toEqual(['seal-10-nbr', 'seal-10-fkm']);
    expect(sealsFitting(edition, 'seal-11')).toEqual([]);
    expect(sizesWith(edition, 'block').map((size) => size.id)).toEqual(['52', '83', '60']);
    expect(sizesWith(edition, 'blok')).toEqual([]);
  });

  it('gives the values of a pump by the names that relations use, and null where it states none', () => {
    const size = sizeNamed(small, '52');
    expect(pumpValueNames.map((name) => pumpValueOf(size, name)?.value ?? null)).toEqual([
      '52',
      '250',
      '265',
      '320',
      '2600',
      null,
    ]);
    expect(pumpValueOf(size, 'constructor')).toBeNull();
  });
});

describe('the places of a control on a pump', () => {
  const body = bodyNamed(linkage, 'link-block');
  const size = sizeNamed(linkage, '83');

  it('are those of the body alone while the size is not known', () => {
    expect(stationsOf(body, null)).toBe(body.stations);
    expect(jointsOf(body, null)).toBe(body.joints);
    expect(settingsOf(body, null)).toBe(body.settings);
  });

  it('have those of the pump after them, under their prefix', () => {
    expect(stationsOf(body, size).map((one) => one.id)).toEqual([
      ...body.stations.map((one) => one.id),
      'pump/cover',
      'pump/linkage',
      'pump/link-spring',
      'pump/pivot',
      'pump/screw',
      'pump/stop',
    ]);
    expect(settingsOf(body, size).map(({ id, station }) => [id, station])).toEqual([
      ['limit', 'adjuster'],
      ['pump/torque', 'pump/screw'],
      ['pump/displacement', 'pump/stop'],
    ]);
  });

  it('prefix the station of a joint, and leave a mounting joint without one', () => {
    const joints = jointsOf(body, size).filter((one) => one.id.startsWith('pump/'));
    expect(joints.map(({ id, station, mounting }) => [id, station, mounting])).toEqual([
      ['pump/cover-screws', 'pump/cover', undefined],
      ['pump/linkage-bolt', 'pump/linkage', undefined],
      ['pump/pivot-pin', 'pump/pivot', undefined],
      ['pump/screw-locknut', 'pump/screw', undefined],
      ['pump/stop-locknut', 'pump/stop', undefined],
      ['pump/flange', undefined, true],
    ]);
    expect(Object.hasOwn(joints.at(-1) ?? {}, 'station')).toBe(false);
  });

  it('prefix a way in through the pump itself, and leave one through the body or already prefixed', () => {
    const ways = new Map(stationsOf(body, size).map((one) => [one.id, one.access]));
    expect(ways.get('pump/cover')).toBeUndefined();
    expect(ways.get('pump/link-spring')).toEqual([['pump/cover', 'pump/linkage']]);
    expect(ways.get('pump/pivot')).toEqual([['under-cap'], ['pump/cover', 'pump/linkage']]);
    expect(ways.get('back-seat')).toEqual([['pump/cover'], ['front-cap', 'bore']]);
  });

  it('leave the edition as it was, however often they are asked for', () => {
    stationsOf(body, size);
    expect(stationsOf(body, size)).toEqual(stationsOf(body, size));
    expect(size.stations.map((one) => one.id)).toEqual(['cover', 'linkage', 'link-spring', 'pivot', 'screw', 'stop']);
    expect(size.stations[3]?.access).toEqual([['under-cap'], ['pump/cover', 'linkage']]);
  });
});

describe('the pattern of a function', () => {
  const hold = functionNamed(rotation, 'mirror-block', 'hold');
  const even = functionNamed(rotation, 'mirror-block', 'even');

  it('is the one for the rotation', () => {
    expect(patternFor(hold, { rotation: 'clockwise' })).toBe(hold.patterns[0]);
    expect(patternFor(hold, { rotation: 'counterclockwise' })).toBe(hold.patterns[1]);
  });

  it('is none where it asks for what is not known', () => {
    expect(patternFor(hold, {})).toBeNull();
    expect(patternFor(hold, { rotation: null, size: '83' })).toBeNull();
  });

  it('is the first that is satisfied, and one without conditions always is', () => {
    expect(patternFor(even, { rotation: 'counterclockwise', size: '83' })).toBe(even.patterns[0]);
    expect(patternFor(even, { rotation: 'counterclockwise', size: '52' })).toBe(even.patterns[1]);
    expect(patternFor(even, { rotation: 'counterclockwise' })).toBe(even.patterns[1]);
    expect(patternFor(even, {})).toBe(even.patterns[1]);
  });

  it('may ask for a voltage', () => {
    const electric = functionNamed(editionNamed('demo'), 'curlew-block', 'electric-pressure');
    expect(patternFor(electric, { voltage: '24 V' })?.stations['coil-cavity']).toEqual(['cartridge-electric-24']);
    expect(patternFor(electric, { voltage: '48 V' })).toBeNull();
  });
});

describe('the functions offered to a body', () => {
  it('are those with a pattern for the rotation', () => {
    expect(offered(rotation, 'mirror-block', { rotation: 'clockwise' })).toEqual(['hold', 'yield', 'one-way', 'even']);
    expect(offered(rotation, 'mirror-block', { rotation: 'counterclockwise' })).toEqual(['hold', 'yield', 'even']);
    expect(offered(rotation, 'mirror-block', {})).toEqual(['even']);
  });

  it('are only those whose elements the pump has a station for', () => {
    expect(offered(linkage, 'link-block', { size: '83' })).toEqual(['hold', 'bleed', 'torque']);
    expect(offered(linkage, 'link-block', { size: '52' })).toEqual(['hold', 'bleed']);
    const anySize = smallWith({ '/functions/2/patterns/0/when': {} });
    expect(offered(anySize, 'block', { size: '83' })).toEqual(['limit', 'sense', 'torque']);
    expect(offered(anySize, 'block', { size: '52' })).toEqual(['limit', 'sense']);
    expect(offered(anySize, 'block', { size: null })).toEqual(['limit', 'sense', 'torque']);
  });

  it('are none on a size that the body does not fit', () => {
    expect(offered(small, 'turned', { rotation: 'clockwise', size: '83' })).toEqual(['limit']);
    expect(offered(small, 'turned', { rotation: 'clockwise', size: '52' })).toEqual([]);
  });

  it('leave out what is retired', () => {
    expect(offered(smallWith({ '/functions/1/retired': true }), 'block', {})).toEqual(['limit']);
  });
});

function offered(edition: Edition, body: string, circumstances: Parameters<typeof patternFor>[1]): string[] {
  return functionsOfferedTo(edition, bodyNamed(edition, body), circumstances).map((fun) => fun.id);
}

function smallWith(changes: Readonly<Record<string, unknown>>): Edition {
  return checkedEdition(changed(editionInput('small'), changes));
}

function bodyNamed(edition: Edition, id: string): Body {
  return there(bodyOf(edition, id));
}

function sizeNamed(edition: Edition, id: string): Size {
  return there(sizeOf(edition, 'curlew', id));
}

function functionNamed(edition: Edition, body: string, id: string): Fun {
  return there(functionOf(edition, body, id));
}

function there<T>(value: T | null): T {
  if (value === null) throw new Error('the test asks for something that its edition does not have');
  return value;
}
