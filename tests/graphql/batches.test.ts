/** However many there are at a level, as many statements go out; and a request that is cut off keeps no connection. */
import { request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { claimOf } from '../support/make-claims.ts';
import { untilWaiting, whileHeld } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { controlBody, edition, maker, openShops } from '../support/shop.ts';
import { ask, type Data, listenTo, statementsOf } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
const heard = listenTo(service.app.pools.reading);
const many = 100;
let brackwater: Caller;
let analyst: Caller;

beforeAll(async () => {
  const shops = await openShops(service);
  brackwater = shops.brackwater;
  analyst = shops.analyst;
  for (let at = 0; at < many; at++)
    await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/N-${at}`, { part: 'bought-loose' }));
  const lines = Array.from({ length: many }, (_, at) => {
    const control = { maker, serial: `K-${at}` };
    const found = { stations: { 'test-port': [{ element: 'test-coupling' }] } };
    const frame = { edition, performedAt: '2026-04-01T08:00:00Z', shop: 'north', technician: 't-17' };
    return [
      { key: `r-${at}`, kind: 'control-registration', control, body: controlBody('load-sense-bled') },
      {
        key: `p-${at}`,
        kind: 'repair',
        body: {
          ...{ control, ...frame, reference: `p-${at}`, found },
          removed: [{ station: 'bleed-seat', element: 'orifice-0.6' }],
          fitted: [{ station: 'bleed-seat', element: 'orifice-0.6', lot: 'L-1' }],
          seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-nbr', quantity: 1, lot: `N-${at}` }],
        },
      },
      {
        ...{ key: `c-${at}`, kind: 'claim' },
        body: claimOf({ control }, `c-${at}`),
      },
    ].map((line) => JSON.stringify(line));
  });
  const answer = await service.server.inject({
    ...{ method: 'POST', url: '/v1/bulk' },
    headers: {
      authorization: `Bearer ${await service.tokenOf({ distributor: 'brackwater' })}`,
      'content-type': 'application/x-ndjson',
    },
    payload: `${lines.flat().join('\n')}\n`,
  });
  const refused = answer.payload
    .trim()
    .split('\n')
    .filter((line) => (JSON.parse(line) as Data).status !== 201);
  if (refused.length > 0) throw new Error(refused.slice(0, 3).join('\n'));
  const told = { reference: 'recall', severity: 'inform', reason: 'one bore was wide', instruction: 'be told' };
  const issuer = await service.as({ maker });
  await mustGoWell(issuer('POST', '/v1/containments', { ...told, criteria: { lot: `${maker}/L-1` } }));
});

/** Each asks for `$n` at one level, and for all that leads on from there. */
const levels: readonly (readonly [string, string, (data: Data) => number])[] = [
  [
    'records, with the units that they are about, their pasts and what was fitted',
    `query ($n: Int!) { records(first: $n, filter: {kinds: ["repair"]}) { edges { node {
      id status technician { id } units { id name status } fitted { element { id } lot { number } }
      findings { rule } open { rule record { id } } } } } }`,
    (data) => data.records.edges.length,
  ],
  [
    'records with the histories of their units',
    `query ($n: Int!) { records(first: $n, filter: {kinds: ["repair"]}) { edges { node {
      units { history { settled state { status fit { station } } mountings(first: 5) { pageInfo { hasNextPage } } } } } } } }`,
    (data) => data.records.edges.length,
  ],
  [
    'uses of a lot, with the records and units',
    `query ($n: Int!) { lot(maker: "ardenholm", number: "L-1") { parts uses(first: $n) { edges { node {
      place item still record { reference } unit { name status ... on Control { pump { name } } } } } } } }`,
    (data) => data.lot.uses.edges.length,
  ],
  [
    'units of a lot, with the records that put it in and the claims about them',
    `query ($n: Int!) { lot(maker: "ardenholm", number: "L-1") { exposure { units now claimed claims } units(first: $n) {
      edges { node { still unit { name } records { reference torques { joint } } claims { status unit { name } } } } } } }`,
    (data) => data.lot.units.edges.length,
  ],
  [
    'lots with claims, how far each went, and the claims',
    `query ($n: Int!) { claimedLots(maker: "ardenholm", first: $n) { edges { node { claims lot {
      parts exposure { units now claimed } claims(first: 5) { edges { node { status } } } } } } } }`,
    (data) => data.claimedLots.edges.length,
  ],
  [
    'units that are contained, with the records that they were reached by',
    `query ($n: Int!) { contained(first: $n) { edges { node { containment { reference } shop done
      unit { name } record { reference units { name } } } } } }`,
    (data) => data.contained.edges.length,
  ],
  [
    'holds, with the units and records',
    `query ($n: Int!) { held(first: $n) { edges { node {
      unit { name } finding { rule record { reference shop } } } } } }`,
    (data) => data.held.edges.length,
  ],
];

describe('the number of statements', () => {
  it.each(levels)('is the same for one and for a hundred: %s', async (_, query, count) => {
    const who: readonly [string, Caller][] = [
      ['distributor', brackwater],
      ['maker', analyst],
    ];
    for (const [name, caller] of who) {
      let found: number[] = [];
      const statements = async (n: number) =>
        await statementsOf(heard, async () => {
          found = [...found, count(await ask(caller, query, { n }))];
        });
      const one = await statements(1);
      const hundred = await statements(many);
      expect([name, found]).toEqual([name, [1, many]]);
      expect([name, hundred]).toEqual([name, one]);
      expect(one).toBeGreaterThan(4);
    }
  });
});

describe('a unit with its history', () => {
  const transactions = async (query: string, variables: object) => {
    const before = heard.length;
    const data = await ask(brackwater, query, variables);
    return { data, begun: heard.slice(before).filter((text) => text.startsWith('begin')).length };
  };
  const historyWith = (fields: string) => `query ($serial: String!) { control(maker: "ardenholm", serial: $serial) {
    name history { entries { edges { node { record { reference ${fields} } } } } } } }`;
  const ofRepair = (data: Data) =>
    data.control.history.entries.edges.map((one: Data) => one.node.record).find((one: Data) => one.reference !== null);

  it('is one transaction, with whom its records name', async () => {
    const { data, begun } = await transactions(historyWith('technician { id } findings { rule }'), { serial: 'K-2' });
    expect(ofRepair(data)).toMatchObject({ reference: 'p-2', technician: { id: 't-17' } });
    expect(begun).toBe(1);
  });

  it('takes another for what stands beside its records', async () => {
    const { data, begun } = await transactions(historyWith('technician { id } note status'), { serial: 'K-3' });
    expect(ofRepair(data)).toMatchObject({ reference: 'p-3', technician: { id: 't-17' }, status: 'held' });
    expect(begun).toBe(2);
  });
});

describe('a request that is cut off', () => {
  it('in the middle of its second batch keeps no connection, and begins no third', async () => {
    await service.server.listen({ port: 0, host: '127.0.0.1' });
    const { port } = service.server.server.address() as AddressInfo;
    const token = await service.tokenOf({ distributor: 'brackwater', scopes: ['report:read'] });
    const query = `{ control(maker: "ardenholm", serial: "K-1") { name history { entries(first: 5) {
      edges { node { record { id units { name } } } } } } } }`;
    const { reading } = service.app.pools;
    const before = heard.length;
    // The unit is found; reading its events waits for the lock.
    await whileHeld(db, ['lock table unit_events in access exclusive mode'], async () => {
      const cut = request({
        ...{ host: '127.0.0.1', port, path: '/graphql', method: 'POST' },
        headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
      });
      const gone = new Promise((done) => cut.once('error', done).once('close', done));
      cut.end(JSON.stringify({ query }));
      await untilWaiting(db, 1);
      cut.destroy();
      await gone;
    });
    const deadline = Date.now() + 10_000;
    while (reading.idleCount < reading.totalCount && Date.now() < deadline) await new Promise(setImmediate);
    // Between two batches all is idle too: time for a third to go out, were there one.
    await pause(300);
    expect({ idle: reading.idleCount, waiting: reading.waitingCount }).toEqual({
      idle: reading.totalCount,
      waiting: 0,
    });
    const texts = heard.slice(before);
    expect(texts.some((text) => text.includes('from unit_events'))).toBe(true);
    expect(texts.filter((text) => text.includes('from fact_privates') || text.includes('fact = any'))).toEqual([]);
    // And the service goes on.
    expect(await ask(brackwater, '{ control(maker: "ardenholm", serial: "K-1") { name } }')).toEqual({
      control: { name: 'K-1' },
    });
    await mustGoWell(brackwater('GET', '/v1/controls/ardenholm/K-1'));
  });
});
