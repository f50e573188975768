/** What is refused, and that a refusal looks nothing up. Limits: DEVELOPERS.md. */
import { buildSchema, getIntrospectionQuery } from 'graphql';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { Problem } from '../../src/errors.ts';
import { graphqlRoutes } from '../../src/graphql/graphql-routes.ts';
import { queryCheck } from '../../src/graphql/limits/check-query.ts';
import { askerOf, withScope } from '../../src/http/access.ts';
import { logFault, toProblem } from '../../src/http/problems.ts';
import { startShell } from '../api/shell.ts';
import { hostile } from './hostile-documents.ts';

/** As deep, and with the same ways to be asked, as the service's own. */
const sdl = `
  type Query {
    pump(maker: String!, serial: String!): Pump
    pumps(first: Int! = 50, after: String): PumpConnection!
    fails: String
    wrong: String
  }
  type PumpConnection { edges: [PumpEdge!]! }
  type PumpEdge { node: Pump! }
  type Pump { id: ID! name: String fit: [Content!]! state: State! control: Control uses(first: Int! = 50): PumpConnection! }
  type Control { name: String pump: Pump }
  type State { function: String status: String fit: [Content!]! }
  type Content { station: String! basis: String! }`;
const pumpFound = { id: '1', name: 'P-1', state: { function: 'load-sense', status: 'held', fit: [] } };
let resolved = 0;
const resolvers = {
  Query: {
    pump: () => {
      resolved++;
      return pumpFound;
    },
    fails: () => {
      throw new Error('select secret from facts');
    },
    wrong: () => {
      throw new Problem('not-found', 'Nothing is there.');
    },
  },
};
const reports = new Map([['one-pump', 'query ($name: String!) { pump(maker: "ardenholm", serial: $name) { name } }']]);
const answers = { sdl, resolvers, reports, contextFor: () => ({}) };
const shell = { askerOf, toProblem, logFault };

type Post = (
  body: unknown,
  options?: { method?: 'GET' | 'POST'; url?: string },
) => Promise<{ status: number; body: unknown }>;
let post: Post;
let onlyReports: Post;

beforeAll(async () => {
  const open = async (options: Parameters<typeof graphqlRoutes>[1]): Promise<Post> => {
    const routes = graphqlRoutes(answers, options, shell);
    const { app, bearer } = await startShell({
      routes: (rest) => void rest.register(withScope('record:read', routes)),
    });
    return async (body, { method = 'POST', url = '/graphql' } = {}) => {
      const answer = await app.inject({
        ...{ method, url },
        headers: { ...bearer, ...(method === 'POST' && { 'content-type': 'application/json' }) },
        ...(method === 'POST' && { payload: typeof body === 'string' ? body : JSON.stringify(body) }),
      });
      return { status: answer.statusCode, body: answer.json() };
    };
  };
  post = await open({ adHoc: true, introspection: false });
  onlyReports = await open({ adHoc: false, introspection: false });
});
beforeEach(() => {
  resolved = 0;
});

describe('a document', () => {
  it('is one of sixty and more', () => {
    expect(new Set(hostile.map(([, document]) => document)).size).toBeGreaterThanOrEqual(60);
  });

  it.each(hostile)('that is %s is refused, with a code and nothing resolved', async (_, query) => {
    const { status, body } = await post({ query });
    expect({ status, body }).toMatchObject({ status: 400, body: { errors: expect.any(Array) } });
    const { errors, data } = body as { errors: { extensions: { code: string } }[]; data?: unknown };
    expect(errors.map(({ extensions }) => extensions.code)).toEqual(errors.map(() => 'invalid-input'));
    expect(data).toBeUndefined();
    expect(JSON.stringify(errors)).not.toMatch(/did you mean (?!\\"fit {)/i);
    expect(resolved).toBe(0);
  });

  it('that is good is answered', async () => {
    const { status, body } = await post({ query: '{ pump(maker: "ardenholm", serial: "P-1") { name } }' });
    expect({ status, body }).toEqual({ status: 200, body: { data: { pump: { name: 'P-1' } } } });
    expect(resolved).toBe(1);
  });

  it('that fails is answered with codes, and nothing of what failed', async () => {
    const { status, body } = await post({ query: '{ fails wrong pump(maker: "a", serial: "b") { name } }' });
    expect({ status, body }).toMatchObject({
      status: 200,
      body: {
        data: { fails: null, wrong: null, pump: { name: 'P-1' } },
        errors: [
          { path: ['fails'], extensions: { code: 'internal', requestId: expect.any(String) } },
          { path: ['wrong'], message: 'Nothing is there.', extensions: { code: 'not-found' } },
        ],
      },
    });
    expect(JSON.stringify(body)).not.toContain('secret');
  });
});

describe('a report', () => {
  it('is asked for by its name, where no other query is taken', async () => {
    const asked = { report: 'one-pump', variables: { name: 'P-1' } };
    expect(await onlyReports(asked)).toEqual({ status: 200, body: { data: { pump: { name: 'P-1' } } } });
    expect(await onlyReports({ query: '{ __typename }' })).toMatchObject({
      status: 400,
      body: { code: 'invalid-input', errors: [{ pointer: '/query', detail: expect.stringContaining('one-pump') }] },
    });
    expect(await onlyReports({ report: 'one-pump' })).toMatchObject({
      status: 400,
      body: { errors: [{ extensions: { code: 'invalid-input' } }] },
    });
  });

  it('that is over a limit, or out of date, keeps the service from starting', () => {
    const start = (source: string) => () =>
      graphqlRoutes({ ...answers, reports: new Map([['bad', source]]) }, { adHoc: false, introspection: false }, shell);
    expect(start('{ pump(maker: "a", serial: "b") { gone } }')).toThrow(/report bad: .*gone/);
    expect(
      start(`{ pump(maker: "a", serial: "b") { ${'control { pump { '.repeat(4)} name ${'} } '.repeat(4)} } }`),
    ).toThrow(/report bad: .*levels/);
    // 100 pumps with 100 of their uses, should somebody ask for so many.
    const pages = (inner: string) =>
      `query ($first: Int! = 2) { pumps(first: $first) { edges { node { uses(first: ${inner}) { edges { node { name } } } } } } }`;
    expect(start(pages('$first'))).toThrow(/report bad: The answer may have \d+ fields/);
    expect(start(pages('10'))).not.toThrow();
    expect(start('query A { wrong } query B { wrong }')).toThrow(/report bad: A report is one query/);
  });
});

describe('a request', () => {
  const query = '{ __typename }';
  it.each([
    ['a list of queries', [{ query }, { query }]],
    ['a text', JSON.stringify(query)],
    ['no object', 'null'],
    ['a query that is a document as JSON', { query: { kind: 'Document', definitions: [] } }],
    ['a query that is a list', { query: [query] }],
    ['a query that is a number', { query: 1 }],
    ['neither query nor report', { variables: {} }],
    ['both', { query, report: 'none' }],
    ['a report that there is none of', { report: 'none' }],
    ['a report of the prototype', { report: '__proto__' }],
    ['variables as a list', { query, variables: [1] }],
    ['variables as a text', { query, variables: '{}' }],
    ['a stored query by its hash', { extensions: { persistedQuery: { version: 1, sha256Hash: 'a' } } }],
    ['more than is asked for', { query, debug: true }],
  ])('of %s is a problem', async (_, sent) => {
    const { status, body } = await post(sent);
    expect({ status, body }).toMatchObject({
      status: 400,
      body: { code: 'invalid-input', requestId: expect.any(String) },
    });
  });

  it('has one way in', async () => {
    const { status, body } = await post(undefined, {
      method: 'GET',
      url: `/graphql?query=${encodeURIComponent(query)}`,
    });
    expect({ status, body }).toMatchObject({ status: 405, body: { code: 'method-not-allowed' } });
  });

  it('is as long as any other', async () => {
    const { status, body } = await post({ query: `{ __typename } #${'x'.repeat(300_000)}` });
    expect({ status, body }).toMatchObject({ status: 413, body: { code: 'body-too-large' } });
  });
});

describe('the limits', () => {
  const schema = buildSchema(sdl);
  const check = (source: string, variables = {}, options = { introspection: false }) => {
    const checked = queryCheck(schema, options)({ source, variables, operationName: null });
    return 'kind' in checked ? [] : checked.map(({ message }) => message);
  };

  it('let through what is just within them', () => {
    const fields = (count: number, one: (at: number) => string) =>
      Array.from({ length: count }, (_, at) => one(at)).join(' ');
    const pump = 'pump(maker: "a", serial: "b")';
    expect(check(`{ ${pump} { control { pump { control { pump { control { pump { name } } } } } } } }`)).toEqual([]);
    expect(check(`{ ${pump} { ${fields(15, (at) => `a${at}: name`)} } }`)).toEqual([]);
    expect(check(`{ ${fields(5, (at) => `a${at}: ${pump} { name }`)} }`)).toEqual([]);
  });

  it('count a page as often as its first says, in the query, by a variable, by a fragment or by default', () => {
    const over = [expect.stringMatching(/^The answer may have \d+ fields; at most 20000/)];
    const nested = (outer: string, inner: string) =>
      `pumps${outer} { edges { node { uses${inner} { edges { node { name } } } } } }`;
    expect(check(`{ ${nested('(first: 10)', '(first: 100)')} }`)).toEqual([]);
    expect(check(`{ ${nested('(first: 100)', '(first: 100)')} }`)).toEqual(over);
    expect(check(`query ($n: Int!) { ${nested('(first: $n)', '(first: $n)')} }`, { n: 10 })).toEqual([]);
    expect(check(`query ($n: Int!) { ${nested('(first: $n)', '(first: $n)')} }`, { n: 100 })).toEqual(over);
    expect(check(`query ($n: Int! = 100) { ${nested('(first: $n)', '(first: $n)')} }`)).toEqual(over);
    const spread = (first: number) =>
      `{ pumps(first: 100) { edges { node { ...A } } } } fragment A on Pump { uses(first: ${first}) { edges { node { name } } } }`;
    expect(check(spread(1))).toEqual([]);
    expect(check(spread(100))).toEqual(over);
    const three = `{ pumps { edges { node { a: uses { edges { node { name } } } b: uses { edges { node { name } } } c: uses { edges { node { name } } } } } } }`;
    expect(check(three)).toEqual(over);
  });

  it.each(['0', '-1', '101', '2147483647'])('take no page of %s', (first) => {
    const refused = ['first of pumps is a whole number from 1 to 100.'];
    expect(check(`{ pumps(first: ${first}) { edges { node { name } } } }`)).toEqual(refused);
    const byVariable = 'query ($n: Int!) { pumps(first: $n) { edges { node { name } } } }';
    expect(check(byVariable, { n: Number(first) })).toEqual(refused);
  });

  it('leave the schema to those who may ask for it', () => {
    expect(check(getIntrospectionQuery(), {}, { introspection: true })).toEqual([]);
    expect(check(getIntrospectionQuery())).not.toEqual([]);
  });
});
