/** Who may do what, when and on what: said and withdrawn, in whatever order, and judged by at the time of the work. */
import { beforeAll, describe, expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { conversionBody } from '../../src/core/records/bodies.ts';
import { authorisationBody } from '../../src/core/records/leave-bodies.ts';
import { bodyOf, uploader } from '../support/bulk.ts';
import { testDatabase } from '../support/database.ts';
import { edition as demo, mustGoWell } from '../support/scene.ts';
import { organisations, requestOf, testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Shop = typeof brackwater;
type Json = Awaited<ReturnType<Shop>>['body'];

/** An edition of the same content that leaves assembling to authorised people. */
const edition = '2026-2';
const until = '2026-07-01T00:00:00+02:00';
const year = { from: '2026-01-01T00:00:00Z', until: '2027-01-01T00:00:00Z' };
let next = 0;
const number = () => {
  next += 1;
  return next;
};

beforeAll(async () => {
  const maker = await service.as({ maker: 'ardenholm' });
  const demands = { authorised: ['assemble', 'inspect'] };
  const published = { ...(demo as object), edition, effectiveFrom: '2026-01-02', demands };
  await mustGoWell(maker('PUT', `/v1/catalogue/ardenholm/editions/${edition}`, published));
});

/** A person whom nobody has authorised yet, by an own id and by the service's. */
async function newcomer(shop: Shop = brackwater): Promise<{ id: string; person: string }> {
  const id = `t-${number()}`;
  await mustGoWell(shop('PUT', `/v1/technicians/${id}`, { name: `newcomer ${id}` }));
  return { id, person: (await mustGoWell(shop('GET', `/v1/technicians/${id}`))).body.technician };
}

async function converted(technician: string, performedAt = '2026-04-01T08:00:00Z', more: object = {}): Promise<Json> {
  const serial = `a-${number()}`;
  await registerPair(brackwater, serial);
  const body = await conversionOf(brackwater, serial, 'load-sense', { reference: serial, performedAt });
  const { id } = (
    await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, edition, technician, sheet: undefined, ...more }))
  ).body;
  return { id, serial };
}

const authorise = async (id: string, body: object = {}, shop = brackwater) =>
  (
    await mustGoWell(
      shop('POST', `/v1/technicians/${id}/authorisations`, {
        ...{ reference: `A-${number()}`, tasks: ['assemble'], ...year, ...body },
      }),
    )
  ).body as Json;
const withdraw = async (authorisation: string, from: string) =>
  await mustGoWell(
    brackwater('POST', `/v1/authorisations/${authorisation}/withdrawals`, { reference: `W-${number()}`, from }),
  );
const heldBy = (findings: Json[]) => findings.filter((one) => one['severity'] === 'hold');
const record = async (id: string) => (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body as Json;
const openRules = async (id: string) => (await record(id))['open'].map((one: Json) => one['rule']) as string[];

describe('work by somebody who is not authorised', () => {
  it('is held by a finding that names the person by the service’s id, and released by an authorisation for its time', async () => {
    const { id, person } = await newcomer();
    const work = await converted(id);
    const { judgement } = await record(work['id']);
    expect(heldBy(judgement.findings)).toMatchObject([
      {
        ...{ rule: 'technician-not-authorised', pointer: '/technician', found: person },
        clearedBy: [
          { kind: 'authorisation', place: person },
          { kind: 'disposition', place: work['id'] },
        ],
      },
    ]);
    expect(JSON.stringify(judgement)).not.toContain(`"${id}"`);
    const given = await authorise(id);
    expect(await record(work['id'])).toMatchObject({ status: 'released', open: [] });
    const judged = (await mustGoWell(brackwater('GET', `/v1/judgements?cause=${given['id']}`))).body;
    expect(judged.items).toMatchObject([{ record: work['id'], status: { was: 'held', is: 'released' } }]);
  });

  it('stays held by an authorisation for another time, another task or another body', async () => {
    const { id } = await newcomer();
    const work = await converted(id);
    await authorise(id, { from: '2026-04-02T00:00:00Z' });
    await authorise(id, { tasks: ['inspect', 'electrical'] });
    await authorise(id, { bodies: ['curlew-wedge'] });
    await authorise(id, { functions: ['load-sense-bled'] });
    await authorise(id, { makers: ['other-maker'] });
    expect(await openRules(work['id'])).toEqual(['technician-not-authorised']);
    await authorise(id, { series: ['curlew'], bodies: ['curlew-block'], functions: ['load-sense'] });
    expect(await openRules(work['id'])).toEqual([]);
  });

  it('is cleared by leave to use', async () => {
    const { id } = await newcomer();
    const work = await converted(id);
    const body = { reference: `D-${work['serial']}`, performedAt: '2026-05-01T08:00:00Z', reason: 'looked through' };
    const foreman = await service.as({ distributor: 'brackwater', subject: 'foreman' });
    await mustGoWell(foreman('POST', `/v1/records/${work['id']}/dispositions`, { ...body, decision: 'concession' }));
    expect((await record(work['id']))['status']).toBe('released');
  });

  it('is not asked about by an edition that does not demand it', async () => {
    const { id } = await newcomer();
    const work = await converted(id, undefined, { edition: '2026-1' });
    expect(heldBy((await record(work['id']))['judgement'].findings)).toEqual([]);
  });
});

describe('an authorisation', () => {
  it('that is withdrawn covers what was done before, and holds what was done after', async () => {
    const { id } = await newcomer();
    const given = await authorise(id);
    const before = await converted(id, '2026-04-01T08:00:00Z');
    const after = await converted(id, '2026-05-01T08:00:00Z');
    expect([await openRules(before['id']), await openRules(after['id'])]).toEqual([[], []]);
    await withdraw(given['id'], '2026-04-15T00:00:00Z');
    expect([await openRules(before['id']), await openRules(after['id'])]).toEqual([[], ['technician-not-authorised']]);
    // Withdrawn again, for later: the earliest counts.
    await withdraw(given['id'], '2026-06-15T00:00:00Z');
    expect(await openRules(after['id'])).toEqual(['technician-not-authorised']);
  });

  it('comes to the same in whatever order it is given, withdrawn and worked by', async () => {
    const work = { at: '2026-05-01T08:00:00Z' };
    const orders: readonly ('give' | 'withdraw' | 'renew' | 'work')[][] = [
      ['give', 'withdraw', 'renew', 'work'],
      ['give', 'work', 'withdraw', 'renew'],
      ['work', 'give', 'withdraw', 'renew'],
      ['work', 'renew', 'give', 'withdraw'],
      ['renew', 'give', 'work', 'withdraw'],
    ];
    const outcomes = [];
    for (const order of orders) {
      const { id } = await newcomer();
      let given = '';
      let done = '';
      for (const step of order) {
        if (step === 'give') given = (await authorise(id))['id'];
        if (step === 'withdraw') await withdraw(given, '2026-04-15T00:00:00Z');
        if (step === 'renew') await authorise(id, { from: '2026-04-20T00:00:00Z' });
        if (step === 'work') done = (await converted(id, work.at))['id'];
      }
      outcomes.push((await record(done))['status']);
    }
    expect(outcomes).toEqual(orders.map(() => 'released'));
  });

  it('that begins later than the work of a record may still cover a line with a time of its own', async () => {
    const { id } = await newcomer();
    await authorise(id, { from: '2026-03-01T00:00:00Z', until: '2026-05-01T00:00:00Z' });
    const serial = `a-${number()}`;
    await registerPair(brackwater, serial);
    const times = { reference: serial, performedAt: '2026-04-01T08:00:00Z' };
    const body = await conversionOf(brackwater, serial, 'load-sense', times);
    const torques = body.torques.map((one: object) => ({ ...one, at: '2026-05-02T08:00:00Z' }));
    const sent = { ...body, edition, technician: id, torques, sheet: undefined };
    const work = (await mustGoWell(brackwater('POST', '/v1/conversions', sent))).body;
    expect(heldBy(work.findings)).toMatchObject([{ rule: 'technician-not-authorised', pointer: '/torques/0/at' }]);
    await authorise(id, { from: '2026-05-01T00:00:00Z' });
    expect(await openRules(work.id)).toEqual([]);
  });

  it('is shown with its state at the asked time, by either id of the person', async () => {
    const { id, person } = await newcomer();
    const scope = { series: ['curlew'], functions: ['load-sense', 'load-sense-bled'] };
    const given = await authorise(id, { ...scope, until, givenBy: 'training centre', reference: `shown-${id}` });
    await withdraw(given['id'], '2026-06-01T00:00:00Z');
    const stateAt = async (query: string, name = id) =>
      (await mustGoWell(brackwater('GET', `/v1/technicians/${name}${query}`))).body;
    const shown = await stateAt('?at=2026-05-31T23:59:59Z', person);
    expect(shown).toMatchObject({ id, technician: person, version: 1, at: '2026-05-31T23:59:59.000000Z' });
    expect(shown.authorisations).toEqual([
      {
        ...{ authorisation: given['id'], reference: `shown-${id}`, tasks: ['assemble'], ...scope },
        ...{ from: '2026-01-01T00:00:00.000000Z', until: '2026-06-01T00:00:00.000000Z' },
        ...{ withdrawnFrom: '2026-06-01T00:00:00.000000Z', state: 'in force' },
        ...{ givenBy: 'training centre', attachment: null },
      },
    ]);
    const states = [];
    for (const at of ['2025-12-31T00:00:00Z', '2026-06-01T00:00:00Z']) {
      states.push((await stateAt(`?at=${at}`)).authorisations[0].state);
    }
    expect(states).toEqual(['to come', 'withdrawn']);
    const fact = await record(given['id']);
    expect(fact['private']).toEqual({ givenBy: 'training centre' });
    expect(JSON.stringify([fact['statement'], fact['judgement']])).not.toContain('training centre');
  });

  it('is refused with its place where it says what can’t be', async () => {
    const { id } = await newcomer();
    const sound = { reference: 'once', tasks: ['assemble'], ...year };
    const post = async (body: object, name = id) =>
      await brackwater('POST', `/v1/technicians/${name}/authorisations`, { ...sound, ...body });
    const placesOf = async (body: object) => {
      const answer = await post(body);
      return [answer.status, ...answer.body.errors.map((one: Json) => one['pointer'])];
    };
    expect(await placesOf({ tasks: [] })).toEqual([400, '/tasks']);
    expect(await placesOf({ tasks: ['paint'] })).toEqual([400, '/tasks/0']);
    expect(await placesOf({ until: year.from })).toEqual([400, '/until']);
    expect(await placesOf({ from: '2026-02-30T00:00:00Z' })).toEqual([400, '/from']);
    expect(await placesOf({ scope: {} })).toEqual([400, '/scope']);
    expect(await post({}, 'nobody')).toMatchObject({ status: 404, body: { code: 'not-found' } });
    const nothing = await post({ attachment: `sha256:${'0'.repeat(64)}` });
    expect(nothing.body.findings).toMatchObject([{ rule: 'unknown-id', pointer: '/attachment' }]);
    const kept = await mustGoWell(post({}));
    const again = await post({});
    expect([again.status, again.body.findings]).toMatchObject([409, [{ rule: 'reference-used', found: kept.body.id }]]);
  });

  it('is withdrawn by who gave it alone, and only where there is one', async () => {
    const { id } = await newcomer();
    const given = await authorise(id);
    const work = await converted(id);
    const body = { reference: 'theirs', from: '2026-02-01T00:00:00Z' };
    const path = (fact: string) => `/v1/authorisations/${fact}/withdrawals`;
    const theirs = await tollan('POST', path(given['id']), body);
    const nowhere = await tollan('POST', path('01890000-0000-7000-8000-000000000000'), body);
    expect([theirs.status, theirs.body.code]).toEqual([404, 'not-found']);
    expect([nowhere.status, nowhere.body.code]).toEqual([404, 'not-found']);
    expect((await brackwater('POST', path(work['id']), body)).status).toBe(404);
    expect(await openRules(work['id'])).toEqual([]);
  });

  it('is judged and not kept with check=only, and kept once for one key', async () => {
    const { id } = await newcomer();
    const body = { reference: `key-${id}`, tasks: ['assemble'], ...year };
    const path = `/v1/technicians/${id}/authorisations`;
    const only = await mustGoWell(brackwater('POST', `${path}?check=only`, body, null));
    expect(Object.keys(only.body)).toEqual(['technician', 'tasks']);
    const first = await mustGoWell(brackwater('POST', path, body, `key-${id}`));
    const second = await mustGoWell(brackwater('POST', path, body, `key-${id}`));
    expect([second.text, second.headers.get('idempotency-replayed')]).toEqual([first.text, 'true']);
    expect((await mustGoWell(brackwater('GET', `/v1/technicians/${id}`))).body.authorisations).toHaveLength(1);
  });
});

describe('in an upload', () => {
  it('an authorisation counts for the work in the lines after it, and is withdrawn by a line too', async () => {
    const upload = await uploader(service, { distributor: 'brackwater' });
    await registerPair(brackwater, 'bulk');
    const times = { reference: 'bulk', performedAt: '2026-04-01T08:00:00Z' };
    const conversion = await conversionOf(brackwater, 'bulk', 'load-sense', times);
    const lines = [
      { key: 'b-1', kind: 'technician', id: 't-bulk', body: { name: 'B. Example' } },
      { key: 'b-2', kind: 'authorisation', id: 't-bulk', body: { reference: 'b', tasks: ['assemble'], ...year } },
      {
        ...{ key: 'b-3', kind: 'conversion' },
        body: { ...conversion, edition, technician: 't-bulk', sheet: undefined },
      },
    ];
    const { outcomes } = await upload(lines);
    expect(outcomes.map((one) => [one.status, one.judged])).toEqual([
      [201, undefined],
      [201, undefined],
      [201, 'released'],
    ]);
    const end = {
      ...{ key: 'b-4', kind: 'authorisation-withdrawal', record: outcomes[1]?.id },
      body: { reference: 'b', from: '2026-03-01T00:00:00Z' },
    };
    expect((await upload([end])).outcomes).toMatchObject([{ status: 201 }]);
    expect(await openRules(outcomes[2]?.id ?? '')).toEqual(['technician-not-authorised']);
    expect(bodyOf(lines)).toContain('b-3');
  });
});

describe('what runs out', () => {
  it('is listed for the workshop lead by days left, what is over first where that is asked for, page by page', async () => {
    const lead = await service.as({ distributor: 'tollan' });
    const people = [await newcomer(tollan), await newcomer(tollan), await newcomer(tollan)];
    const [one, two, three] = people.map(({ id }) => id) as [string, string, string];
    await authorise(one, { until: '2026-03-21T00:00:00Z' }, tollan);
    await authorise(two, { until: '2026-03-11T12:00:00Z', series: ['curlew'] }, tollan);
    await authorise(three, { until: '2026-02-01T00:00:00Z' }, tollan);
    const list = async (query: string) =>
      (await mustGoWell(lead('GET', `/v1/authorisations?at=2026-03-01T00:00:00Z${query}`))).body;
    const short = ({ items }: Json) => items.map((item: Json) => [item['technician'], item['daysLeft']]);
    expect(short(await list(''))).toEqual([
      [two, 10],
      [one, 20],
    ]);
    expect(short(await list('&within=19'))).toEqual([[two, 10]]);
    const first = await list('&expired=true&first=2');
    expect(short(first)).toEqual([
      [three, -28],
      [two, 10],
    ]);
    expect(first.items[1]).toMatchObject({ tasks: ['assemble'], series: ['curlew'], name: expect.any(String) });
    expect(short(await list(`&expired=true&after=${first.pageInfo.endCursor}`))).toEqual([[one, 20]]);
    expect((await lead('GET', '/v1/authorisations?after=nothing')).body.code).toBe('invalid-input');
    expect((await lead('GET', '/v1/authorisations?within=-1')).status).toBe(400);
  });
});

describe('what is a distributor’s own', () => {
  it('is nobody else’s to read: neither people nor what they may do', async () => {
    const { id, person } = await newcomer();
    const given = await authorise(id, { until });
    const paths = [`/v1/technicians/${id}`, `/v1/technicians/${person}`, `/v1/records/${given['id']}`];
    for (const path of paths) {
      expect([path, (await tollan('GET', path)).status]).toEqual([path, 404]);
    }
    const theirs = (await mustGoWell(tollan('GET', '/v1/authorisations?within=3660&expired=true&first=200'))).body;
    expect(JSON.stringify(theirs)).not.toContain(given['id']);
    const maker = await service.as({ maker: 'ardenholm' });
    for (const path of [`/v1/technicians/${id}`, '/v1/authorisations']) {
      expect([path, (await maker('GET', path)).body.code]).toEqual([path, 'forbidden']);
    }
    expect((await analyst('GET', `/v1/records/${given['id']}`)).status).toBe(404);
  });

  it('is told apart in one batch, where two call their people the same', async () => {
    const { app } = service;
    const shops = { brackwater, tollan };
    const both = ['brackwater', 'tollan'] as const;
    for (const one of both) {
      await mustGoWell(shops[one]('PUT', '/v1/technicians/t-same', { name: one }));
      await registerPair(shops[one], `same-${one}`);
    }
    const sent = { reference: 'same', tasks: ['assemble'], ...year };
    const requests = [];
    for (const one of both) {
      const times = { reference: 'same', performedAt: '2026-04-01T08:00:00Z' };
      const body = await conversionOf(shops[one], `same-${one}`, 'load-sense', times);
      const { sheet: _, ...rest } = { ...body, edition, technician: 't-same' };
      const asked = { kind: 'conversion' as const, body: conversionBody.parse(rest), sent: rest };
      requests.push(requestOf(app, { distributor: one }, asked, { key: 'same' }));
    }
    // One of the two authorises, in the same batch and before both work.
    const leave = { kind: 'authorisation' as const, technician: 't-same', body: authorisationBody.parse(sent), sent };
    const batch = [requestOf(app, { distributor: 'tollan' }, leave, { key: 'leave' }), ...requests];
    const outcomes = await recordAll({ ...app, pool: app.pools.recording }, batch);
    const statuses = outcomes.map((one) => (one.kind === 'kept' ? JSON.parse(one.answer).status : one));
    expect(statuses).toEqual([undefined, 'held', 'released']);
    const own = (await mustGoWell(brackwater('GET', '/v1/technicians/t-same'))).body;
    expect([own.name, own.authorisations]).toEqual(['brackwater', []]);
    expect(batch.map((one) => one.owner)).toEqual([
      organisations.tollan.id,
      organisations.brackwater.id,
      organisations.tollan.id,
    ]);
  });
});
