import { describe, expect, it } from 'vitest';
import { planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { sheetDigest } from '../../../src/core/fit/sheet-digest.ts';
import { knownSettings } from '../../../src/core/history/at-hand.ts';
import { caseOf, change, conversionOnPump, conversionOnShelf, findingsBy, type Setup } from '../../support/cases.ts';

const recorded = '/control/events/0/effect/found';

/** The digest of the sheet that was printed before the work, from what the records had. */
function printed(setup: Setup, choices: Readonly<Record<string, string>> = {}): string {
  const { edition, layout, pumpAtHand, builtFor, before, functionBefore, control, record } = caseOf(setup);
  const plan = planConversion({
    ...{ edition, body: layout.body.id, pump: pumpAtHand, builtFor, fit: before, from: functionBefore, choices },
    ...{ settings: knownSettings(control.state), to: record.to?.function ?? '' },
  });
  if ('refused' in plan) throw new Error(plan.refused);
  return sheetDigest(plan);
}

const noted = (setup: Setup, sheet = printed(setup)) =>
  findingsBy('sheet-differs', change(setup, { '/body/sheet': sheet }));

describe('the sheet that was printed before the work', () => {
  it('is the one for the unit, on a pump and on the shelf', () => {
    expect(noted(conversionOnPump())).toEqual([]);
    expect(noted(conversionOnShelf())).toEqual([]);
    expect(noted(conversionOnPump(), printed(conversionOnShelf()))).toHaveLength(1);
  });

  it('is the one for the unit also where the work chose another element that the function allows', () => {
    const bled = change(conversionOnPump(), {
      [`${recorded}/bleed-seat/elements`]: [{ element: 'plug-m5', quantity: 1 }],
      '/control/events/0/effect/function': 'load-sense',
      '/body/to/function': 'load-sense-bled',
      '/body/removed/0/element': 'plug-m5',
      '/body/fitted/0/element': 'orifice-0.8',
    });
    expect(noted(bled, printed(bled, { 'bleed-seat': 'orifice-0.8' }))).toEqual([]);
    expect(noted(bled, printed(bled, { 'bleed-seat': 'orifice-0.6' }))).toHaveLength(1);
  });

  it('is the one for the unit where the look that it asks for only made surer what was assumed', () => {
    const seenAs = (element: string) =>
      change(conversionOnPump(), {
        [`${recorded}/pilot-seat/basis`]: 'assumed',
        '/body/found': { stations: { 'pilot-seat': [{ element }] } },
      });
    expect(noted(seenAs('plug-m5'))).toEqual([]);
    expect(noted(seenAs('orifice-0.8'))).toHaveLength(1);
  });

  it('is the one for the unit where the look found out what nobody knew', () => {
    const found = change(conversionOnPump(), {
      [`${recorded}/bleed-seat`]: undefined,
      '/body/found': { stations: { 'bleed-seat': [{ element: 'orifice-0.8' }] } },
      '/body/removed/0/element': 'orifice-0.8',
    });
    expect(noted(found)).toEqual([]);
  });

  it('is another where another function was found', () => {
    const setup = change(conversionOnPump(), {
      '/body/found': { function: 'load-sense', stations: { 'bleed-seat': [] } },
    });
    expect(noted(setup)).toHaveLength(1);
  });
});
