/** A job sheet: what a plan says, for these units. Values are those of the demo edition. */
import { describe, expect, it } from 'vitest';
import { type SheetHeads, sheetOf } from '../../../src/core/fit/sheet.ts';
import { sheetLayout } from '../../../src/core/fit/sheet-layout.ts';
import { demoJob, demoWith, pump83 } from '../../support/bench/demo-job.ts';
import { planOf } from '../../support/bench/expected.ts';

const job = demoJob('load-sense-bled', 'remote-pressure');
const pump = { ...pump83, unit: 'p1', maker: 'ardenholm', name: 'P-1' };
const heads: SheetHeads = {
  control: { unit: 'k1', maker: 'ardenholm', name: 'K-1', body: 'curlew-block', builtFor: {} },
  pump,
  from: { function: 'load-sense-bled', fit: 'sha256:0' },
  to: { function: 'remote-pressure' },
};

function capSeals(change: Partial<SheetHeads> = {}, edition = job.edition) {
  const { joints } = sheetOf(planOf(job), edition, [], { ...heads, ...change });
  return joints.find(({ joint }) => joint === 'side-cap-body')?.seals;
}

describe('a sheet', () => {
  it('begins with the cautions and is in the language of the reader', () => {
    const sheet = sheetOf(planOf(job), job.edition, ['de-AT', 'en'], heads);
    expect(sheet.language).toBe('de');
    expect(sheet.cautions.at(-1)).toBe('Vor dem ersten Anlauf beide Einsteller zurückdrehen.');
    const members = Object.keys(sheet);
    expect(members.indexOf('cautions')).toBeLessThan(members.indexOf('steps'));
    expect(sheet.steps[1]?.text).toMatch(/öffnen/);
  });

  it('lists with each joint the seals that fit it and stand the fluid of the pump', () => {
    const cap = (...fitting: string[]) => [{ seal: 'seal-14', quantity: 1, fitting }];
    expect(capSeals()).toEqual(cap('seal-14-nbr', 'seal-14-fkm'));
    expect(capSeals({ pump: { ...pump, fluid: 'ester' } })).toEqual(cap('seal-14-fkm'));
    expect(capSeals({ pump: { ...pump, fluid: 'water-glycol' } })).toEqual(cap('seal-14-nbr'));
  });

  it('lists every seal that fits where the fluid is not known', () => {
    const both = ['seal-14-nbr', 'seal-14-fkm'];
    expect(capSeals({ pump: { ...pump, fluid: null } })?.[0]?.fitting).toEqual(both);
    expect(capSeals({ pump: null })?.[0]?.fitting).toEqual(both);
  });

  it('lists a seal that is said to stand no fluid in particular, and none that is retired', () => {
    const seal = (id: string) => `/elements/${job.edition.elements.findIndex((one) => one.id === id)}`;
    const ester = { pump: { ...pump, fluid: 'ester' } };
    const any = demoWith({ [`${seal('seal-14-nbr')}/fluids`]: undefined });
    expect(capSeals(ester, any)?.[0]?.fitting).toEqual(['seal-14-nbr', 'seal-14-fkm']);
    const retired = demoWith({ [`${seal('seal-14-fkm')}/retired`]: true });
    expect(capSeals(ester, retired)?.[0]?.fitting).toEqual([]);
  });
});

describe('the places of a sheet', () => {
  const placesOf = (body: string, on: SheetHeads['pump']) =>
    sheetLayout(job.edition, { control: { body }, pump: on }).stations.map(({ id }) => id);

  it('are those of the body, and of the pump where there is one', () => {
    expect(placesOf('curlew-block', null)).toContain('side-cap');
    expect(placesOf('curlew-block', null)).not.toContain('pump/linkage');
    expect(placesOf('curlew-block', pump)).toEqual(expect.arrayContaining(['side-cap', 'pump/linkage']));
  });

  it('are those of the pump alone for a body that the edition has not', () => {
    expect(placesOf('curlew-drum', { ...pump, size: '52' })).toEqual(['pump/displacement-stop']);
  });
});
