import { describe, expect, it } from 'vitest';
import { claimBody, claimEvidenceBody } from '../../../src/core/claims/claim-body.ts';

const q = (value: string, unit: string) => ({ value, unit });
const claim = {
  pump: { maker: 'ardenholm', serial: 'P-7741' },
  reference: 'BR-C-1',
  shop: 'brackwater-north',
  performedAt: '2026-09-01T08:00:00Z',
  failedAt: { at: '2026-08-01T00:00:00Z', precision: 'month' },
  part: 'pump',
  symptom: 'no-pressure',
  failureMode: 'unknown',
};
const placesOf = (body: object) =>
  claimBody.safeParse({ ...claim, ...body }).error?.issues.map((one) => `/${one.path.join('/')}`) ?? [];
const observed = (observations: object) => placesOf({ observations });

describe('a claim', () => {
  it('needs no more than what failed, when, and how', () => {
    expect(claimBody.parse(claim)).toEqual({ ...claim, attachments: [], observations: {} });
  });

  it('names one unit, and a pump by itself', () => {
    const control = { maker: 'ardenholm', serial: 'K-1' };
    expect(placesOf({ control })).toEqual(['/control']);
    expect(placesOf({ pump: undefined, part: 'control' })).toEqual(['/control']);
    expect(placesOf({ pump: undefined, control })).toEqual(['/part']);
    expect(placesOf({ pump: undefined, control, part: 'kit-part' })).toEqual([]);
  });

  it('takes that something is not known for whatever was to be observed', () => {
    const names = ['fluid', 'cleanliness', 'water', 'filter', 'inletPressure', 'casePressure', 'systemRelief'];
    for (const name of [...names, 'speed', 'oilTemperature']) {
      expect(observed({ [name]: { unknown: 'not measured' } })).toEqual([]);
      expect(observed({ [name]: { unknown: '' } })).not.toEqual([]);
    }
    expect(observed({ colour: 'brown' })).toEqual(['/observations']);
  });

  it('takes readings only of what they are readings of', () => {
    const good = {
      ...{ fluid: 'mineral oil, VG 46', cleanliness: '20/18/15', water: q('0.05', '%'), filter: '10 um, bypassed' },
      ...{ inletPressure: q('-0.3', 'bar'), casePressure: q('29', 'psi'), systemRelief: q('280', 'bar') },
      ...{ speed: q('1500', 'r/min'), oilTemperature: q('71', 'degC') },
    };
    expect(observed(good)).toEqual([]);
    for (const wrong of [
      { cleanliness: '15/18/20' },
      { water: q('101', '%') },
      { water: q('-1', '%') },
      { water: q('1', 'bar') },
      { inletPressure: q('1', 'h') },
      { speed: q('50', 'Hz') },
      { oilTemperature: q('71', 'bar') },
    ]) {
      const [place] = observed(wrong);
      expect([wrong, place]).toEqual([wrong, expect.stringMatching(`^/observations/${Object.keys(wrong)[0]}`)]);
    }
  });

  it('states running hours in h, and not less than none', () => {
    expect(placesOf({ hours: q('0', 'h') })).toEqual([]);
    expect(placesOf({ hours: q('-1', 'h') })).toEqual(['/hours/unit']);
    expect(placesOf({ hours: q('3600', 's') })).toEqual(['/hours/unit']);
  });

  it('states what the teardown found by station, setting and mark', () => {
    const asFound = {
      ...{ function: 'load-sense', plate: 'LS', settings: { differential: q('18', 'bar') } },
      stations: { 'bleed-seat': [], 'sense-bore': { unknown: 'not opened' } },
    };
    expect(claimBody.parse({ ...claim, asFound }).asFound).toEqual({ ...asFound, marks: [] });
    expect(placesOf({ asFound: { marks: [{ place: 'port plate', text: 'scored' }] } })).toEqual([]);
    expect(placesOf({ asFound: { marks: [{ place: 'port plate' }] } })).toEqual(['/asFound/marks/0/text']);
  });
});

describe('evidence that comes later', () => {
  const frame = { reference: 'BR-C-2', shop: 'brackwater-north', performedAt: '2026-09-08T08:00:00Z' };
  const says = (body: object) => claimEvidenceBody.safeParse({ ...frame, ...body }).success;

  it('says something new, whatever it is', () => {
    expect(says({})).toBe(false);
    expect(says({ observations: {} })).toBe(false);
    expect(says({ observations: { fluid: 'mineral oil' } })).toBe(true);
    expect(says({ asFound: { plate: 'LS' } })).toBe(true);
    expect(says({ note: 'the customer called' })).toBe(true);
    expect(says({ attachments: [`sha256:${'0'.repeat(64)}`] })).toBe(true);
  });
});
