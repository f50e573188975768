/**
 * The past told three ways must be one past: by GraphQL, by REST, and by the naive fold, which shares nothing with the
 * service but the events. Times are drawn where something changes, just beside it, and anywhere between.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { type Event, naiveEvents, naiveStateAt } from '../support/naive-fold.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, edition, maker, registerPair } from '../support/shop.ts';
import { recordVariedHistory } from '../support/varied-history.ts';
import { ask, type Data } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
/** Longer than a recording may take, and so than anything may still change. */
const untilSettledMs = 6_500;
const runs = 200;
let brackwater: Caller;
let analyst: Caller;
let units: { kind: 'pump' | 'control'; name: string; events: Event[] }[];

beforeAll(async () => {
  await recordVariedHistory(service);
  brackwater = await service.as({ distributor: 'brackwater' });
  analyst = await service.as({ maker, scopes: ['warranty:read'] });
  await correctSome();
  await judgeAgain();
  const events = Map.groupBy(await naiveEvents(db.superuserUrl), ({ unit }) => unit);
  const names = ['P-1', 'P-2', 'P-4', 'P-5', 'P-8', 'P-9', 'K-1', 'K-3', 'K-4', 'K-5', 'K-8', 'K-again', 'box 7'];
  units = await Promise.all(
    names.map(async (name) => {
      const kind = name.startsWith('P') ? 'pump' : 'control';
      const found = await ask(analyst, `{ ${kind}(maker: "ardenholm", serial: "${name}") { id } }`);
      return { kind, name, events: events.get(found[kind].id) ?? [] } as const;
    }),
  );
  await sleep(untilSettledMs);
});

/** A conversion corrected and corrected again, after later work; and a record made void. */
async function correctSome(): Promise<void> {
  await registerPair(brackwater, '8');
  const times = { reference: 'five', performedAt: '2026-04-01T08:00:00Z' };
  const body: Data = await conversionOf(brackwater, '8', 'load-sense', times);
  const { id } = (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body;
  const look = {
    ...{ control: { maker, serial: 'K-8' }, reference: 'five-look', performedAt: '2026-04-09T08:00:00Z', edition },
    ...{ shop: 'north', technician: 't-17', found: { stations: { 'test-port': [{ element: 'port-plug' }] } } },
  };
  const seen = (await mustGoWell(brackwater('POST', '/v1/inspections', look))).body;
  const [torque, ...torques] = body.torques;
  const wrong = { ...body, torques: [{ ...torque, reading: { value: '9.9', unit: 'N.m' } }, ...torques] };
  const correct = async (record: string, said: object) =>
    (await mustGoWell(brackwater('POST', `/v1/records/${record}/corrections`, said))).body.id as string;
  const first = await correct(id, { kind: 'conversion', reason: 'misread', body: wrong });
  await correct(first, {
    kind: 'conversion',
    reason: 'it was right',
    body: { ...body, performedAt: '2026-04-12T08:00:00Z' },
  });
  await correct(seen.id, { kind: 'void', reason: 'another control' });
}

/** What follows a record that is made void is judged again, and is something else then. */
async function judgeAgain(): Promise<void> {
  await registerPair(brackwater, 'again');
  const convert = async (to: string, month: string) => {
    const times = { reference: `again-${month}`, performedAt: `2026-${month}-01T08:00:00Z` };
    const body = await conversionOf(brackwater, 'again', to, times);
    return (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body.id as string;
  };
  const id = await convert('load-sense', '04');
  await convert('load-sense-bled', '05');
  const undone = { kind: 'void', reason: 'another control' };
  await mustGoWell(brackwater('POST', `/v1/records/${id}/corrections`, undone));
}

const query = (kind: string) => `query ($name: String!, $performed: Instant, $known: Instant) {
  ${kind}(maker: "ardenholm", serial: $name) { history(performed: $performed, known: $known) {
    known settled
    state { registered status function fit { station elements { element quantity } basis record { id } }
      settings { setting reading { value unit } record { id } }
      findings { rule severity pointer clearedBy { kind place } record { id } }
      hours { value unit } retiredSince mounted { id } mountedSince }
    mountings(first: 100) { edges { node { from to unit { id } } } }
  } } }`;

describe('the past', () => {
  it('is one, however it is asked for', async () => {
    const kinds = new Set<string>();
    await fc.assert(
      fc.asyncProperty(
        fc.nat(),
        fc.nat(),
        fc.nat(),
        fc.constantFrom(-1n, 0n, 1n),
        fc.constantFrom(-1n, 0n, 1n),
        async (which, done, heard, beside, besideHeard) => {
          const unit = units[which % units.length];
          if (unit === undefined) throw new Error('there are no units');
          const instants = unit.events.flatMap(({ from, to }) => [from, to]);
          const recordings = unit.events.map(({ recorded }) => recorded);
          const performed = besides(instants[done % instants.length], beside);
          const known = besides(recordings[heard % recordings.length], besideHeard);
          const naive: Data = naiveStateAt(unit.events, performed, known);
          const times = { name: unit.name, performed, known };
          const graph = (await ask(analyst, query(unit.kind), times))[unit.kind].history;
          const path = `/v1/${unit.kind}s/${maker}/${encodeURIComponent(unit.name)}/history`;
          const answer = await mustGoWell(analyst('GET', `${path}?performed=${performed}&known=${known}&first=100`));
          expect({ known: graph.known, settled: graph.settled }).toEqual({ known, settled: true });
          const told = ofGraphql(graph.state);
          expect(told).toEqual(ofNaive(naive));
          expect(told).toEqual(ofRest(answer.body.state));
          expect(graph.mountings.edges.map(({ node }: Data) => ({ ...node, unit: node.unit.id }))).toEqual(
            answer.body.mountings.map(({ unit: id, from, to }: Data) => ({ unit: id, from, to })),
          );
          kinds.add(told.status);
          if (told.mounted !== null) kinds.add('mounted');
          if (!graph.state.registered) kinds.add('not yet');
        },
      ),
      { numRuns: runs },
    );
    // The draws reach all that a unit can be.
    expect([...kinds].sort()).toEqual(expect.arrayContaining(['held', 'mounted', 'not yet', 'released']));
  });

  it("of one's own units is the same to a distributor", async () => {
    const performed = '2026-04-05T00:00:00Z';
    for (const { kind, name } of units.filter((unit) => unit.name !== 'P-9')) {
      const [own, all] = await Promise.all(
        [brackwater, analyst].map(
          async (caller) => (await ask(caller, query(kind), { name, performed }))[kind].history,
        ),
      );
      const { fit: _, settings: __, findings: ___, ...rest } = ofGraphql(all.state);
      expect(ofGraphql(own.state)).toMatchObject(rest);
    }
  });
});

function besides(instant: string | undefined, microseconds: bigint): string {
  if (instant === undefined) throw new Error('a unit has no events');
  const [, second = '', fraction = ''] = /^(.*)\.(\d{6})Z$/.exec(instant) ?? [];
  const whole = BigInt(Date.parse(`${second}Z`)) * 1_000n + BigInt(fraction) + microseconds;
  const text = new Date(Number(whole / 1_000n)).toISOString().slice(0, -1);
  return `${text}${String(whole % 1_000n).padStart(3, '0')}Z`;
}

const byStation = (a: { station: string }, b: { station: string }) => (a.station < b.station ? -1 : 1);
const bySetting = (a: { setting: string }, b: { setting: string }) => (a.setting < b.setting ? -1 : 1);
const byText = (a: object, b: object) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);

function ofGraphql(state: Data) {
  return {
    ...{ status: state.status as string, function: state.function },
    fit: state.fit.map(({ record, ...one }: Data) => ({ ...one, record: record?.id ?? null })).sort(byStation),
    settings: state.settings
      .map(({ setting, reading, record }: Data) => ({ setting, ...reading, record: record?.id ?? null }))
      .sort(bySetting),
    findings: state.findings.map(({ record, ...one }: Data) => ({ ...one, record: record?.id ?? null })).sort(byText),
    mounted: state.mounted === null ? null : { with: state.mounted.id, since: state.mountedSince },
    retired: state.retiredSince,
    hours: state.hours,
  };
}

function ofState(state: Data, { fit, findings, mounted }: { fit: Data; findings: Data; mounted: Data }) {
  return {
    ...{ status: state.status, function: state.function },
    fit: Object.entries<Data>(fit)
      .map(([station, { elements, basis, record }]) => ({
        station,
        elements: elements?.map(({ element, quantity }: Data) => ({ element, quantity })) ?? null,
        ...{ basis, record },
      }))
      .sort(byStation),
    settings: Object.entries<Data>(state.settings)
      .map(([setting, { value, unit, record }]) => ({ setting, value, unit, record }))
      .sort(bySetting),
    findings: findings
      .map(({ rule, severity, pointer, clearedBy, fact }: Data) => ({
        rule,
        severity,
        pointer,
        clearedBy,
        record: fact,
      }))
      .sort(byText),
    mounted,
    retired: state.retired?.since ?? null,
    hours: state.hours === null ? null : { value: state.hours.value, unit: state.hours.unit },
  };
}

function ofNaive(state: Data) {
  const mounted = state.mounted && { with: state.mounted.with, since: state.mounted.since };
  return ofState(state, { fit: state.stations, findings: state.open, mounted });
}

function ofRest(state: Data) {
  const mounted = state.mounted && { with: state.mounted.unit, since: state.mounted.since };
  return ofState(state, { fit: state.fit, findings: state.findings, mounted });
}
