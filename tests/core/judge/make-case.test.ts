import { describe, expect, it } from 'vitest';
import { makeCase } from '../../../src/core/judge/make-case.ts';
import { caseOf, change, conversionOnPump, inputOf, mounting, q } from '../../support/cases.ts';

describe('a case', () => {
  const made = (changes: Readonly<Record<string, unknown>>) => makeCase(inputOf(change(conversionOnPump(), changes)));

  it('is not made of a control whose body the edition does not know', () => {
    expect(made({ '/control/events/0/effect/born/body': 'curlew-drum' })).toEqual({
      unknown: "edition 2026-1 doesn't know the body of control K-20931",
    });
  });

  it('is not made of a pump whose size or series the edition does not know', () => {
    expect(made({ '/pump/events/0/effect/born/size': '250' })).toEqual({
      unknown: "edition 2026-1 doesn't know size 250 of series curlew",
    });
    expect(made({ '/pump/events/0/effect/born/series': 'dunlin' })).toEqual({
      unknown: "edition 2026-1 doesn't know size 83 of series dunlin",
    });
  });

  it('has no places of a pump that is not known to be one', () => {
    const { layout, pumpAtHand } = caseOf(change(conversionOnPump(), { '/pump/events/0/effect/born': undefined }));
    expect(pumpAtHand).toBeNull();
    expect(layout.size).toBeNull();
  });

  it('of a mounting demands every setting of the function, whatever was known of another pump', () => {
    const settled = change(mounting(), {
      '/control/events/0/effect/settings': { 'pressure-limit': q('210', 'bar'), differential: q('20', 'bar') },
    });
    expect(caseOf(settled).demanded.evidence.settings).toEqual(['pressure-limit', 'differential']);
  });

  it('of a conversion that changes no function demands nothing that the work does not disturb', () => {
    const resealed = change(conversionOnPump(), {
      '/body/to/function': 'load-sense-bled',
      '/body/fitted/0/element': 'orifice-0.8',
      '/control/events/0/effect/settings': {},
    });
    expect(caseOf(resealed).demanded.evidence.settings).toEqual(['differential']);
    expect(caseOf(conversionOnPump()).demanded.evidence).toEqual({
      torques: ['sense-adjuster-body', 'sense-adjuster-locknut', 'bleed-seat-element'],
      settings: ['differential'],
      seals: ['sense-adjuster-body'],
      checks: ['make-safe', 'leak-free', 'function-check', 'plate-marked'],
    });
  });
});
