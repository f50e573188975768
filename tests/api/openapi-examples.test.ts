import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { addOrganisations, type Caller, type RunningService, startService } from '../support/running-service.ts';
import { mustGoWell, publish, shopScopes } from '../support/scene.ts';

type Operation = { requestBody?: { content: { 'application/json': { example?: unknown } } } };
const described = JSON.parse(readFileSync(new URL('../../schema/openapi.json', import.meta.url), 'utf8')) as {
  paths: Record<string, Record<string, Operation>>;
};

/** The examples in the order in which they follow from each other, with what their paths name. */
const story: readonly [string, string, string][] = [
  ['put', '/v1/shops/{id}', '/v1/shops/brackwater-north'],
  ['put', '/v1/technicians/{id}', '/v1/technicians/t-17'],
  ['put', '/v1/instruments/{id}', '/v1/instruments/tw-3'],
  ['put', '/v1/lots/{maker}/{number}', '/v1/lots/ardenholm/L-2402-7'],
  ['post', '/v1/lots/{maker}/{number}/intakes', '/v1/lots/ardenholm/L-2402-7/intakes'],
  ['put', '/v1/pumps/{maker}/{serial}', '/v1/pumps/ardenholm/P-7741'],
  ['put', '/v1/controls/{maker}/{serial}', '/v1/controls/ardenholm/K-30001'],
  ['post', '/v1/conversions', '/v1/conversions'],
  ['post', '/v1/inspections', '/v1/inspections'],
  ['post', '/v1/adjustments', '/v1/adjustments'],
  ['post', '/v1/mountings', '/v1/mountings'],
];
const disposition = '/v1/records/{id}/dispositions';

const db = await testDatabase();
let service: RunningService;
let shop: Caller;

beforeAll(async () => {
  await addOrganisations(db, { ardenholm: 'maker', brackwater: 'distributor' });
  service = await startService(db);
  await publish(await service.caller({ maker: 'ardenholm' }, ['catalogue:publish']));
  shop = await service.caller({ distributor: 'brackwater', subject: 'foreman' }, shopScopes);
  await mustGoWell(shop('PUT', '/v1/instruments/pg-1', { kind: 'gauge' }));
});
afterAll(async () => {
  await service.stop();
});

const exampleOf = (method: string, path: string) =>
  described.paths[path]?.[method]?.requestBody?.content['application/json'].example;

describe('the examples of the description', () => {
  it('are there for every operation with a body, but the publishing of an edition', () => {
    const withBody = Object.entries(described.paths).flatMap(([path, operations]) =>
      Object.entries(operations).flatMap(([method, one]) =>
        one.requestBody === undefined ? [] : [`${method} ${path}`],
      ),
    );
    const told = [...story.map(([method, path]) => `${method} ${path}`), `post ${disposition}`];
    expect(withBody.filter((one) => !one.includes('/v1/catalogue/')).sort()).toEqual(told.sort());
  });

  it('are taken, one after the other; the last is held, and what is decided about it releases it', async () => {
    let last = '';
    for (const [method, path, place] of story) {
      const answer = await shop(method.toUpperCase(), place, exampleOf(method, path));
      expect([
        place,
        answer.status,
        answer.body.findings?.filter((one: { severity: string }) => one.severity === 'refuse'),
      ]).toEqual([place, 201, answer.body.findings === undefined ? undefined : []]);
      last = answer.body.id;
    }
    expect((await shop('GET', `/v1/records/${last}`)).body.status).toBe('held');
    const decided = await shop('POST', disposition.replace('{id}', last), exampleOf('post', disposition));
    expect([decided.status, decided.body.independence]).toEqual([201, 'proven']);
    expect((await shop('GET', `/v1/records/${last}`)).body.status).toBe('released');
  });
});
