/** The hostile documents once more, against the service's own schema: no refusal costs a statement. */
import { beforeAll, describe, expect, it } from 'vitest';
import { everyRoute } from '../../src/wire.ts';
import { signed, startShell } from '../api/shell.ts';
import { testDatabase } from '../support/database.ts';
import { testService } from '../support/service.ts';
import { type Data, listenTo } from './ask.ts';
import { hostile } from './hostile-documents.ts';

const db = await testDatabase();
const service = await testService(db);
const heard = Object.values(service.app.pools).map(listenTo);
let post: (query: string) => Promise<Data>;

beforeAll(async () => {
  // Behind a directory that asks no database, so that whatever is heard is of the documents.
  const { app, key } = await startShell({ routes: everyRoute(service.app, { adHoc: true, introspection: false }) });
  const token = await signed(key, { scope: 'warranty:read', distributor: undefined, maker: 'ardenholm' });
  post = async (query) => {
    const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/json' };
    const answer = await app.inject({ method: 'POST', url: '/graphql', headers, payload: JSON.stringify({ query }) });
    return { status: answer.statusCode, ...answer.json() };
  };
});

const statements = () => heard.reduce((sum, one) => sum + one.length, 0);

describe('the service', () => {
  it('refuses sixty documents and more, and sends no statement for any', async () => {
    expect(new Set(hostile.map(([, document]) => document)).size).toBeGreaterThanOrEqual(60);
    for (const [what, document] of hostile) {
      const { status, data, errors } = await post(document);
      const codes = [...new Set(errors?.map(({ extensions }: Data) => extensions.code))];
      expect({ what, status, data, codes }).toEqual({ what, status: 400, data: undefined, codes: ['invalid-input'] });
    }
    expect(statements()).toBe(0);
  });

  it('and of a good one is heard', async () => {
    const answer = await post('{ pump(maker: "ardenholm", serial: "P-0") { name } }');
    expect(answer).toMatchObject({ status: 200, errors: [{ extensions: { code: 'not-found' } }] });
    expect(statements()).toBeGreaterThan(0);
  });
});
