/** Who sees what: another distributor, the maker's analyst, another maker. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { sequenceAll } from '../../src/app/log/sequence.ts';
import { canary, type Planted, plantCanaries } from '../support/canaries.ts';
import { testDatabase } from '../support/database.ts';
import type { Answer } from '../support/over-http.ts';
import { rowCounts, rowsOf } from '../support/rows.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, edition, inspectionOf, intakeOf, maker, openShops } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { tollan, analyst } = await openShops(service);
const performedAt = '2026-04-10T08:00:00Z';
/** Made as ids are made, and nobody's. */
const nobody = service.app.effects.newId();

let planted: Planted;
beforeAll(async () => {
  planted = await plantCanaries(service, db);
});

const unitPaths = (kind: string, serial: string) => {
  const path = `/v1/${kind}/${maker}/${serial}`;
  return [
    ...[path, `${path}/trace`, `${path}/chain`, `${path}/history`, `${path}/history?first=1`],
    `${path}/job-sheet?function=remote-pressure`,
  ];
};
/** Every way to read, with nothing in the path that the answer could repeat. */
const readings = [
  ...[
    'shops',
    'technicians',
    'instruments',
    'lots',
    'attempts',
    'authorisations',
    'approvals',
    'calibrations',
    'held',
    'held/counts',
    'due',
    'due/counts',
    'accesses',
    'orders/options?function=load-sense',
    'claims',
  ].map((list) => `/v1/${list}`),
  ...unitPaths('pumps', 'P-c'),
  ...unitPaths('controls', 'K-c'),
  ...unitPaths('controls', 'K-shelf'),
  `/v1/controls/${maker}/K-shelf/mounting-sheet?pump=${maker}/P-c`,
  `/v1/technicians/${canary}-t`,
  `/v1/instruments/${canary}-tw`,
  `/v1/judgements?cause=${'0'.repeat(8)}-0000-0000-0000-${'0'.repeat(12)}`,
  `/v1/reach?lot=${maker}/${canary}-lot`,
  `/v1/reach?lot=${canary}-supplier/${canary}-lot`,
  `/v1/lots/${maker}/${canary}-lot`,
  `/v1/lots/${maker}/${canary}-lot/intakes`,
  `/v1/lots/${maker}/${canary}-lot/moves`,
  `/v1/stock?shop=${canary}-shop`,
  `/v1/catalogue/${maker}/editions/${edition}`,
  `/v1/attachments/sha256:${'0'.repeat(64)}`,
  '/v1/export/records',
  '/v1/export/records?format=csv',
];

/** Without what is each answer's own. */
function comparable({ status, text }: Answer, named: string): unknown[] {
  return [status, text.replaceAll(named, '…').replace(/"requestId":"[^"]*"/, '')];
}

describe('another distributor', () => {
  it('reads none of the words that one planted in everything it words itself, nor whom it employs', async () => {
    const described = JSON.parse(readFileSync('schema/openapi.json', 'utf8')).paths as Record<string, object>;
    const templates = Object.entries(described).flatMap(([path, one]) =>
      'get' in one && path.startsWith('/v1/') ? [path] : [],
    );
    const asTemplate = (path: string) => new RegExp(`^${path.replaceAll(/\{\w+\}/g, '[^/]+')}(\\?|$)`);
    const records = Object.values(planted.records).flatMap((id) => [
      `/v1/records/${id}`,
      `/v1/records/${id}/certificate`,
      `/v1/judgements?cause=${id}`,
    ]);
    const { claimed } = planted.records;
    const words = { reason: `${canary} why`, instruction: `${canary} what` };
    const containment = { reference: `${canary}-cn`, criteria: { element: 'plug-m5' }, severity: 'inform', ...words };
    const contained = (await mustGoWell(planted.shop('POST', '/v1/containments', containment))).body.id;
    await sequenceAll(service.app);
    const all = [
      ...readings,
      ...records,
      `/v1/claims/${claimed}`,
      `/v1/claims/${claimed}/trace`,
      `/v1/terms/${maker}/none`,
      '/v1/containments',
      `/v1/containments/${contained}`,
      `/v1/containments/${contained}/reach`,
    ];
    expect(templates.filter((path) => !all.some((one) => asTemplate(path).test(one)))).toEqual([]);
    for (const path of all) {
      const { text, headers } = await tollan('GET', path);
      expect([path, `${text}${JSON.stringify([...headers])}`.toLowerCase().includes(canary)]).toEqual([path, false]);
      expect([path, text.includes(planted.person)]).toEqual([path, false]);
    }
    expect(await rowsOf(db, `select from facts where statement ilike '%${canary}%'`)).not.toEqual([]);
  });

  it('that works on the unit is told what its bench must know, and none of those words', async () => {
    const record = await conversionOf(tollan, 'c', 'remote-pressure', { reference: 'other', performedAt });
    const { found: _, ...silent } = record;
    const answers = [
      await tollan('POST', '/v1/conversions?check=only', silent),
      await tollan('POST', '/v1/conversions?check=only', {
        ...record,
        removed: [],
        found: { function: 'pressure-limit' },
      }),
      await tollan('POST', '/v1/inspections?check=only', inspectionOf('c', { reference: 'other', performedAt })),
      await tollan('PUT', `/v1/pumps/${maker}/P-c`, pumpWith({ serial: 'K-c', function: 'load-sense' })),
      await tollan('PUT', `/v1/pumps/${maker}/P-new`, pumpWith({ serial: 'K-c', function: 'load-sense' })),
      await tollan('PUT', `/v1/controls/${maker}/K-c`, {}),
    ];
    expect(answers.map((one) => one.status)).toEqual([200, 409, 200, 409, 409, 400]);
    for (const { text } of answers) {
      expect(text.toLowerCase()).not.toContain(canary);
      expect(text).not.toContain(planted.person);
    }
  });

  it.each([
    ['a record', 'GET', '', undefined],
    [
      'a decision about one',
      'POST',
      '/dispositions',
      { reference: 'd', performedAt, decision: 'scrap', reason: 'why' },
    ],
  ])("gets for %s of another's the answer that an unknown id gets", async (_, method, rest, body) => {
    const unknown = comparable(await tollan(method, `/v1/records/${nobody}${rest}`, body), nobody);
    expect(unknown[0]).toBe(404);
    for (const id of Object.values(planted.records)) {
      expect(comparable(await tollan(method, `/v1/records/${id}${rest}`, body), id)).toEqual(unknown);
    }
  });

  it("gets for another's file, whoever names it, the answer that one gets which nobody has", async () => {
    const none = `sha256:${'0'.repeat(64)}`;
    const other = await service.as({ maker: 'other-maker' });
    for (const caller of [tollan, other]) {
      const unknown = comparable(await caller('GET', `/v1/attachments/${none}`), none);
      expect(unknown[0]).toBe(404);
      for (const file of Object.values(planted.files))
        expect(comparable(await caller('GET', `/v1/attachments/${file}`), file)).toEqual(unknown);
    }
    const seen = await Promise.all(Object.values(planted.files).map((one) => analyst('GET', `/v1/attachments/${one}`)));
    expect(seen.map(({ status, text }) => [status, text.includes(`${canary} claimed`)])).toEqual([
      [404, false],
      [200, true],
    ]);
  });

  it.each([
    ['shop', (name: string) => ({ shop: name }), 'shop'],
    ['technician', (name: string) => ({ technician: name }), 't'],
    ['check by a person', (name: string) => ({ checks: [{ check: 'leak-free', result: 'passed', by: name }] }), 't'],
    [
      'instrument',
      (name: string) => ({
        torques: [{ joint: 'side-cap-body', how: 'set', reading: { value: '34', unit: 'N.m' }, instrument: name }],
      }),
      'tw',
    ],
    ['lot', (name: string) => ({ seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: name }] }), 'lot'],
    [
      'lot of a supplier',
      (number: string) => ({
        seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: { maker: `${canary}-supplier`, number } }],
      }),
      'lot',
    ],
  ])("is told of another's %s in a body what it is told of one that is nobody's", async (_, naming, suffix) => {
    const answers = [];
    for (const name of [`${canary}-${suffix}`, `nobody-${suffix}`]) {
      const body = { ...inspectionOf('c', { reference: 'naming', performedAt }), ...naming(name) };
      answers.push(comparable(await tollan('POST', '/v1/inspections?check=only', body), name));
    }
    expect(answers[0]).toEqual(answers[1]);
    expect(answers[0]?.[0]).toBe(409);
  });

  it("finds another's references, ids, lots and keys free", async () => {
    const lot = `/v1/lots/${maker}/${canary}-lot`;
    const answers = [
      await tollan('POST', `${lot}/intakes`, intakeOf(`${canary}-in`), `${canary}-key-1`),
      await tollan('PUT', lot, { part: 'kit-sense' }),
      await tollan('POST', `${lot}/intakes`, intakeOf(`${canary}-in`), `${canary}-key-1`),
      await tollan('PUT', `/v1/technicians/${canary}-t`, { name: 'somebody else' }),
      await tollan('PUT', `/v1/instruments/${canary}-tw`, { kind: 'gauge' }),
      await tollan('PUT', `/v1/shops/${canary}-shop`, { name: 'another' }),
    ];
    expect(answers.map((one) => [one.status, one.body.version, one.headers.get('idempotency-replayed')])).toEqual([
      [404, undefined, null],
      [201, 1, null],
      [201, undefined, null],
      [201, 1, null],
      [201, 1, null],
      [201, 1, null],
    ]);
  });

  it('sees of a unit that it can name the same as who worked on it: fit, function, status, what holds it, but where it is', async () => {
    for (const path of [`/v1/controls/${maker}/K-c`, `/v1/pumps/${maker}/P-c`]) {
      const own = await mustGoWell(planted.shop('GET', path));
      const seen = await mustGoWell(tollan('GET', path));
      expect(seen.text).toBe(own.text.replaceAll(/"custody":\{[^}]*\}/g, '"custody":null'));
      expect(own.body.control.custody).toMatchObject({ is: 'in', shop: `${canary}-shop` });
      expect(own.body.control.status).toBe('held');
      expect(own.body.control.findings.length).toBeGreaterThan(0);
    }
  });

  it('sees of work on it the kind and the dates, without a past state until it has recorded on it itself', async () => {
    const path = `/v1/controls/${maker}/K-c/history`;
    const own = (await mustGoWell(planted.shop('GET', path))).body;
    const seen = (await mustGoWell(tollan('GET', path))).body;
    const dates = ({ kind, performed, recordedAt, cursor, counts }: Record<string, unknown>) => {
      return { kind, performed, recordedAt, cursor, counts };
    };
    const isWork = ({ kind }: Record<string, unknown>) => kind !== 'movement' && kind !== 'start-up';
    const work = own.items.filter(isWork);
    expect(own.items.length - work.length).toBe(2);
    expect(seen.items).toEqual(work.map((one: Record<string, unknown>) => ({ ...dates(one), ...noEvidence })));
    expect(own.items.map((one: { id: string }) => one.id)).not.toContain(null);
    const past = [`performed=2026-04-02T12:00:00Z`, `known=2026-04-02T12:00:00Z`, 'performed=2099-01-01T00:00:00Z'];
    for (const query of past) {
      const answer = await tollan('GET', `${path}?${query}`);
      expect([answer.status, answer.body.code]).toEqual([403, 'history-restricted']);
    }
    await mustGoWell(tollan('POST', '/v1/inspections', inspectionOf('c', { reference: 'mine', performedAt })));
    const after = await mustGoWell(tollan('GET', `${path}?${past[0]}`));
    expect(after.body.items.map((one: { statement: unknown }) => one.statement)).not.toContainEqual(expect.anything());
    expect(after.text.toLowerCase()).not.toContain(canary);
    const whole = (await mustGoWell(tollan('GET', path))).body;
    expect(whole.items.filter((one: { statement: unknown }) => one.statement !== null)).toMatchObject([
      { statement: { reference: 'mine' } },
    ]);
  });
});
const noEvidence = { id: null, correctedBy: null, statement: null, judgement: null };

describe("the maker's analyst", () => {
  it('reads the records of all distributors on its make, without names of people and private notes', async () => {
    for (const kind of ['registration', 'converted', 'inspected', 'decided', 'adjusted'] as const) {
      const record = await mustGoWell(analyst('GET', `/v1/records/${planted.records[kind]}`));
      expect([record.body.private, record.body.people]).toEqual([null, {}]);
      expect(record.text).not.toMatch(/canary (name|note|registration|disposition)|canary-t"|canary-fitter/);
      expect(record.body.statement).not.toEqual({});
    }
    const converted = await mustGoWell(analyst('GET', `/v1/records/${planted.records['converted']}`));
    expect(converted.body.statement).toMatchObject({ technician: planted.person, workOrder: 'canary order' });
    const own = await mustGoWell(planted.shop('GET', `/v1/records/${planted.records['converted']}`));
    expect(own.body).toMatchObject({ private: { note: 'canary note' }, people: { [planted.person]: 'canary-t' } });
    const reach = await mustGoWell(analyst('GET', `/v1/reach?lot=${maker}/${canary}-lot`));
    expect(reach.body.items.map((one: { name: string }) => one.name)).toContain('K-c');
    const history = await mustGoWell(
      analyst('GET', `/v1/controls/${maker}/K-c/history?performed=2026-04-02T12:00:00Z`),
    );
    expect(history.body.items.map((one: { id: string }) => one.id)).not.toContain(null);
    expect(history.text).not.toMatch(/canary (name|note)|canary-t"/);
  });

  it("reads no statements of a distributor's shops, people and instruments", async () => {
    const unknown = comparable(await analyst('GET', `/v1/records/${nobody}`), nobody);
    for (const kind of ['shop', 'technician', 'instrument', 'otherLot']) {
      const id = planted.records[kind] ?? '';
      expect(comparable(await analyst('GET', `/v1/records/${id}`), id)).toEqual(unknown);
    }
  });
});

describe('another maker', () => {
  const everything = async () => await service.as({ maker: 'other-maker' });

  it('with every scope there is reads nothing of this make, and is told the same of units that are not there', async () => {
    const other = await everything();
    // Of approvals, judgements and claims it reads its own, which are none: their tests ask.
    for (const path of readings.filter((one) => !/catalogue|approvals|judgements|claims/.test(one))) {
      const answer = await other('GET', path);
      expect([path, answer.body.code]).toEqual([path, expect.stringMatching(/^(not-found|forbidden)$/)]);
      expect(answer.text.toLowerCase()).not.toContain(canary);
      const absent = path.replaceAll(/-shelf|-lot/g, '-absent').replaceAll(/([PK])-c\b/g, '$1-absent');
      expect(comparable(await other('GET', absent), 'absent')).toEqual(comparable(answer, 'absent'));
    }
    const unknown = comparable(await other('GET', `/v1/records/${nobody}`), nobody);
    for (const id of Object.values(planted.records)) {
      expect(comparable(await other('GET', `/v1/records/${id}`), id)).toEqual(unknown);
    }
  });

  it.each([
    ['a record', 'POST', '/v1/inspections', inspectionOf('c', { reference: 'r', performedAt })],
    ['a registration', 'PUT', `/v1/pumps/${maker}/P-x`, pumpWith(null)],
    ['a shop', 'PUT', '/v1/shops/x', { name: 'x' }],
    ['an edition of this make', 'PUT', `/v1/catalogue/${maker}/editions/x`, { maker, edition: 'x' }],
  ])('may not record %s', async (_, method, path, body) => {
    const answer = await (await everything())(method, path, body);
    expect([answer.status, answer.body.code]).toEqual([403, 'forbidden']);
  });
});

describe('what may be erased', () => {
  it.each([
    ['the name of a person', `${canary} name`, ['people']],
    ['the token subject of a person', `${canary}-fitter`, ['people']],
    ['a note', `${canary} note`, ['attempts', 'fact_privates']],
    ['what a claim tells the maker', `${canary} claim machine`, ['claim_texts', 'fact_privates']],
  ])('%s is kept where it can be, and nowhere else', async (_, word, places) => {
    const found = [];
    for (const table of Object.keys(await rowCounts(db))) {
      if ((await rowsOf(db, `select from ${table} t where t::text like $1 limit 1`, [`%${word}%`])).length > 0)
        found.push(table);
    }
    expect(found).toEqual(places);
  });
});

describe('the log', () => {
  it('holds none of the words that were planted', () => {
    expect(service.tape.lines().length).toBeGreaterThan(100);
    expect(service.tape.text.toLowerCase()).not.toContain(canary);
  });

  it.each<[string, () => Promise<Caller>]>([
    ['a distributor', async () => await service.as({ distributor: 'tollan', scopes: ['record:write'] })],
    ['a maker', async () => await service.as({ maker: 'ardenholm', scopes: ['catalogue:publish'] })],
  ])('nor does %s without the scope to read get more than 403', async (_, caller) => {
    const answer = await (await caller())('GET', `/v1/records/${planted.records['converted']}`);
    expect([answer.status, answer.body.code]).toEqual([403, 'forbidden']);
  });
});
