/** What a trace makes of records and states. Invented records; that no point says whose fault it is, is the service's own rule. */
import { describe, expect, it } from 'vitest';
import { fold, type UnitState } from '../../../src/core/history/fold.ts';
import { calibrationBody, incidentBody } from '../../../src/core/records/instrument-bodies.ts';
import { instrumentBody } from '../../../src/core/records/stock-bodies.ts';
import { parseTime } from '../../../src/core/time/instant.ts';
import type { InstrumentOf } from '../../../src/core/trace/evidence-then.ts';
import { bearings, type Point } from '../../../src/core/trace/points.ts';
import { type KeptRecord, tracedRecord } from '../../../src/core/trace/record.ts';
import { traceOf, type UnitTraced } from '../../../src/core/trace/trace.ts';
import { q } from '../../support/cases.ts';

const why = { unknown: 'not noted' };
const torque = (joint: string, more: object = {}) => ({
  ...{ joint, how: 'set', reading: q('60', 'N.m'), instrument: 'tw' },
  ...more,
});
const setting = (more: object = {}) => ({ setting: 'limit', reading: q('210', 'bar'), instrument: 'pg', ...more });
const verdict = (pointer: string, said: string, more: object = {}) => ({
  ...{ pointer, of: 'torque', place: 'j', reading: q('60', 'N.m'), min: q('58', 'N.m'), max: null, verdict: said },
  ...more,
});
const kept = (id: string, statement: object, more: Partial<KeptRecord> = {}): KeptRecord => ({
  ...{ id, kind: 'conversion', distributor: 'brackwater', edition: '2026-1', entry: `leaf ${id}`, since: null },
  ...{ performed: parseTime('2026-03-01T08:00:00Z'), recordedAt: '2026-03-01T09:00:00.000000Z', judgement: {} },
  statement: { reference: `R-${id}`, shop: 'north', technician: 't', ...statement },
  ...more,
});
const unit = (state: Partial<UnitState>, more: Partial<UnitTraced> = {}): UnitTraced => ({
  ...{ unit: 'u', name: 'K-1', kind: 'control', changed: [], mountings: [] },
  state: { ...fold('u', []), ...state },
  ...more,
});
const nobody: InstrumentOf = () => null;
const trace = (records: readonly KeptRecord[], more: Partial<Parameters<typeof traceOf>[0]> = {}) =>
  traceOf({
    ...{ maker: 'ardenholm', pump: null, control: unit({}), instrumentOf: nobody },
    records: records.map(tracedRecord),
    ...more,
  });
const bearing = (points: readonly Point[], topic: string, place?: string) =>
  points.filter((one) => one.topic === topic && (place === undefined || one.place === place)).map((one) => one.bears);

describe('a record as it is traced', () => {
  it('states its lines, of a correction those of the body in its place', () => {
    const body = { reference: 'R', shop: 'south', technician: why, torques: [torque('j')] };
    const corrected = tracedRecord(kept('a', {}, { kind: 'correction', statement: { kind: 'adjustment', body } }));
    expect(corrected).toMatchObject({ reference: 'R', shop: 'south', technician: why });
    expect(corrected.lines.torques).toHaveLength(1);
  });

  it('has no lines where its kind has none, nor where it is none that can be read', () => {
    expect(tracedRecord(kept('a', { torques: [torque('j')] }, { kind: 'registration' })).lines.torques).toEqual([]);
    expect(tracedRecord(kept('a', { torques: 'none' })).lines.torques).toEqual([]);
    expect(tracedRecord(kept('a', {}, { statement: {} })).shop).toBe(null);
    expect(tracedRecord(kept('a', {}, { statement: { shop: 7 } })).shop).toBe(null);
  });
});

describe('the stations of a trace', () => {
  const held = (
    basis: 'seen' | 'assumed' | 'unknown',
    elements: readonly { element: string; quantity: number }[] | null,
  ) => ({
    seat: { elements, basis, record: 'a' },
  });
  const plug = [{ element: 'plug', quantity: 1 }];
  const of = (stations: UnitState['stations'], records: readonly KeptRecord[] = [], more: Partial<UnitTraced> = {}) =>
    trace(records, { control: unit({ stations }, more) });

  it('say where each piece came from: lot, serial and record', () => {
    const fitted = [
      { station: 'seat', element: 'plug', lot: 'L-1', serial: 's' },
      { station: 'bore', element: 'spool' },
    ];
    const { stations, points } = of(held('seen', plug), [kept('a', { fitted })]);
    expect(stations[0]?.origin).toMatchObject({
      ...{ record: 'a', shop: 'north', reference: 'R-a', entry: 'leaf a' },
      pieces: [{ element: 'plug', quantity: 1, lot: 'ardenholm/L-1', serial: 's' }],
    });
    expect(bearing(points, 'station')).toEqual(['clear']);
    expect(of(held('seen', [])).points[0]?.basis).toBe('Nothing sits there, seen.');
  });

  it('have no origin for who may not see the record', () => {
    expect(of(held('seen', plug)).stations[0]?.origin).toMatchObject({ record: null, pieces: [] });
  });

  it('are unknown where nobody knows, assumes, or knows the lot', () => {
    expect(bearing(of(held('unknown', plug)).points, 'station')).toEqual(['unknown']);
    expect(bearing(of(held('seen', null)).points, 'station')).toEqual(['unknown']);
    expect(of(held('assumed', [])).points[0]?.basis).toContain('nothing sits there is assumed');
    expect(bearing(of(held('assumed', plug)).points, 'station')).toEqual(['unknown']);
    const fitted = [{ station: 'seat', element: 'plug', lot: why }];
    expect(bearing(of(held('seen', plug), [kept('a', { fitted })]).points, 'station')).toEqual(['unknown']);
  });

  it('bear on it where they were later found otherwise', () => {
    const otherwise = {
      station: 'seat',
      before: '2026-05-01T00:00:00.000000Z',
      found: { elements: [], basis: 'seen' as const },
    };
    const { stations, points } = of(held('seen', plug), [], { changed: [otherwise] });
    expect(stations[0]?.changedUnrecorded).toEqual({ before: otherwise.before, found: otherwise.found });
    expect(bearing(points, 'station')).toEqual(['bears on the claim']);
  });
});

describe('the readings of a trace', () => {
  it('are the last of each joint and setting, by its own person and time', () => {
    const first = kept('a', { torques: [torque('j'), torque('k')], settings: [setting()] });
    const own = { by: 'other', at: '2026-03-02T08:00:00Z', reading: [q('59', 'N.m'), q('60', 'N.m')] };
    const second = kept('b', {
      torques: [torque('j', own)],
      settings: [setting({ conditions: { speed: q('1500', 'r/min') } })],
    });
    const { torques, settings } = trace([first, second]);
    expect(torques.map(({ place, record }) => [place, record])).toEqual([
      ['j', 'b'],
      ['k', 'a'],
    ]);
    expect(torques[0]).toMatchObject({
      by: 'other',
      at: '2026-03-02T08:00:00.000000Z',
      readings: [{ value: '59' }, { value: '60' }],
    });
    expect(settings).toMatchObject([{ record: 'b', conditions: { speed: { value: '1500' } }, by: 't' }]);
  });

  it('have the worst verdict of their screws, then and by now', () => {
    const judgement = {
      verdicts: [verdict('/torques/0/reading/0', 'conforms'), verdict('/torques/0/reading/1', 'undecided')],
    };
    const since = { fact: 'f', cause: 'c', judgement: { verdicts: [verdict('/torques/0/reading/0', 'outside')] } };
    const [reading] = trace([kept('a', { torques: [torque('j')] }, { judgement, since })]).torques;
    expect([reading?.verdictThen?.verdict, reading?.verdictNow?.verdict]).toEqual(['undecided', 'outside']);
  });

  const wrench = instrumentBody.parse({ kind: 'torque-wrench', permissible: q('4', '%') });
  const at = (time: string) => ({ reference: time, performedAt: time });
  const calibration = (time: string, more: object = {}) => ({
    ...{ kind: 'calibration' as const, fact: `calibrated ${time}`, performed: parseTime(time) },
    body: calibrationBody.parse({
      ...{ ...at(time), document: 'certificate', ...more },
      points: [{ at: q('60', 'N.m'), asFound: q('0', '%'), uncertainty: q('1', '%') }],
    }),
  });
  const fall = {
    kind: 'incident' as const,
    fact: 'fell',
    performed: parseTime('2026-02-01T08:00:00Z'),
    body: incidentBody.parse({ ...at('2026-02-01T08:00:00Z'), what: 'dropped' }),
  };
  const with_ =
    (events: ReturnType<typeof calibration>[] | (typeof fall)[]): InstrumentOf =>
    () => ({ fact: 'w', statement: wrench, events });
  const pointOf = (said: string | null, instrumentOf: InstrumentOf, more: object = {}) => {
    const judgement = said === null ? {} : { verdicts: [verdict('/torques/0/reading', said, more)] };
    return trace([kept('a', { torques: [torque('j')] }, { judgement })], { instrumentOf }).points.find(
      (one) => one.topic === 'torque',
    );
  };

  it.each([
    ['outside its limits', 'outside', with_([]), 'bears on the claim', 'outside'],
    ['undecided', 'undecided', with_([]), 'unknown', "can't decide"],
    ['without limits', null, with_([]), 'unknown', 'no limits are known'],
    ['conforming, of an instrument of which nothing is known', 'conforms', nobody, 'unknown', 'nothing is known'],
    ['conforming, of one of which nobody said how true it is', 'conforms', with_([]), 'unknown', 'how true'],
    [
      'conforming, of one that was overdue',
      'conforms',
      with_([calibration('2024-01-01T08:00:00Z')]),
      'unknown',
      'was due at 2025-01-01',
    ],
    ['conforming, of one that had been dropped', 'conforms', with_([fall]), 'unknown', 'under suspicion'],
    [
      'conforming, of one in calibration',
      'conforms',
      with_([calibration('2026-01-01T08:00:00Z')]),
      'clear',
      'it conforms',
    ],
  ] as const)('%s: one says so', (_, said, instrumentOf, bears, basis) => {
    expect(pointOf(said, instrumentOf)).toMatchObject({ bears, basis: expect.stringContaining(basis), record: 'a' });
  });

  it('say how the instrument stands by now beside what it was judged by', () => {
    const judgement = { verdicts: [verdict('/torques/0/reading', 'conforms', { calibration: 'then' })] };
    const instrumentOf = with_([calibration('2026-01-01T08:00:00Z', { due: '2027-01-01T00:00:00Z' })]);
    const [reading] = trace([kept('a', { torques: [torque('j')] }, { judgement })], { instrumentOf }).torques;
    expect(reading?.standing).toEqual({
      ...{
        calibrationThen: 'then',
        calibration: 'calibrated 2026-01-01T08:00:00Z',
        overdue: false,
        neverCalibrated: false,
      },
      ...{ due: '2027-01-01T00:00:00.000000Z', suspect: null, foundWorse: null },
    });
  });

  it('of an instrument that is not known are gaps, as are people and parts that are not', () => {
    const fitted = [
      { station: 'seat', element: why },
      { station: 'bore', element: 'spool' },
    ];
    const lines = {
      technician: why,
      torques: [torque('j', { instrument: why })],
      settings: [setting({ instrument: why })],
      fitted,
    };
    const { points, torques } = trace([kept('a', lines)], { instrumentOf: with_([]) });
    expect(points.filter((one) => one.topic === 'gap').map((one) => one.place)).toEqual([
      'technician',
      'seat',
      'j',
      'limit',
    ]);
    expect(torques[0]?.standing).toBe(null);
    expect(trace([kept('a', {}, { statement: {} })]).points).toEqual([]);
  });
});

describe('what else a trace has', () => {
  it('is the last seals of every joint and the last result of every check', () => {
    const first = {
      seals: [
        { joint: 'j', seal: 'o-1' },
        { joint: 'k', seal: 'o-2', lot: 'L' },
      ],
      checks: [{ check: 'leak', result: 'failed' }],
    };
    const second = {
      seals: [{ joint: 'j', seal: 'o-3', lot: why }],
      checks: [{ check: 'leak', result: 'passed', at: '2026-03-05T08:00:00Z' }],
    };
    const { seals, checks, points } = trace([kept('a', first), kept('b', second)]);
    expect(seals.map(({ joint, element, lot, record }) => [joint, element, lot, record])).toEqual([
      ['j', 'o-3', why, 'b'],
      ['k', 'o-2', 'ardenholm/L', 'a'],
    ]);
    expect(checks).toEqual([{ check: 'leak', result: 'passed', record: 'b', at: '2026-03-05T08:00:00.000000Z' }]);
    expect(bearing(points, 'check')).toEqual(['clear']);
    expect(bearing(trace([kept('a', first)]).points, 'check')).toEqual(['bears on the claim']);
    const undone = { checks: [{ check: 'leak', result: 'not-done' }] };
    expect(bearing(trace([kept('a', undone)]).points, 'check')).toEqual(['unknown']);
  });

  it('is what stood on the units then: a hold bears on it, a due is unknown', () => {
    const open = (['hold', 'due'] as const).map((severity) => ({
      ...{ rule: 'joint-not-closed', severity, pointer: `/${severity}`, clearedBy: [], fact: 'a' },
    }));
    const judgement = {
      findings: [{ rule: 'joint-not-closed', severity: 'hold', pointer: '/hold', because: 'j was left open' }],
    };
    const { findings, points } = trace([kept('a', {}, { judgement })], { control: unit({ open }) });
    expect(findings.map(({ severity, record }) => [severity, record])).toEqual([
      ['hold', 'a'],
      ['due', 'a'],
    ]);
    expect(points.map(({ bears, basis }) => [bears, basis])).toEqual([
      ['bears on the claim', 'joint-not-closed held the unit then: j was left open'],
      ['unknown', 'joint-not-closed was still due then.'],
    ]);
  });

  it('is what was said of leave to work, when it was recorded and by now', () => {
    const said = {
      rule: 'technician-not-authorised',
      severity: 'hold',
      pointer: '/technician',
      because: 'not authorised',
    };
    const judgement = { status: 'held', findings: [said, { ...said, rule: 'other' }] };
    const since = { fact: 'f', cause: 'c', judgement: { status: 'released' } };
    const [work] = trace([kept('a', {}, { judgement, since })], { pump: unit({}, { kind: 'pump' }) }).records;
    expect(work).toMatchObject({ statusThen: 'held', statusNow: 'released', cause: 'c', leaveNow: [] });
    expect(work?.leaveThen).toEqual([{ rule: said.rule, severity: 'hold', because: 'not authorised' }]);
  });

  it('is what the pair was set to, by whichever record', () => {
    const settings = { limit: { ...q('210', 'bar'), record: 'a' } };
    expect(trace([], { control: unit({ settings }) }).set).toEqual([
      { setting: 'limit', value: '210', unit: 'bar', record: 'a' },
    ]);
    expect(trace([], { control: null }).set).toEqual([]);
  });

  it('is never a verdict on liability: three words, and none of them blames', () => {
    expect(bearings).toEqual(['bears on the claim', 'clear', 'unknown']);
  });
});
