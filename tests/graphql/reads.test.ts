/** What GraphQL tells of records, lots and what stands against units, and to whom; held against REST where REST tells it too. */
import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { readReports } from '../../src/graphql/read-schema.ts';
import { testDatabase } from '../support/database.ts';
import { claimOf } from '../support/make-claims.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, inspectionOf, maker, openShops, registerPair } from '../support/shop.ts';
import { usesReached } from '../support/uses-reached.ts';
import { ask, askBadly, type Data } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
const ids: Record<string, string> = {};

beforeAll(async () => {
  await mustGoWell(brackwater('PUT', '/v1/shops/south', { name: 'south yard' }));
  await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/L-2`, { part: 'kit-sense' }));
  for (const number of ['1', '2', '4']) await registerPair(brackwater, number);
  await registerPair(tollan, '3');
  const post = async (shop: Caller, name: string, path: string, body: object) => {
    ids[name] = (await mustGoWell(shop('POST', path, body))).body.id;
  };
  const convert = async (shop: Caller, number: string, to: string, name: string, performedAt: string) =>
    await conversionOf(shop, number, to, { reference: name, performedAt });
  await post(brackwater, 'good', '/v1/conversions', {
    ...(await convert(brackwater, '1', 'load-sense', 'good', '2026-04-01T08:00:00Z')),
    note: 'thread cleaned',
  });
  const loose: Data = await convert(brackwater, '2', 'load-sense', 'loose', '2026-05-01T08:00:00Z');
  const [torque, ...torques] = loose.torques;
  await post(brackwater, 'loose', '/v1/conversions', {
    ...{ ...loose, shop: 'south', checks: [] },
    torques: [{ ...torque, reading: { value: 1.5, unit: 'N.m' } }, ...torques],
    fitted: loose.fitted.map((one: object) => ({ ...one, lot: 'L-2' })),
    seals: loose.seals.map((one: object) => ({ ...one, lot: { unknown: 'loose in a drawer' } })),
  });
  const unchecked = await convert(brackwater, '4', 'load-sense', 'unchecked', '2026-05-02T08:00:00Z');
  await post(brackwater, 'unchecked', '/v1/conversions', { ...unchecked, checks: [] });
  const look = inspectionOf('1', { reference: 'look', performedAt: '2026-06-01T08:00:00Z' });
  await post(brackwater, 'look', '/v1/inspections', { ...look, technician: { unknown: 'not written down' } });
  await post(
    tollan,
    'other',
    '/v1/inspections',
    inspectionOf('3', { reference: 'x', performedAt: '2026-06-02T08:00:00Z' }),
  );
});

beforeAll(async () => {
  const failed = claimOf({ control: { maker, serial: 'K-1' } }, 'claim', { failedAt: '2026-06-20T08:00:00Z' });
  await mustGoWell(brackwater('POST', '/v1/claims', failed));
  const told = { reference: 'recall', severity: 'inform', reason: 'one bore was wide', instruction: 'be told' };
  const criteria = { lot: `${maker}/L-2` };
  const issuer = await service.as({ distributor: 'brackwater' });
  await mustGoWell(issuer('POST', '/v1/containments', { ...told, criteria }));
});

const idsOf = (connection: Data): string[] => connection.edges.map(({ node }: Data) => node.id);
const list = `query ($filter: RecordFilter, $order: Order! = oldest) {
  records(filter: $filter, order: $order, first: 100) { edges { node { id kind status } } } }`;
const listed = async (caller: Caller, filter: object, order = 'oldest') =>
  idsOf((await ask(caller, list, { filter, order })).records).map(
    (id) => Object.entries(ids).find(([, one]) => one === id)?.[0] ?? 'registration',
  );

/** Each needs something read beside the fact, or nothing. */
const parts = [
  'reference',
  'status',
  'open { rule }',
  'units { id }',
  'correctedBy { id }',
  'judgedAgain { id }',
  'note',
  'technician { id unknown }',
];

it.each(parts)('a record in a history says of %s what it says by its id', async (part) => {
  const serials = ['K-1', 'K-2'];
  const asked = serials.map(
    (serial, nth) => `k${nth}: control(maker: "${maker}", serial: "${serial}") {
    history { entries { edges { node { record { id ${part} } } } } }
  }`,
  );
  const histories: Data[] = Object.values(await ask(brackwater, `{ ${asked.join(' ')} }`));
  const records = histories.flatMap(({ history }) => history.entries.edges.map(({ node }: Data) => node.record));
  expect(records.length).toBeGreaterThan(4);
  for (const { id, ...said } of records) {
    const { record } = await ask(brackwater, `query ($id: ID!) { record(id: $id) { ${part} } }`, { id });
    expect(said).toEqual(record);
  }
});

describe('records', () => {
  const filters: readonly (readonly [object, readonly string[]])[] = [
    [{}, [...Array(3).fill('registration'), 'good', 'loose', 'unchecked', 'look']],
    [{ kinds: ['conversion', 'inspection'] }, ['good', 'loose', 'unchecked', 'look']],
    [{ kinds: ['no-such-kind'] }, []],
    [{ kinds: null, shop: 'south' }, ['loose']],
    [{ performedFrom: '2026-04-01T10:00:00+02:00', performedTo: '2026-05-01T08:00:00Z' }, ['good']],
    [{ performedFrom: '2026-05-01T08:00:00.000001Z' }, ['unchecked', 'look']],
    [{ recordedTo: '2026-01-01T00:00:00Z' }, []],
    [{ recordedFrom: '2026-01-01T00:00:00Z', kinds: ['inspection'] }, ['look']],
    [{ function: 'load-sense', kinds: ['conversion'] }, ['good', 'loose', 'unchecked']],
    [{ function: 'load-sense', kinds: ['conversion'], shop: 'north' }, ['good', 'unchecked']],
    [{ function: 'remote-pressure' }, []],
    [{ kitPart: 'kit-sense' }, ['loose']],
    [{ kitPart: 'bought-loose' }, ['good', 'unchecked']],
    [{ status: 'held', kinds: ['conversion'] }, ['loose']],
    [{ status: 'released', kinds: ['conversion'] }, ['good']],
    [{ status: 'incomplete', kinds: ['conversion'] }, ['unchecked']],
  ];
  it.each(filters)('of %j are those', async (filter, expected) => {
    expect(await listed(brackwater, filter)).toEqual(expected);
    expect(await listed(brackwater, filter, 'newest')).toEqual(expected.toReversed());
  });

  it('have the status by which they are filtered, whichever it is', async () => {
    for (const status of ['released', 'incomplete', 'held']) {
      const { records } = await ask(brackwater, list, { filter: { status } });
      expect(new Set(records.edges.map(({ node }: Data) => node.status))).toEqual(
        new Set(records.edges.length > 0 ? [status] : []),
      );
      for (const id of idsOf(records)) {
        expect((await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body.status).toBe(status);
      }
    }
  });

  it('are a distributor’s own, and all of the make for its maker', async () => {
    const filter = { kinds: ['conversion', 'inspection'] };
    expect(await listed(tollan, filter)).toEqual(['other']);
    expect(await listed(analyst, filter)).toEqual(['good', 'loose', 'unchecked', 'look', 'other']);
    expect(await listed(await service.as({ maker: 'other-maker', scopes: ['warranty:read'] }), filter)).toEqual([]);
  });

  it('come page by page, each once', async () => {
    const page = `query ($order: Order!, $first: Int!, $after: String) {
      records(order: $order, first: $first, after: $after) { edges { cursor node { id } } pageInfo { endCursor hasNextPage startCursor hasPreviousPage } } }`;
    for (const order of ['oldest', 'newest']) {
      const { records: whole } = await ask(brackwater, page, { order, first: 100 });
      const seen: string[] = [];
      for (let after: string | null = null, more = true; more; ) {
        const { records }: Data = await ask(brackwater, page, { order, first: 2, after });
        expect(records.edges.at(-1).cursor).toBe(records.pageInfo.endCursor);
        expect(records.edges[0].cursor).toBe(records.pageInfo.startCursor);
        expect(records.pageInfo.hasPreviousPage).toBe(after !== null);
        seen.push(...idsOf(records));
        after = records.pageInfo.endCursor;
        more = records.pageInfo.hasNextPage;
      }
      expect(seen).toEqual(idsOf(whole));
    }
    for (const after of ['zzz', '', ids['other'], '\u00e9']) {
      const { errors } = await askBadly(brackwater, page, { order: 'oldest', first: 2, after });
      expect([after, errors[0].extensions.code]).toEqual([after, 'invalid-input']);
    }
  });

  it('tell their readings and parts as they were sent', async () => {
    const query = `query ($id: ID!) { record(id: $id) {
      kind reference shop technician { id unknown } grade note function status units { name }
      torques { joint how readings { value unit } instrument { id unknown } }
      settings { setting reading { value unit } instrument { id } }
      checks { check result } removed { station element { id } quantity }
      fitted { station element { id } quantity lot { maker number parts } }
      seals { joint seal { id } lot { number } }
      findings { rule severity because } open { rule record { id } } } }`;
    const good = (await ask(brackwater, query, { id: ids['good']?.toUpperCase() })).record;
    const { body } = await mustGoWell(brackwater('GET', `/v1/records/${ids['good']}`));
    const { statement, judgement } = body;
    expect(good).toMatchObject({
      ...{ kind: 'conversion', reference: 'good', shop: 'north', technician: { id: 't-17', unknown: null } },
      ...{
        note: 'thread cleaned',
        function: 'load-sense',
        status: body.status,
        units: expect.arrayContaining([{ name: 'K-1' }, { name: 'P-1' }]),
      },
    });
    expect(good.torques).toEqual(
      statement.torques.map(({ joint, how, reading, instrument }: Data) => ({
        ...{ joint, how, readings: [reading].flat(), instrument: { id: instrument, unknown: null } },
      })),
    );
    expect(good.torques.length).toBeGreaterThan(1);
    expect(good.removed).toEqual([{ station: 'bleed-seat', element: { id: 'orifice-0.6' }, quantity: 1 }]);
    const lot = { maker, number: 'L-1', parts: ['bought-loose'] };
    expect(good.fitted).toEqual([{ station: 'bleed-seat', element: { id: 'plug-m5' }, quantity: 1, lot }]);
    expect(good.findings).toEqual(
      judgement.findings.map(({ rule, severity, because }: Data) => ({ rule, severity, because })),
    );
    const loose = (await ask(brackwater, query, { id: ids['loose'] })).record;
    // A number was sent: it is told as its shortest decimal.
    expect(loose.torques[0].readings).toEqual([{ value: '1.5', unit: 'N.m' }]);
    expect(loose.seals[0].lot).toBeNull();
    expect(loose.open).toContainEqual({ rule: 'torque-outside', record: { id: ids['loose'] } });
    const look = (await ask(brackwater, query, { id: ids['look'] })).record;
    expect(look).toMatchObject({
      technician: { id: null, unknown: 'not written down' },
      note: 'looked at the signal port',
    });
    // Who did it, and what was noted, is not the maker's to know.
    const seen = (await ask(analyst, query, { id: ids['good'] })).record;
    expect(seen).toEqual({ ...good, technician: null, note: null });
  });

  it('of others are not there', async () => {
    for (const id of [ids['other'], 'no id', '01999999-0000-7000-8000-000000000000']) {
      const { data, errors } = await askBadly(brackwater, 'query ($id: ID!) { record(id: $id) { id } }', { id });
      expect([data, errors[0].extensions.code, errors[0].message]).toEqual([
        { record: null },
        'not-found',
        'There is no record of this id.',
      ]);
    }
  });
});

const byRecord = (a: Data, b: Data) => (a['record'].id < b['record'].id ? -1 : a['record'].id > b['record'].id ? 1 : 0);

describe('a lot', () => {
  it('tells the units that its parts went into as /v1/reach does', async () => {
    const query = `query ($number: String!) { lot(maker: "ardenholm", number: $number) { parts uses(first: 100) { edges { cursor node {
      place role item quantity still record { id } unit { id name status ... on Control { body pump { name } } } } } } } }`;
    for (const number of ['L-1', 'L-2']) {
      const { items } = (await mustGoWell(brackwater('GET', `/v1/reach?lot=${maker}/${number}`))).body;
      const { lot } = await ask(brackwater, query, { number });
      const told = lot.uses.edges.map(({ node }: Data) => node);
      const uses = usesReached(items as (Data & Parameters<typeof usesReached>[0][number])[]);
      expect(told.toSorted(byRecord)).toEqual(
        uses
          .map(({ place, role, item, quantity, still, record, unit: { unit, name, status, mounted } }) => ({
            ...{ place, role, item, quantity, still, record: { id: record } },
            unit: { id: unit, name, status, body: 'curlew-block', pump: mounted && { name: mounted.name } },
          }))
          .toSorted(byRecord),
      );
      expect(items.length).toBeGreaterThan(0);
      expect((await ask(analyst, query, { number })).lot).toEqual(
        number === 'L-1' ? { ...lot, parts: ['bought-loose'] } : lot,
      );
    }
  });

  it('that is not known is not there, and a list of them is for those who stated them', async () => {
    const query = '{ lot(maker: "ardenholm", number: "L-2") { parts } }';
    expect((await askBadly(tollan, query)).errors[0].extensions.code).toBe('not-found');
    const lots = '{ lots(first: 1) { edges { node { number parts } } pageInfo { hasNextPage } } }';
    expect(await ask(brackwater, lots)).toEqual({
      lots: { edges: [{ node: { number: 'L-1', parts: ['bought-loose'] } }], pageInfo: { hasNextPage: true } },
    });
    expect((await askBadly(analyst, lots)).errors[0].extensions.code).toBe('forbidden');
  });
});

describe('what stands against units', () => {
  const query = (which: string) => `query ($rule: String, $shop: String, $first: Int! = 100, $after: String) {
    ${which}(rule: $rule, shop: $shop, first: $first, after: $after) {
      edges { cursor node { unit { name status } finding { rule severity clearedBy { kind place } record { id } } } }
      pageInfo { endCursor hasNextPage } } }`;

  it.each(['held', 'due'])('is %s on each unit as the unit itself says', async (which) => {
    const { edges } = (await ask(brackwater, query(which)))[which];
    const found = new Set(
      edges.map(({ node }: Data) => JSON.stringify([node.unit.name, node.finding.rule, node.finding.record.id])),
    );
    const expected = new Set<string>();
    for (const path of ['pumps/ardenholm/P-', 'controls/ardenholm/K-'].flatMap((one) => [
      `${one}1`,
      `${one}2`,
      `${one}4`,
    ])) {
      const { body } = await mustGoWell(brackwater('GET', `/v1/${path}`));
      const unit = path.startsWith('pumps') ? body.pump : body.control;
      const severity = which === 'held' ? 'hold' : 'due';
      for (const one of unit.findings.filter((each: Data) => each.severity === severity))
        expected.add(JSON.stringify([unit.name, one.rule, one.fact]));
    }
    expect(found).toEqual(expected);
    expect(expected.size).toBeGreaterThan(0);
  });

  it('is told by rule and shop, and page by page', async () => {
    const rules = (answer: Data) => answer.held.edges.map(({ node }: Data) => node.finding.rule);
    expect(rules(await ask(brackwater, query('held'), { rule: 'torque-outside' }))).toEqual(['torque-outside']);
    expect(rules(await ask(brackwater, query('held'), { rule: 'torque-outside', shop: 'north' }))).toEqual([]);
    const whole = (await ask(brackwater, query('due'))).due.edges;
    const seen: Data[] = [];
    for (let after: string | null = null, more = true; more; ) {
      const { due }: Data = await ask(brackwater, query('due'), { first: 1, after });
      seen.push(...due.edges);
      after = due.pageInfo.endCursor;
      more = due.pageInfo.hasNextPage;
    }
    expect(seen).toEqual(whole);
    expect(whole.length).toBeGreaterThan(1);
    const wrong = await askBadly(brackwater, query('held'), { after: 'zzz' });
    expect(wrong.errors[0].extensions.code).toBe('invalid-input');
  });

  it('of others is not told, but to their maker', async () => {
    expect((await ask(tollan, query('held'))).held.edges).toEqual([]);
    expect((await ask(analyst, query('held'))).held).toEqual((await ask(brackwater, query('held'))).held);
  });
});

describe('a unit', () => {
  const unit = `{ control(maker: "ardenholm", serial: "K-1") { name function fit { station record { id } } pump { name } } }`;

  it('that can be named is told to everybody, without whose records they are', async () => {
    const own = (await ask(brackwater, unit)).control;
    const other = (await ask(tollan, unit)).control;
    expect(own).toMatchObject({ name: 'K-1', function: 'load-sense', pump: { name: 'P-1' } });
    expect(other).toEqual({ ...own, fit: own.fit.map(({ station }: Data) => ({ station, record: null })) });
    expect(own.fit.every((one: Data) => one.record !== null)).toBe(true);
  });

  it('of the past is for those who have recorded work on it', async () => {
    const then = `{ control(maker: "ardenholm", serial: "K-1") {
      name then: history(performed: "2026-04-02T00:00:00Z") { settled } now: history { entries { edges { node { kind record { id } } } } } } }`;
    const { data, errors } = await askBadly(tollan, then);
    expect([data.control, errors.map((one: Data) => one.extensions.code)]).toEqual([null, ['history-restricted']]);
    const { control } = await ask(tollan, then.replace(/then: .*?settled } /, ''));
    expect(control.now.entries.edges.map(({ node }: Data) => node)).toEqual(
      ['registration', 'conversion', 'inspection'].map((kind) => ({ kind, record: null })),
    );
    expect((await ask(brackwater, then)).control.now.entries.edges[1].node.record).toEqual({ id: ids['good'] });
  });

  it.each([
    [{ distributor: 'brackwater', scopes: ['report:read'] }, null],
    [{ distributor: 'brackwater', scopes: ['record:read'] }, null],
    [{ distributor: 'brackwater', scopes: ['warranty:read'] }, 'forbidden'],
    [{ maker: 'ardenholm', scopes: ['warranty:read'] }, null],
    [{ maker: 'ardenholm', scopes: ['report:read', 'record:read'] }, 'forbidden'],
    [{ maker: 'other-maker', scopes: ['warranty:read'] }, 'not-found'],
    [{ distributor: 'brackwater', scopes: ['record:write', 'stock:write'] }, 'forbidden'],
  ] as const)('asked for with %j is answered with %j', async (who, code) => {
    const { code: refused, errors = [] } = await askBadly(await service.as(who), unit);
    expect(refused ?? errors[0]?.extensions.code ?? null).toBe(code);
  });
});

describe('a text', () => {
  const fields = (text: string) => [
    `control(maker: "ardenholm", serial: "${text}") { id }`,
    `record(id: "${text}") { id }`,
    `lot(maker: "${text}", number: "L-1") { parts }`,
    `records(filter: {kinds: ["${text}"]}) { edges { node { id } } }`,
    `held(rule: "${text}") { edges { node { unit { id } } } }`,
  ];

  it.each(['\\u0000', 'K\\u0000', '\\uD800'])(
    'that no name can be, such as %j, is refused wherever it stands',
    async (text) => {
      for (const field of fields(text)) {
        const { data, errors } = await askBadly(brackwater, `{ ${field} }`);
        expect([field, data, errors?.[0].extensions.code]).toEqual([field, undefined, 'invalid-input']);
      }
    },
  );
});

describe('a time', () => {
  it.each(['"yesterday"', '"2026-04-01"', '5', '"2026-02-30T00:00:00Z"'])(
    'that is none is refused: %s',
    async (time) => {
      const said = { errors: [{ extensions: { code: 'invalid-input' } }], status: 400 };
      expect(
        await askBadly(brackwater, `{ records(filter: {performedTo: ${time}}) { edges { cursor } } }`),
      ).toMatchObject(said);
      const query = 'query ($to: Instant) { records(filter: {performedTo: $to}) { edges { cursor } } }';
      expect(await askBadly(brackwater, query, { to: JSON.parse(time) })).toMatchObject(said);
    },
  );
});

describe('a report', () => {
  const digestOf = (text: string) => `sha256:${createHash('sha256').update(text).digest('hex')}`;
  const reports: Record<string, readonly [object, string]> = {
    'claimed-lots': [{ maker }, '"number":"L-1"'],
    'contained-units': [{}, '"reference":"recall"'],
    'conversions-by-month': [{}, '"function":"load-sense"'],
    'control-then': [{ maker, serial: 'K-1', performed: '2026-04-02T00:00:00Z' }, '"reference":"good"'],
    'due-by-shop': [{ shop: 'south' }, '"check-due"'],
    'exposure-of-lot': [{ maker, number: 'L-1' }, '"claimed":1'],
    'held-by-shop': [{}, '"torque-outside"'],
    'reach-of-lot': [{ maker, number: 'L-1' }, '"still":"in"'],
    'rules-of-conversions': [{}, '"rule":"torque-outside"'],
    'standing-counts': [{}, '"findings":'],
    'records-performed': [{ filter: { kitPart: 'kit-sense' } }, '"reference":"loose"'],
  };

  it.each([...readReports()])(
    'such as %s is answered, by its name and by the digest of its text',
    async (name, text) => {
      const [variables, holds] = reports[name] ?? [{}, 'a report that nobody asks for'];
      for (const report of [name, digestOf(text)]) {
        const asked = { report, variables: { ...variables, first: 100 } };
        const answer = await mustGoWell(brackwater('POST', '/graphql', asked, null));
        expect([report, answer.body.errors]).toEqual([report, undefined]);
        expect(answer.text).toContain(holds);
      }
      const other = await brackwater('POST', '/graphql', { report: digestOf(`${text} `) }, null);
      expect([other.status, other.body.errors[0].pointer]).toEqual([400, '/report']);
    },
  );
});
