import { describe, expect, it } from 'vitest';
import type { Content } from '../../../src/core/fit/fit.ts';
import {
  caseOf,
  change,
  conversionOnPump,
  findings,
  follow,
  inspection,
  judged,
  mounting,
  type Setup,
  states,
} from '../../support/cases.ts';

const recorded = '/control/events/0/effect/found';
const seat = `${recorded}/bleed-seat`;
const held = (element: string): Content['elements'] => [{ element, quantity: 1 }];
const recordedAs = (element: string, basis = 'built') => ({ elements: held(element), basis });
const unknown = { unknown: 'could not look' };

/** A look at the bleed seat, with these records of it and this statement of what was found. */
function look(records: unknown, found: unknown): Setup {
  return change(inspection(), { [seat]: records, '/body/found': found });
}
const rules = (setup: Setup) => findings(setup).map((one) => one.rule);
const foundAt = (setup: Setup) => caseOf(setup).found['bleed-seat'];

type Row = [says: string, records: unknown, found: unknown, content: unknown, rules: readonly string[]];

const bled = { function: 'load-sense-bled' };
const stated = (content: unknown) => ({ stations: { 'bleed-seat': content } });

describe('what was found', () => {
  it.each<Row>([
    ['left out: as the records have it', recordedAs('orifice-0.6'), {}, recordedAs('orifice-0.6'), []],
    [
      'left out: as the records assume it',
      recordedAs('orifice-0.8', 'assumed'),
      {},
      recordedAs('orifice-0.8', 'assumed'),
      [],
    ],
    ['left out: unknown where the records know nothing', undefined, {}, { elements: null, basis: 'unknown' }, []],
    [
      'by function: as the records have it, where that agrees',
      recordedAs('orifice-0.8', 'plate'),
      bled,
      recordedAs('orifice-0.8', 'plate'),
      [],
    ],
    ['by function: assumed where the records know nothing', undefined, bled, recordedAs('orifice-0.6', 'assumed'), []],
    [
      'by function: asked for where the records differ',
      recordedAs('plug-m5'),
      bled,
      recordedAs('plug-m5'),
      ['found-needed', 'no-function'],
    ],
    [
      'by function: asked for where the records only assume otherwise',
      recordedAs('plug-m5', 'assumed'),
      bled,
      recordedAs('plug-m5', 'assumed'),
      ['found-needed', 'no-function'],
    ],
    [
      'by station: seen, where that agrees',
      recordedAs('orifice-0.6'),
      stated([{ element: 'orifice-0.6' }]),
      recordedAs('orifice-0.6', 'seen'),
      [],
    ],
    [
      'by station: seen, and held where the records differ',
      recordedAs('orifice-0.6'),
      stated([{ element: 'orifice-0.8' }]),
      recordedAs('orifice-0.8', 'seen'),
      ['unrecorded-work'],
    ],
    [
      'by station: seen, where the records know nothing',
      undefined,
      stated([{ element: 'orifice-0.8' }]),
      recordedAs('orifice-0.8', 'seen'),
      [],
    ],
    [
      'by station: empty, and held where the records differ',
      recordedAs('orifice-0.6'),
      stated([]),
      { elements: [], basis: 'seen' },
      ['unrecorded-work', 'no-function'],
    ],
    [
      'by station: as the records have it, where nobody could look',
      recordedAs('orifice-0.6'),
      stated(unknown),
      recordedAs('orifice-0.6'),
      [],
    ],
    [
      'by station: unknown where nobody could look and the records know nothing',
      undefined,
      stated(unknown),
      { elements: null, basis: 'unknown' },
      [],
    ],
    [
      'by function and station: the station where it is stated',
      undefined,
      { ...bled, ...stated([{ element: 'orifice-0.8' }]) },
      recordedAs('orifice-0.8', 'seen'),
      [],
    ],
    [
      'by function and station: assumed where nobody could look',
      undefined,
      { ...bled, ...stated(unknown) },
      recordedAs('orifice-0.6', 'assumed'),
      [],
    ],
    [
      'by another function with its stations: held, not asked for',
      recordedAs('orifice-0.6'),
      { function: 'load-sense', ...stated([{ element: 'plug-m5' }]) },
      recordedAs('plug-m5', 'seen'),
      ['unrecorded-work'],
    ],
  ])('%s', (_, records, found, content, expected) => {
    expect(foundAt(look(records, found))).toEqual(content);
    expect(rules(look(records, found))).toEqual(expected);
  });

  it('by function is the choice that was then taken out, else the first that the function allows', () => {
    const convert = (removed: unknown) =>
      change(conversionOnPump(), { [seat]: undefined, '/body/found': bled, '/body/removed': removed });
    const out = (element: unknown) => [{ station: 'bleed-seat', element }];
    expect(foundAt(convert([]))).toEqual(recordedAs('orifice-0.6', 'assumed'));
    expect(foundAt(convert(out('orifice-0.8')))).toEqual(recordedAs('orifice-0.8', 'assumed'));
    expect(foundAt(convert(out(unknown)))).toEqual(recordedAs('orifice-0.6', 'assumed'));
    expect(findings(convert(out('orifice-0.8')))).toEqual([]);
    expect(rules(convert(out('plug-m5')))).toEqual(['found-needed', 'two-in-one-seat']);
  });

  it('by function assumes nothing of what the function leaves as it is', () => {
    const setup = change(inspection(), { [`${recorded}/test-port`]: undefined, '/body/found': bled });
    expect(caseOf(setup).found['test-port']).toEqual({ elements: null, basis: 'unknown' });
  });

  it('by function fills in the stations of the pump too', () => {
    const setup = change(mounting(), { '/pump/events/0/effect/found': {}, '/body/found': bled });
    expect(caseOf(setup).found['pump/linkage']).toEqual({ elements: [], basis: 'assumed' });
    expect(rules(setup)).toEqual(['content-assumed', 'content-assumed']);
    expect(states(setup).pump.stations['pump/linkage']).toEqual({ elements: [], basis: 'assumed', record: 'fact' });
  });

  it('refuses a bench that names only the function once another shop has changed the unit, and keeps one that states the stations', () => {
    const second = (found: unknown) => follow(conversionOnPump(), change(conversionOnPump(), { '/body/found': found }));
    expect(judged(second(bled))).toMatchObject({
      refused: [
        { rule: 'found-needed', pointer: '/found/function', expected: 'load-sense', found: 'load-sense-bled' },
        { rule: 'found-needed', pointer: '/found/function', expected: 'bleed-seat: plug-m5' },
        { rule: 'found-needed', pointer: '/removed/0', expected: 'bleed-seat: plug-m5' },
        { rule: 'two-in-one-seat', pointer: '/fitted/0' },
      ],
    });
    const statedToo = second({ ...bled, ...stated([{ element: 'orifice-0.6' }]) });
    expect(judged(statedToo)).toMatchObject({ judgement: { status: 'held', findings: [{ rule: 'unrecorded-work' }] } });
  });
});

describe('the state after a look', () => {
  const stateAfter = (records: unknown, found: unknown) => states(look(records, found)).control;

  it('has what was seen, by this record; and what was already known, by the record that knew it', () => {
    expect(stateAfter(recordedAs('orifice-0.6'), stated([{ element: 'orifice-0.8' }])).stations['bleed-seat']).toEqual({
      ...recordedAs('orifice-0.8', 'seen'),
      record: 'fact',
    });
    expect(stateAfter(recordedAs('orifice-0.6'), {}).stations['bleed-seat']?.record).toBe('born-unit-control');
    expect(stateAfter(recordedAs('orifice-0.6'), stated(unknown)).stations['bleed-seat']?.record).toBe(
      'born-unit-control',
    );
  });

  it('has what the function found makes likely, as assumed', () => {
    expect(stateAfter(undefined, bled).stations['bleed-seat']).toEqual({
      ...recordedAs('orifice-0.6', 'assumed'),
      record: 'fact',
    });
  });

  it('has the function that was found, or none where the stations are not it', () => {
    expect(stateAfter(recordedAs('orifice-0.6'), stated([{ element: 'plug-m5' }])).function).toBeNull();
    const asSense = { function: 'load-sense', ...stated([{ element: 'plug-m5' }]) };
    expect(stateAfter(recordedAs('orifice-0.6'), asSense).function).toBe('load-sense');
    expect(stateAfter(undefined, stated(unknown)).function).toBe('load-sense-bled');
  });
});
