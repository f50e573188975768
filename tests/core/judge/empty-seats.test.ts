/** At a seat the joint is the thread of what sits there: common practice, no published source. */
import { describe, expect, it } from 'vitest';
import { caseOf, change, conversionOnPump, findingsBy, follow, inspection, states } from '../../support/cases.ts';

const thread = 'bleed-seat-element';
/** The orifice comes out and nothing goes in; of the seat's joint nothing is said. */
const emptied = change(conversionOnPump(), {
  '/body/to': null,
  '/body/fitted': [],
  '/body/torques/0': undefined,
});
/** A plug goes in where nothing was. */
const filled = change(follow(emptied, conversionOnPump()), { '/body/removed': [] });
const atThread = (rule: string, setup: typeof emptied) =>
  findingsBy(rule, setup).filter((one) => one.clearedBy.some(({ place }) => place === thread));

describe('a seat', () => {
  it('that is left empty has no joint to close', () => {
    expect(caseOf(emptied).demanded.evidence.torques).toEqual(['sense-adjuster-body', 'sense-adjuster-locknut']);
    expect(atThread('joint-not-closed', emptied)).toEqual([]);
  });

  it('that was empty is closed with what goes in', () => {
    const untorqued = change(filled, { '/body/torques/0': undefined });
    expect(atThread('joint-not-closed', untorqued)).toHaveLength(1);
    expect(atThread('joint-not-closed', filled)).toEqual([]);
    expect(states(filled).control.stations['bleed-seat']?.elements).toEqual([{ element: 'plug-m5', quantity: 1 }]);
  });

  it('that is emptied, or seen to be empty, needs no torque that was missing before', () => {
    const missing = change(conversionOnPump(), { '/body/torques/0': undefined });
    const opens = (setup: typeof emptied) =>
      states(setup)
        .control.open.filter(({ rule }) => rule === 'joint-not-closed')
        .map(({ pointer }) => pointer);
    expect(opens(missing)).toEqual(['/torques']);
    const cleared = change(follow(missing, emptied), {
      '/body/removed': [{ station: 'bleed-seat', element: 'plug-m5' }],
    });
    expect(opens(cleared)).toEqual([]);
    const look = change(follow(missing, inspection()), { '/body/torques/0': undefined });
    expect(opens(change(look, { '/body/found': { stations: { 'bleed-seat': [] } } }))).toEqual([]);
    expect(opens(change(look, { '/body/found': { stations: { 'bleed-seat': [{ element: 'plug-m5' }] } } }))).toEqual([
      '/torques',
    ]);
  });
});
