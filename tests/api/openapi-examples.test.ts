/** Sources: OpenAPI 3.1.0 and JSON Schema 2020-12, by validators that are not ours. */
import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { described, exampleOf, operations, undescribed } from '../support/described.ts';
import type { Answer, Caller } from '../support/over-http.ts';
import { addOrganisations, madeFolder, type RunningService, startService } from '../support/running-service.ts';
import { mustGoWell, publish, shopScopes } from '../support/scene.ts';

/** The examples in the order in which they follow from each other, with what their paths name. */
const story: readonly [string, string][] = [
  ['put /v1/shops/{id}', '/v1/shops/brackwater-north'],
  ['put /v1/technicians/{id}', '/v1/technicians/t-17'],
  ['post /v1/technicians/{id}/authorisations', '/v1/technicians/t-17/authorisations'],
  ['put /v1/instruments/{id}', '/v1/instruments/tw-3'],
  ['post /v1/instruments/{id}/calibrations', '/v1/instruments/tw-3/calibrations'],
  ['post /v1/instruments/{id}/checks', '/v1/instruments/tw-3/checks'],
  ['post /v1/instruments/{id}/incidents', '/v1/instruments/tw-3/incidents'],
  ['put /v1/lots/{maker}/{number}', '/v1/lots/ardenholm/L-2402-7'],
  ['post /v1/lots/{maker}/{number}/intakes', '/v1/lots/ardenholm/L-2402-7/intakes'],
  ['post /v1/lots/{maker}/{number}/scrappings', '/v1/lots/ardenholm/L-2402-7/scrappings'],
  ['post /v1/lots/{maker}/{number}/returns', '/v1/lots/ardenholm/L-2402-7/returns'],
  ['post /v1/lots/{maker}/{number}/counts', '/v1/lots/ardenholm/L-2402-7/counts'],
  ['put /v1/pumps/{maker}/{serial}', '/v1/pumps/ardenholm/P-7741'],
  ['put /v1/controls/{maker}/{serial}', '/v1/controls/ardenholm/K-30001'],
  ['post /v1/movements', '/v1/movements'],
  ['post /v1/conversions', '/v1/conversions'],
  ['post /v1/inspections', '/v1/inspections'],
  ['post /v1/adjustments', '/v1/adjustments'],
  ['post /v1/repairs', '/v1/repairs'],
  ['post /v1/start-ups', '/v1/start-ups'],
  ['post /v1/tests', '/v1/tests'],
  ['post /v1/retirements', '/v1/retirements'],
  ['post /v1/identities', '/v1/identities'],
  ['post /v1/mountings', '/v1/mountings'],
];
const publishing = 'put /v1/catalogue/{maker}/editions/{edition}';
const disposition = 'post /v1/records/{id}/dispositions';
const correction = 'post /v1/records/{id}/corrections';
const restocking = 'post /v1/restockings';
const voiding = 'post /v1/instruments/{id}/voids';
const graphql = 'post /graphql';
/** Each after what it ends, the approvals by the maker. */
const leave = {
  withdrawal: 'post /v1/authorisations/{id}/withdrawals',
  erasure: 'post /v1/technicians/{id}/erasures',
  approval: 'post /v1/approvals',
  approvalWithdrawal: 'post /v1/approvals/{id}/withdrawals',
};
/** Claimed by the shop, decided by the maker, and more evidence from the shop. */
const warranty = {
  terms: 'put /v1/terms/{maker}/{id}',
  claim: 'post /v1/claims',
  decision: 'post /v1/claims/{id}/decisions',
  evidence: 'post /v1/claims/{id}/evidence',
};
const claimTrace = 'get /v1/claims/{id}/trace';
const warrantyReads = ['get /v1/claims', 'get /v1/claims/{id}', claimTrace, 'get /v1/terms/{maker}/{id}'];
/** By the maker, of what the story left. */
const containing = {
  issue: 'post /v1/containments',
  progress: 'post /v1/containments/{id}/progress',
  lift: 'post /v1/containments/{id}/lift',
};
const contained = ['get /v1/containments', 'get /v1/containments/{id}', 'get /v1/containments/{id}/reach'];
/** Of what is published, a moment after it was recorded; the log of a new service follows no other. */
const log = {
  inclusion: 'get /log/inclusion/{entry}',
  consistency: 'get /log/consistency',
  checkpoint: 'get /log/checkpoint',
  follows: 'get /log/follows',
  certificate: 'get /v1/records/{id}/certificate',
};
/** Line by line, which bulk.test.ts and export.test.ts ask, and files, which attachments.test.ts does. */
const ofLines = ['post /v1/bulk', 'get /v1/export/records', 'post /v1/attachments', 'get /v1/attachments/{digest}'];

/** A well-formed request to every operation that reads, once the story is told; `{record}` is its last record. */
const reads: readonly [string, string][] = [
  ['get /livez', '/livez'],
  ['get /readyz', '/readyz'],
  ['get /startupz', '/startupz'],
  ['get /log/key', '/log/key'],
  ['get /problems/{code}', '/problems/no-plan'],
  ['get /v1/catalogue/{maker}/editions/{edition}', '/v1/catalogue/ardenholm/editions/2026-1'],
  ['get /v1/shops', '/v1/shops'],
  ['get /v1/technicians', '/v1/technicians'],
  ['get /v1/technicians/{id}', '/v1/technicians/t-17?at=2026-03-20T00:00:00Z'],
  ['get /v1/authorisations', '/v1/authorisations?within=3660&expired=true'],
  ['get /v1/approvals', '/v1/approvals'],
  ['get /v1/instruments', '/v1/instruments?first=1'],
  ['get /v1/instruments/{id}', '/v1/instruments/tw-3?at=2026-06-01T00:00:00Z'],
  ['get /v1/calibrations', '/v1/calibrations?within=3660'],
  ['get /v1/lots', '/v1/lots'],
  ['get /v1/lots/{maker}/{number}', '/v1/lots/ardenholm/L-2402-7'],
  ['get /v1/lots/{maker}/{number}/intakes', '/v1/lots/ardenholm/L-2402-7/intakes'],
  ['get /v1/lots/{maker}/{number}/moves', '/v1/lots/ardenholm/L-2402-7/moves'],
  ['get /v1/stock', '/v1/stock?shop=brackwater-north'],
  ['get /v1/pumps/{maker}/{serial}', '/v1/pumps/ardenholm/P-7741'],
  ['get /v1/controls/{maker}/{serial}', '/v1/controls/ardenholm/K-20931'],
  ['get /v1/pumps/{maker}/{serial}/job-sheet', '/v1/pumps/ardenholm/P-7742/job-sheet?function=remote-pressure'],
  ['get /v1/controls/{maker}/{serial}/job-sheet', '/v1/controls/ardenholm/K-20931/job-sheet?function=load-sense-bled'],
  [
    'get /v1/controls/{maker}/{serial}/mounting-sheet',
    '/v1/controls/ardenholm/K-20931/mounting-sheet?pump=ardenholm/P-7741',
  ],
  ['get /v1/pumps/{maker}/{serial}/history', '/v1/pumps/ardenholm/P-7741/history'],
  [
    'get /v1/controls/{maker}/{serial}/history',
    '/v1/controls/ardenholm/K-20931/history?performed=2026-03-20T00:00:00Z&known=2026-03-20T00:00:00Z',
  ],
  ['get /v1/reach', '/v1/reach?lot=ardenholm/L-2402-7&from=2026-01-01T00:00:00Z'],
  ['get /v1/records/{id}', '/v1/records/{record}'],
  ['get /v1/judgements', '/v1/judgements?cause={record}'],
  ['get /v1/held', '/v1/held'],
  ['get /v1/held/counts', '/v1/held/counts?shop=brackwater-north'],
  ['get /v1/due', '/v1/due?days=0&overdueAfter=P14D'],
  ['get /v1/due/counts', '/v1/due/counts?overdue=true'],
  ['get /v1/orders/options', '/v1/orders/options?function=load-sense&size=83&rotation=clockwise'],
  ['get /v1/attempts', '/v1/attempts'],
  ['get /v1/pumps/{maker}/{serial}/trace', '/v1/pumps/ardenholm/P-7741/trace?performed=2026-10-12T06:00:00Z'],
  ['get /v1/controls/{maker}/{serial}/trace', '/v1/controls/ardenholm/K-20931/trace'],
  ['get /v1/accesses', '/v1/accesses?from=2026-01-01T00:00:00Z'],
  ['get /v1/pumps/{maker}/{serial}/chain', '/v1/pumps/ardenholm/P-7741/chain'],
  ['get /v1/controls/{maker}/{serial}/chain', '/v1/controls/ardenholm/K-20931/chain'],
];

const db = await testDatabase();
const emptyDb = await testDatabase();
const dataDir = madeFolder();
let service: RunningService;
let shop: Caller;
let maker: Caller;

beforeAll(async () => {
  await addOrganisations(db, { ardenholm: 'maker', brackwater: 'distributor' });
  service = await startService(db, dataDir);
  const makers = ['catalogue:publish', 'warranty:read', 'warranty:decide', 'containment:write'] as const;
  maker = await service.caller({ maker: 'ardenholm' }, makers);
  shop = await service.caller({ distributor: 'brackwater', subject: 'foreman' }, shopScopes);
  await publish(maker);
  await mustGoWell(shop('PUT', '/v1/instruments/pg-1', { kind: 'gauge' }));
});
afterAll(async () => {
  await service.stop();
});

const call = async (caller: Caller, operation: string, path: string, body?: unknown): Promise<Answer> => {
  const answer = await caller(operation.split(' ')[0]?.toUpperCase() ?? '', path, body);
  expect([operation, undescribed(operation, answer)]).toEqual([operation, []]);
  return answer;
};
const send = async (caller: Caller, operation: string, path: string, query = '') =>
  await call(caller, operation, path + query, exampleOf(operation));
const without = <T extends object>(body: unknown, ...names: string[]): T =>
  Object.fromEntries(Object.entries(body as object).filter(([name]) => !names.includes(name))) as T;

describe('the description', () => {
  it('is valid OpenAPI', async () => {
    const { valid, errors } = await new Validator().validate(structuredClone(described) as Record<string, unknown>);
    expect([valid, errors]).toEqual([true, undefined]);
  });

  it('names every operation, and says of every good answer more than that it is an object', () => {
    const ids = [...operations.values()].map((one) => one.operationId);
    expect(ids.filter((id) => !/^[a-z][A-Za-z]+$/.test(id ?? ''))).toEqual([]);
    expect(new Set(ids).size).toBe(operations.size);
    for (const [name, { responses }] of operations) {
      const good = Object.entries(responses).filter(([status]) => status.startsWith('2'));
      expect([name, good.length > 0]).toEqual([name, true]);
      for (const [status, { description, content }] of good) {
        expect([name, status, description]).not.toEqual([name, status, 'Default Response']);
        const [[type, media] = []] = Object.entries(content ?? {});
        const schema = JSON.stringify(media?.schema);
        const said = type === 'text/plain' ? /"type":"string"/ : /"\$ref"|"properties":\{"|"format":"binary"/;
        expect([name, status, schema]).toEqual([name, status, expect.stringMatching(said)]);
      }
    }
  });

  it('is of every operation that is asked here, and of no other', () => {
    const asked = [...story, ...reads].map(([operation]) => operation);
    const others = [
      ...Object.values(leave),
      ...Object.values(warranty),
      ...warrantyReads,
      ...Object.values(containing),
      ...contained,
      ...Object.values(log),
      graphql,
      publishing,
      disposition,
      correction,
      restocking,
      voiding,
    ];
    expect([...asked, ...ofLines, ...others].sort()).toEqual([...operations.keys()].sort());
  });
});

describe('the examples of the description', () => {
  it('are there for every operation with a body', () => {
    const withBody = [...operations]
      .filter(([name, one]) => one.requestBody !== undefined && !ofLines.includes(name))
      .map(([name]) => name);
    expect(withBody.filter((name) => exampleOf(name) === undefined)).toEqual([]);
    expect(withBody.sort()).toEqual(
      [
        ...story.map(([name]) => name),
        ...[
          ...Object.values(leave),
          ...Object.values(warranty),
          ...Object.values(containing),
          graphql,
          publishing,
          disposition,
          correction,
          restocking,
          voiding,
        ],
      ].sort(),
    );
  });

  it('are taken, one after the other, each judged beforehand as it is then; the last is held until it is decided', async () => {
    let last = '';
    const made = new Map<string, string>();
    for (const [operation, path] of story) {
      const checked = operation.startsWith('post') ? await send(shop, operation, path, '?check=only') : null;
      const answer = await send(shop, operation, path);
      expect([operation, answer.status, checked?.status]).toEqual([operation, 201, checked === null ? undefined : 200]);
      expect(checked?.body.status).toBe(checked === null ? undefined : answer.body.status);
      last = answer.body.id;
      made.set(operation, last);
    }
    const restocked = { ...(exampleOf(restocking) as object), record: made.get('post /v1/conversions') };
    expect(await call(shop, restocking, '/v1/restockings', restocked)).toMatchObject({ status: 201 });
    const dropped = { ...(exampleOf(voiding) as object), record: made.get('post /v1/instruments/{id}/incidents') };
    for (const [query, status] of [
      ['?check=only', 200],
      ['', 201],
    ] as const) {
      expect(await call(shop, voiding, `/v1/instruments/tw-3/voids${query}`, dropped)).toMatchObject({ status });
    }
    const path = `/v1/records/${last}`;
    expect((await call(shop, 'get /v1/records/{id}', path)).body.status).toBe('held');
    expect((await send(shop, disposition, `${path}/dispositions`, '?check=only')).body.independence).toBe('proven');
    const decided = await send(shop, disposition, `${path}/dispositions`);
    expect([decided.status, decided.body.independence]).toEqual([201, 'proven']);
    expect((await call(shop, 'get /v1/records/{id}', path)).body.status).toBe('released');

    const undone = `/v1/records/${decided.body.id}/corrections`;
    expect((await send(shop, correction, undone, '?check=only')).status).toBe(200);
    expect(await send(shop, correction, undone)).toMatchObject({ status: 201, body: { replaces: decided.body.id } });

    const again = story.filter(([operation]) => operation.startsWith('put'));
    for (const [operation, place] of again) {
      expect([operation, (await send(shop, operation, place)).status]).toEqual([operation, 200]);
    }
  });

  it('of leave is given by who may give it, and withdrawn, and people are forgotten', async () => {
    const { technician, authorisations } = (await shop('GET', '/v1/technicians/t-17')).body;
    const given = authorisations[0].authorisation;
    const forgotten = `/v1/technicians/${technician}/erasures`;
    const ended = `/v1/authorisations/${given}/withdrawals`;
    const approved = await send(maker, leave.approval, '/v1/approvals');
    const over = `/v1/approvals/${approved.body.id}/withdrawals`;
    const statuses = [
      (await send(shop, leave.withdrawal, ended, '?check=only')).status,
      (await send(shop, leave.withdrawal, ended)).status,
      (await send(maker, leave.approval, '/v1/approvals', '?check=only')).status,
      approved.status,
      (await send(maker, leave.approvalWithdrawal, over, '?check=only')).status,
      (await send(maker, leave.approvalWithdrawal, over)).status,
      (await send(shop, leave.erasure, forgotten, '?check=only')).status,
      (await send(shop, leave.erasure, forgotten)).status,
      (await call(maker, 'get /v1/approvals', '/v1/approvals')).body.items.length,
    ];
    expect(statuses).toEqual([200, 201, 409, 201, 200, 201, 200, 201, 1]);
  });

  it('of a claim is told both sides, decided, and covered by the terms', async () => {
    const [claims, terms] = ['/v1/claims', '/v1/terms/ardenholm/standard'];
    const stated = [await send(maker, warranty.terms, terms), await send(maker, warranty.terms, terms)];
    const checked = await send(shop, warranty.claim, claims, '?check=only');
    const { status, body } = await send(shop, warranty.claim, claims);
    const of = (rest: string) => `${claims}/${body.id}${rest}`;
    const statuses = [
      ...[...stated.map((one) => one.status), checked.status, status],
      (await send(maker, warranty.decision, of('/decisions'), '?check=only')).status,
      (await send(maker, warranty.decision, of('/decisions'))).status,
      (await send(shop, warranty.evidence, of('/evidence'), '?check=only')).status,
      (await send(shop, warranty.evidence, of('/evidence'))).status,
    ];
    expect(statuses).toEqual([201, 200, 200, 201, 200, 201, 200, 201]);
    for (const caller of [shop, maker]) {
      expect((await call(caller, claimTrace, of('/trace'))).status).toBe(200);
      const whole = (await call(caller, 'get /v1/claims/{id}', of('?units=imperial'))).body;
      expect(whole).toMatchObject({ status: 'open', reopened: true, coverage: [{ coverage: { result: 'within' } }] });
      const listed = (await call(caller, 'get /v1/claims', `${claims}?unit=ardenholm/P-7741&status=open`)).body;
      expect(listed.items).toMatchObject([{ claim: body.id, reopened: true }]);
      const versions = (await call(caller, 'get /v1/terms/{maker}/{id}', terms)).body.versions;
      expect(versions).toMatchObject([{ version: 1 }]);
    }
  });

  it('of an edition is published on a service of its own, and the second time it is there already', async () => {
    await addOrganisations(emptyDb, { ardenholm: 'maker' });
    const empty = await startService(emptyDb, dataDir);
    const publisher = await empty.caller({ maker: 'ardenholm' }, ['catalogue:publish']);
    const path = '/v1/catalogue/ardenholm/editions/sample';
    const first = await send(publisher, publishing, path);
    const second = await send(publisher, publishing, path);
    await empty.stop();
    expect([first.status, second.status, second.body.digest]).toEqual([201, 200, first.body.digest]);
  });
});

describe('what is answered', () => {
  it('to every operation that reads is there and is as described, for the shop and for the maker', async () => {
    const bare = without<{ control: object }>(exampleOf('put /v1/pumps/{maker}/{serial}'));
    await mustGoWell(shop('PUT', '/v1/pumps/ardenholm/P-7742', { ...bare, control: without(bare.control, 'serial') }));
    const conversion = exampleOf('post /v1/conversions') as object;
    expect((await shop('POST', '/v1/conversions', { ...conversion, reference: 'again' })).status).toBe(409);
    const record = (await shop('GET', '/v1/controls/ardenholm/K-20931/history')).body.items[1].id;
    for (const [operation, path] of reads) {
      const answer = await call(shop, operation, path.replace('{record}', record));
      expect([operation, answer.status]).toEqual([operation, 200]);
    }
    const reported = await send(shop, graphql, '/graphql');
    expect(reported).toMatchObject({
      status: 200,
      body: { data: { pump: { status: expect.any(String) } } },
    });
    expect(reported.body.errors).toBeUndefined();
    for (const operation of ['get /v1/records/{id}', 'get /v1/reach', 'get /v1/controls/{maker}/{serial}/history']) {
      const path = reads.find(([name]) => name === operation)?.[1].replace('{record}', record) ?? '';
      expect([operation, (await call(maker, operation, path)).status]).toEqual([operation, 200]);
    }
  });

  it('of the log is there a moment later, and as described', async () => {
    const entries = (await shop('GET', '/v1/controls/ardenholm/K-20931/history')).body.items;
    const records = await Promise.all(entries.map(({ id }: { id: string }) => shop('GET', `/v1/records/${id}`)));
    const { id, entry } =
      records.find(({ body }) => body.status === 'released' && body.correctedBy === null)?.body ?? {};
    await expect.poll(async () => (await shop('GET', `/log/inclusion/${entry}`)).status, { timeout: 30_000 }).toBe(200);
    const statuses = [
      (await call(shop, log.inclusion, `/log/inclusion/${entry}`)).status,
      (await call(shop, log.consistency, '/log/consistency?from=1')).status,
      (await call(shop, log.checkpoint, '/log/checkpoint')).status,
      (await call(shop, log.certificate, `/v1/records/${id}/certificate?withhold=private`)).status,
      (await call(maker, log.certificate, `/v1/records/${id}/certificate`)).status,
      (await call(shop, log.follows, '/log/follows')).status,
    ];
    expect(statuses).toEqual([200, 200, 200, 200, 200, 404]);
  });

  it('about a containment is as described: issued, seen to, read by both and lifted', async () => {
    const checked = await send(maker, containing.issue, '/v1/containments', '?check=only');
    const issued = await send(maker, containing.issue, '/v1/containments');
    const path = `/v1/containments/${issued.body.id}`;
    const reach = await call(maker, 'get /v1/containments/{id}/reach', `${path}/reach?overdue=false`);
    const { unit } = reach.body.items[0];
    const step = { ...(exampleOf(containing.progress) as object), unit };
    const statuses = [
      ...[checked.status, issued.status, reach.status],
      (await call(shop, containing.progress, `${path}/progress?check=only`, step)).status,
      (await call(shop, containing.progress, `${path}/progress`, step)).status,
      (await call(shop, 'get /v1/containments', '/v1/containments')).status,
      (await call(shop, 'get /v1/containments/{id}', path)).status,
      (await call(shop, 'get /v1/containments/{id}/reach', `${path}/reach`)).status,
      (await call(shop, 'get /v1/controls/{maker}/{serial}', '/v1/controls/ardenholm/K-20931')).status,
      (await send(maker, containing.lift, `${path}/lift`, '?check=only')).status,
      (await send(maker, containing.lift, `${path}/lift`)).status,
      (await call(shop, 'get /v1/containments/{id}', path)).status,
    ];
    expect(statuses).toEqual([200, 201, 200, 200, 201, 200, 200, 200, 200, 200, 201, 200]);
  });

  it('to what is refused, can not be done, is missing or not allowed is as described', async () => {
    const conversion = exampleOf('post /v1/conversions') as object;
    const at = (path: string, query = '') => `/v1/controls/ardenholm/${path}${query}`;
    const sheet = 'get /v1/controls/{maker}/{serial}/job-sheet';
    const answers = [
      await call(shop, 'post /v1/conversions', '/v1/conversions', { ...conversion, reference: 'third', to: null }),
      await call(shop, 'post /v1/conversions', '/v1/conversions', without(conversion, 'shop', 'technician')),
      await call(shop, sheet, at('K-20931', '/job-sheet?function=stirring')),
      await call(shop, sheet, at('K-0', '/job-sheet?function=load-sense')),
      await call(maker, 'get /v1/shops', '/v1/shops'),
      await call(maker, publishing, '/v1/catalogue/ardenholm/editions/sample', exampleOf(publishing)),
      await call(shop, 'put /v1/controls/{maker}/{serial}', at('K-30001'), {
        ...(exampleOf('put /v1/controls/{maker}/{serial}') as object),
        function: 'load-sense-bled',
      }),
    ];
    expect(answers.map(({ status, body }) => [status, body.code])).toEqual([
      [409, 'refused-by-rules'],
      [400, 'invalid-input'],
      [409, 'no-plan'],
      [404, 'not-found'],
      [403, 'forbidden'],
      [422, 'edition-problems'],
      [409, 'registration-differs'],
    ]);
    const [refused, invalid, noPlan] = answers;
    expect(refused?.body.findings.length).toBeGreaterThan(0);
    expect(invalid?.body.errors.map((one: { pointer: string }) => one.pointer)).toEqual(['/shop', '/technician']);
    expect(noPlan?.body.offered).toContain('remote-pressure');
  });

  it('to a question that an operation does not take is that it takes none: nothing is written instead', async () => {
    const path = '/v1/pumps/ardenholm/P-7743';
    const operation = 'put /v1/pumps/{maker}/{serial}';
    const bare = { ...(exampleOf(operation) as object), control: null };
    const asked = await call(shop, operation, `${path}?check=only`, bare);
    expect([asked.status, asked.body.errors]).toEqual([400, [{ parameter: 'check', detail: 'is not known here' }]]);
    expect((await shop('GET', path)).status).toBe(404);
    expect((await shop('GET', '/v1/pumps/ardenholm/P-7741?at=2026-03-20T00:00:00Z')).status).toBe(400);
  });
});
