/** What a claim says was found and seen, beside what the records say. Invented; that nothing is blamed is the service's own rule. */
import { describe, expect, it } from 'vitest';
import { type AsFound, asFound, type Observations, observations } from '../../../src/core/claims/claim-body.ts';
import type { UnitEvent } from '../../../src/core/history/event.ts';
import { claimPoints, type RecordedThen } from '../../../src/core/trace/claim-points.ts';
import { containmentsThen } from '../../../src/core/trace/containments.ts';
import type { StationThen } from '../../../src/core/trace/unit-then.ts';
import { q } from '../../support/cases.ts';

const plug = [{ element: 'plug', quantity: 1 }];
const station = (elements: StationThen['elements']) => ({ station: 'seat', elements }) as StationThen;
const limit = { recorded: q('210', 'bar'), range: { min: q('200', 'bar'), max: q('215', 'bar') } };
const recorded: RecordedThen = {
  ...{
    function: 'load-sense',
    stations: [station(plug)],
    settings: { limit },
    fluid: 'mineral',
    maxSpeed: q('2000', 'r/min'),
  },
};
const told = (found: object, more: Partial<RecordedThen> = {}) =>
  claimPoints([{ record: 'c', asFound: asFound.parse(found) as AsFound }], { ...recorded, ...more }).map(
    ({ place, bears, basis }) => [place, bears, basis],
  );
const seen = (said: object, more: Partial<RecordedThen> = {}) =>
  claimPoints([{ record: 'c', observations: observations.parse(said) as Observations }], { ...recorded, ...more }).map(
    ({ place, bears, basis }) => [place, bears, basis],
  );

describe('as found', () => {
  it('a function or fit that is as recorded is clear, another bears on the claim', () => {
    expect(told({ function: 'load-sense', stations: { seat: plug } })).toEqual([
      [null, 'clear', 'Found as load-sense, recorded as load-sense.'],
      ['seat', 'clear', 'Found 1 × plug, recorded 1 × plug.'],
    ]);
    expect(told({ function: 'remote', stations: { seat: [] } }, { function: null })).toEqual([
      [null, 'bears on the claim', 'Found as remote, recorded as none.'],
      ['seat', 'bears on the claim', 'Found nothing, recorded 1 × plug.'],
    ]);
  });

  it('what is not told, or not recorded, is unknown', () => {
    expect(told({ stations: { seat: { unknown: 'not opened' } } })).toMatchObject([
      ['seat', 'unknown', expect.stringContaining('not opened')],
    ]);
    expect(told({ stations: { seat: plug } }, { stations: [station(null)] })).toMatchObject([
      ['seat', 'unknown', expect.any(String)],
    ]);
    expect(told({ stations: { bore: plug } })).toMatchObject([['bore', 'unknown', expect.any(String)]]);
    expect(told({ settings: { other: q('1', 'bar') } })).toMatchObject([['other', 'unknown', expect.any(String)]]);
  });

  it('a setting is held against the limits that it was judged by, on an edge within them', () => {
    const at = (value: string, unit: 'bar' | 'mm' = 'bar', more: Partial<RecordedThen> = {}) =>
      told({ settings: { limit: q(value, unit) } }, more)[0]?.[1];
    expect([at('215'), at('215.1'), at('210', 'mm')]).toEqual(['clear', 'bears on the claim', 'bears on the claim']);
    const most = { recorded: null, range: { min: null, max: q('215', 'bar') } };
    expect(told({ settings: { limit: q('1', 'bar') } }, { settings: { limit: most } })).toEqual([
      ['limit', 'clear', 'Found at 1 bar, not recorded as set; allowed is – to 215 bar.'],
    ]);
  });

  it('marks bear on it, in the words of who saw them', () => {
    expect(told({ marks: [{ place: 'spool', text: 'scored' }] })).toEqual([
      ['spool', 'bears on the claim', 'Mark: scored'],
    ]);
  });
});

describe('what was seen around it', () => {
  it('is held against what is known of the pump, limits included', () => {
    expect(seen({ speed: q('2000', 'r/min'), fluid: 'mineral' }).map(([, bears]) => bears)).toEqual(
      ['clear', 'clear'].toReversed(),
    );
    expect(seen({ speed: q('2001', 'r/min') })).toEqual([
      ['speed', 'bears on the claim', 'Seen as 2001 r/min; its size may turn at 2000 r/min.'],
    ]);
  });

  it('is unknown where it is said to be, where nothing is published, and where words must be compared', () => {
    expect(
      seen({ water: { unknown: 'no sample' }, cleanliness: '22/20/17', fluid: 'bio oil' }).map(([, bears]) => bears),
    ).toEqual(['unknown', 'unknown', 'unknown']);
    expect(
      seen({ speed: q('9000', 'r/min'), fluid: 'x' }, { fluid: null, maxSpeed: null }).map(([, bears]) => bears),
    ).toEqual(['unknown', 'unknown']);
  });

  it('stands beside what came to light later, each with its record', () => {
    const water = (value: string) => ({ observations: observations.parse({ water: q(value, '%') }) as Observations });
    const points = claimPoints(
      [{ record: 'a', ...water('0.1') }, { record: 'b', ...water('0.01') }, { record: 'c' }],
      recorded,
    );
    expect(points.map(({ record }) => record)).toEqual(['a', 'b']);
    expect(claimPoints([{ record: 'a', observations: { water: undefined } }], recorded)).toEqual([]);
  });
});

describe('containments of a unit', () => {
  const event = (unit: string, day: string, effect: UnitEvent['effect']): UnitEvent => ({
    ...{
      unit,
      seq: 1,
      prev: null,
      fact: day,
      kind: 'containment-unit',
      performedFrom: day,
      performedTo: day,
      recordedAt: day,
    },
    ...{ after: null, effect },
  });
  const clear = { kind: 'containment' as const, place: 'c1' };
  const contained = {
    rule: 'contained',
    severity: 'hold' as const,
    pointer: '/criteria',
    clearedBy: [clear],
    instruction: 'stop',
  };

  it('run until an event of the same unit clears them', () => {
    const events = [
      event('u', '2026-02-01', { opens: [contained] }),
      event('v', '2026-03-01', { clears: [clear] }),
      event('u', '2026-03-02', {}),
      event('u', '2026-04-01', { clears: [clear] }),
      event('u', '2026-05-01', { opens: [{ ...contained, severity: 'due', clearedBy: [{ ...clear, place: 'c2' }] }] }),
    ];
    const told_ = { unit: 'u', instruction: 'stop' };
    expect(containmentsThen(events, '2026-03-15')).toEqual([
      { ...told_, containment: 'c1', severity: 'hold', from: '2026-02-01', to: '2026-04-01', after: false },
      { ...told_, containment: 'c2', severity: 'due', from: '2026-05-01', to: null, after: true },
    ]);
  });

  it('are nothing but those: other findings, and one that says no more, are none', () => {
    const { instruction: _, ...silent } = contained;
    const events = [
      event('u', '2026-02-01', {
        opens: [
          { ...contained, rule: 'other' },
          { ...contained, clearedBy: [] },
        ],
      }),
      event('u', '2026-02-02', { opens: [silent] }),
    ];
    expect(containmentsThen(events, '2026-03-15').map((one) => one.instruction)).toEqual([null]);
  });
});
