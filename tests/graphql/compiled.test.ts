/** What is asked for again is compiled, and answered to the byte as by graphql-js alone. */
import { buildSchema } from 'graphql';
import { beforeAll, describe, expect, it } from 'vitest';
import { organisationResolver } from '../../src/app/organisations.ts';
import { readReports, readSchema } from '../../src/graphql/read-schema.ts';
import { localVerification, makeAuthenticate } from '../../src/http/authenticate.ts';
import { everyRoute } from '../../src/wire.ts';
import { audience, ed25519, issuer, signed, startShell, toJwk } from '../api/shell.ts';
import { randomFrom } from '../gates/random.ts';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';
import { drawnDocument } from './drawn-document.ts';

const db = await testDatabase();
const service = await testService(db);

type Asked = { query?: string; report?: string; variables?: object; operationName?: string };
type Answer = { status: number; text: string };
type Ask = (asked: Asked) => Promise<Answer>;
let compiled: Ask;
let plain: Ask;

beforeAll(async () => {
  const { brackwater } = await openShops(service);
  for (const number of ['1', '2']) {
    await registerPair(brackwater, number);
    const frame = { reference: `c-${number}`, performedAt: '2026-04-01T08:00:00Z' };
    await mustGoWell(
      brackwater('POST', '/v1/conversions', await conversionOf(brackwater, number, 'load-sense', frame)),
    );
  }
  const key = ed25519('k-1');
  const verification = localVerification({ issuer, audience, publicKey: await toJwk(key) });
  const authenticate = makeAuthenticate(verification, organisationResolver(service.app.pools));
  const asker = async (compiles: boolean): Promise<Ask> => {
    const routes = everyRoute(service.app, { adHoc: true, introspection: true, compiles });
    const { app } = await startShell({ routes, authenticate });
    const token = await signed(key, { scope: 'record:read report:read' });
    return async (asked) => {
      const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/json' };
      const answer = await app.inject({ method: 'POST', url: '/graphql', headers, payload: JSON.stringify(asked) });
      // The clock goes on between two answers.
      return {
        status: answer.statusCode,
        text: answer.payload.replaceAll(/"(requestId|horizon)":"[^"]*"/g, '"$1":""'),
      };
    };
  };
  compiled = await asker(true);
  plain = await asker(false);
});

const control = { maker: 'ardenholm', serial: 'K-1' };
const byName = 'control(maker: $maker, serial: $serial)';
const named = '$maker: String!, $serial: String!';

/** What is asked, by turns, of each document. */
const documents: readonly (readonly [string, string, readonly Omit<Asked, 'query'>[]])[] = [
  [
    'fields and lists',
    `query (${named}) { ${byName} { name status fit { station elements { element quantity } } } }`,
    [{ variables: control }],
  ],
  [
    'a history, its records and their findings',
    `query (${named}) { ${byName} { history { settled entries(first: 5) { edges { node { kind performed { from to }
      record { id technician { id } torques { joint how } findings { rule severity because } } } } } } } }`,
    [{ variables: control }, { variables: { ...control, serial: 'K-2' } }],
  ],
  [
    'defaults of variables, left out, given and changed',
    'query ($first: Int! = 1, $order: Order! = newest) { records(first: $first, order: $order) { edges { cursor node { kind } } pageInfo { hasNextPage } } }',
    [{}, { variables: { first: 2 } }, { variables: { order: 'oldest' } }, { variables: {} }],
  ],
  [
    'a default that may be null, left out, null and given',
    `query (${named}, $at: Instant = "2026-03-01T00:00:00Z") { ${byName} { history(performed: $at) { state { function } } } }`,
    [
      { variables: { ...control } },
      { variables: { ...control, at: null } },
      { variables: { ...control, at: '2026-04-02T00:00:00Z' } },
    ],
  ],
  [
    'a filter that is an object with lists and enums',
    'query ($filter: RecordFilter) { records(filter: $filter) { edges { node { kind status } } } }',
    [{}, { variables: { filter: { kinds: ['conversion'] } } }, { variables: { filter: { status: 'held' } } }],
  ],
  [
    'what is left out and let in',
    `query (${named}, $with: Boolean! = true) { ${byName} { name @skip(if: $with) status @include(if: $with) ... on Control @include(if: $with) { function } } }`,
    [{ variables: control }, { variables: { ...control, with: false } }, { variables: { ...control, with: true } }],
  ],
  [
    'fragments on an interface, aliases and names of types',
    `query { records(first: 3, filter: { kinds: ["conversion"] }) { edges { node { __typename units { __typename ...U a: name b: name
      ... on Pump { series } ... on Control { pump { name } } } } } } } fragment U on Unit { id status }`,
    [{}],
  ],
  [
    'one of several operations',
    `query One { control(maker: "ardenholm", serial: "K-1") { name } } query Two { control(maker: "ardenholm", serial: "K-2") { name status } }`,
    [{ operationName: 'One' }, { operationName: 'Two' }, { operationName: 'One' }],
  ],
  [
    'what is not there, beside what is',
    `query (${named}) { ${byName} { name } other: control(maker: "ardenholm", serial: "none") { name } }`,
    [{ variables: control }],
  ],
  [
    'an argument that is refused when it is looked at',
    'query ($rule: String) { held(rule: $rule, filter: { days: 999999 }) { edges { cursor } } }',
    [{ variables: { rule: 'x' } }],
  ],
  [
    'what the schema says of itself',
    '{ __schema { queryType { name } } __type(name: "Order") { enumValues { name } } }',
    [{}],
  ],
  [
    'a time, with any offset',
    `query (${named}, $at: Instant) { ${byName} { history(performed: $at) { state { function } } } }`,
    [
      { variables: { ...control, at: '2026-04-01T10:30:00+02:00' } },
      { variables: { ...control, at: '2026-04-01T09:30:00+02:00' } },
    ],
  ],
];

/** What is not taken at all. */
const refused: typeof documents = [
  ['one of several, and which is not said', 'query One { __typename } query Two { __typename }', [{}]],
  [
    'one of several that is not there',
    'query One { __typename } query Two { __typename }',
    [{ operationName: 'Three' }],
  ],
  [
    'a variable that is missing, or of another type',
    `query (${named}) { ${byName} { name } }`,
    [{}, { variables: { maker: 3, serial: null } }],
  ],
  ['no query', '{ control(', [{}]],
  [
    'a text that is no time',
    `query ($at: Instant) { held(known: $at) { edges { node { dueBy } } } }`,
    [{ variables: { at: 'soon' } }],
  ],
];

/** Thrice, so that the last is answered by what was compiled for the one before. */
async function agree(asked: readonly Asked[]): Promise<Answer[]> {
  const expected: Answer[] = [];
  for (const one of asked) expected.push(await plain(one));
  for (let turn = 0; turn < 3; turn++) {
    for (const [nth, one] of asked.entries()) expect(await compiled(one)).toEqual(expected[nth]);
  }
  return expected;
}

describe('a document that is compiled is answered as one that is not', () => {
  it.each(documents)('%s', async (_, query, asked) => {
    const answers = await agree(asked.map((one) => ({ query, ...one })));
    expect(answers.map(({ status }) => status)).toEqual(asked.map(() => 200));
    // Of several questions not all have one answer, so that none could be taken for another unnoticed.
    expect(new Set(answers.map(({ text }) => text)).size).toBeGreaterThanOrEqual(Math.min(2, asked.length));
  });

  it.each(refused)('refused: %s', async (_, query, asked) => {
    const answers = await agree(asked.map((one) => ({ query, ...one })));
    expect(answers.map(({ status }) => status)).toEqual(asked.map(() => 400));
  });

  it.each([...readReports().keys()])('the report %s', async (report) => {
    const month = { from: '2026-04-01T00:00:00Z', to: '2026-05-01T00:00:00Z' };
    const [answer] = await agree([{ report, variables: { ...control, number: 'L-1', ...month } }]);
    expect(answer).toMatchObject({ status: 200, text: expect.not.stringContaining('"errors"') });
  });

  it('any that the schema allows', async () => {
    const schema = buildSchema(readSchema());
    const random = randomFrom(1);
    const answers: Answer[] = [];
    for (let nth = 0; nth < 200; nth++) answers.push(...(await agree([{ query: drawnDocument(schema, random) }])));
    // Most are answered, with and without something that failed.
    expect(answers.filter(({ status }) => status === 200).length).toBeGreaterThan(100);
    expect(answers.filter(({ text }) => text.includes('"errors"')).length).toBeGreaterThan(5);
  });
});
