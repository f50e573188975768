/** Shops that their maker has approved: said by the maker, judged by where the distributor works, seen by these two. */
import { beforeAll, describe, expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { conversionBody } from '../../src/core/records/bodies.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { edition as demo, mustGoWell } from '../support/scene.ts';
import { organisations, requestOf, testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const maker = await service.as({ maker: 'ardenholm', subject: 'field-engineer' });
type Shop = typeof brackwater;
type Json = Awaited<ReturnType<Shop>>['body'];

/** An edition of the same content that asks for approved shops. */
const edition = '2026-2';
const reason = 'visited';
let next = 0;
const number = () => {
  next += 1;
  return next;
};

beforeAll(async () => {
  const published = { ...(demo as object), edition, effectiveFrom: '2026-01-02', demands: { approvedShops: true } };
  await mustGoWell(maker('PUT', `/v1/catalogue/ardenholm/editions/${edition}`, published));
});

async function newShop(shop: Shop = brackwater): Promise<string> {
  const id = `yard-${number()}`;
  await mustGoWell(shop('PUT', `/v1/shops/${id}`, { name: id }));
  return id;
}
async function converted(at: string, performedAt = '2026-04-01T08:00:00Z', shop: Shop = brackwater): Promise<string> {
  const serial = `p-${number()}`;
  await registerPair(shop, serial);
  const body = await conversionOf(shop, serial, 'load-sense', { reference: serial, performedAt });
  const sent = { ...body, edition, shop: at, sheet: undefined };
  return (await mustGoWell(shop('POST', '/v1/conversions', sent))).body.id;
}
const approve = async (shop: string, more: object = {}) =>
  (
    await mustGoWell(
      maker('POST', '/v1/approvals', {
        ...{ reference: `A-${number()}`, distributor: 'brackwater', shop, from: '2026-01-01T00:00:00Z', reason },
        ...more,
      }),
    )
  ).body as Json;
const withdraw = async (approval: string, from: string) =>
  await mustGoWell(
    maker('POST', `/v1/approvals/${approval}/withdrawals`, { reference: `W-${number()}`, from, reason: 'no stand' }),
  );
const heldBy = (findings: Json[]) => findings.filter((one) => one['severity'] === 'hold');
const record = async (id: string, shop: Shop = brackwater) =>
  (await mustGoWell(shop('GET', `/v1/records/${id}`))).body as Json;
const openRules = async (id: string) => (await record(id))['open'].map((one: Json) => one['rule']) as string[];

describe('work in a shop that the maker has not approved', () => {
  it('is held, and released by an approval that covers its time, in the distributor’s own name', async () => {
    const shop = await newShop();
    const work = await converted(shop);
    expect(heldBy((await record(work))['judgement'].findings)).toMatchObject([
      { rule: 'shop-not-approved', pointer: '/shop', found: shop, clearedBy: [{ kind: 'approval', place: shop }, {}] },
    ]);
    const { id } = await approve(shop);
    const now = await record(work);
    expect(now).toMatchObject({ status: 'released', open: [] });
    const judgement = await record(now['judgedAgain'][0]);
    expect(judgement).toMatchObject({ kind: 'judgement', concerns: work, statement: { record: work, cause: id } });
    expect(judgement['origin'].owner).toBe(organisations.brackwater.id);
    expect(JSON.stringify(judgement)).not.toContain('field-engineer');
    expect(await rowsOf(db, 'select from pending_judgements')).toEqual([]);
    const caused = (await mustGoWell(brackwater('GET', `/v1/judgements?cause=${id}`))).body.items;
    expect(caused).toMatchObject([{ record: work, status: { was: 'held', is: 'released' } }]);
  });

  it('stays held by approvals of another time, series, shop or distributor', async () => {
    const shop = await newShop();
    await mustGoWell(tollan('PUT', `/v1/shops/${shop}`, { name: 'of the same name' }));
    const work = await converted(shop);
    await approve(shop, { from: '2026-04-02T00:00:00Z' });
    await approve(shop, { until: '2026-04-01T00:00:00Z' });
    await approve(shop, { series: ['plover'] });
    await approve(`${shop}-annexe`);
    await approve(shop, { distributor: 'tollan' });
    expect(await openRules(work)).toEqual(['shop-not-approved']);
    expect((await record(await converted(shop, undefined, tollan), tollan))['status']).toBe('released');
    await approve(shop, { series: ['curlew'] });
    expect(await openRules(work)).toEqual([]);
  });

  it('comes to the same in whatever order it is worked, approved and withdrawn', async () => {
    const orders: readonly ('work' | 'approve' | 'withdraw')[][] = [
      ['approve', 'withdraw', 'work'],
      ['approve', 'work', 'withdraw'],
      ['work', 'approve', 'withdraw'],
    ];
    for (const order of orders) {
      const shop = await newShop();
      let approval = '';
      const done: string[] = [];
      for (const step of order) {
        if (step === 'approve') approval = (await approve(shop))['id'];
        if (step === 'withdraw') await withdraw(approval, '2026-05-01T00:00:00Z');
        if (step === 'work') {
          done.push(await converted(shop, '2026-04-30T23:59:59Z'), await converted(shop, '2026-05-01T00:00:00Z'));
        }
      }
      const rules = [];
      for (const work of done) rules.push(await openRules(work));
      expect([order, rules]).toEqual([order, [[], ['shop-not-approved']]]);
    }
  });
});

describe('two distributors that call a shop the same', () => {
  it('are told apart in one batch', async () => {
    const { app } = service;
    const shops = { brackwater, tollan };
    const both = ['brackwater', 'tollan'] as const;
    const requests = [];
    for (const distributor of both) {
      const shop = shops[distributor];
      await mustGoWell(shop('PUT', '/v1/shops/same', { name: distributor }));
      const serial = `same-${distributor}`;
      await registerPair(shop, serial);
      const times = { reference: 'same', performedAt: '2026-04-01T08:00:00Z' };
      const { sheet: _, ...body } = await conversionOf(shop, serial, 'load-sense', times);
      const sent = { ...body, edition, shop: 'same' };
      requests.push(
        requestOf(
          app,
          { distributor },
          { kind: 'conversion', body: conversionBody.parse(sent), sent },
          { key: 'same' },
        ),
      );
    }
    await approve('same', { distributor: 'tollan' });
    const outcomes = await recordAll({ ...app, pool: app.pools.recording }, requests);
    const statuses = outcomes.map((one) => (one.kind === 'kept' ? JSON.parse(one.answer).status : one));
    expect(statuses).toEqual(['held', 'released']);
  });
});

describe('an approval', () => {
  it('is read by the maker’s people and by the distributor whose shop it is, and by nobody else', async () => {
    const shop = await newShop();
    const { id } = await approve(shop, { until: '2026-09-01T00:00:00Z' });
    await withdraw(id, '2026-06-01T00:00:00Z');
    const listed = async (who: Shop, query = '') =>
      (await mustGoWell(who('GET', `/v1/approvals?first=200${query}`))).body.items.find(
        (one: Json) => one['approval'] === id,
      ) as Json | undefined;
    const seen = await listed(maker, '&at=2026-05-01T00:00:00Z');
    expect(seen).toEqual({
      ...{ approval: id, maker: 'ardenholm', distributor: 'brackwater', shop, reason },
      ...{ from: '2026-01-01T00:00:00.000000Z', until: '2026-06-01T00:00:00.000000Z', state: 'in force' },
      withdrawn: { from: '2026-06-01T00:00:00.000000Z', reason: 'no stand' },
    });
    expect(await listed(brackwater, '&at=2026-05-01T00:00:00Z')).toEqual(seen);
    expect((await listed(brackwater, '&at=2026-06-01T00:00:00Z'))?.['state']).toBe('withdrawn');
    expect(await listed(tollan)).toBeUndefined();
    expect(await listed(await service.as({ maker: 'other-maker' }))).toBeUndefined();
    // The fact itself is the maker's.
    expect((await mustGoWell(maker('GET', `/v1/records/${id}`))).body.statement.shop).toBe(shop);
    for (const who of [brackwater, tollan]) expect((await who('GET', `/v1/records/${id}`)).status).toBe(404);
  });

  it('is listed page by page', async () => {
    const shop = await newShop();
    const made = [(await approve(shop))['id'], (await approve(shop))['id']];
    const first = (await mustGoWell(maker('GET', `/v1/approvals?first=1&after=${made[0]}`))).body;
    expect(first).toMatchObject({
      items: [{ approval: made[1] }],
      pageInfo: { endCursor: made[1], hasNextPage: false },
    });
    for (const after of ['nothing', '01890000-0000-7000-8000-000000000000']) {
      expect((await maker('GET', `/v1/approvals?after=${after}`)).body.code).toBe('invalid-input');
    }
    expect((await tollan('GET', `/v1/approvals?after=${made[0]}`)).body.code).toBe('invalid-input');
  });

  it('is given and withdrawn by the maker’s people alone', async () => {
    const shop = await newShop();
    const { id } = await approve(shop);
    const body = { distributor: 'brackwater', shop, from: '2026-01-01T00:00:00Z', reason };
    const both = await service.as({ distributor: 'brackwater', maker: 'ardenholm' });
    const scopeless = await service.as({ maker: 'ardenholm', scopes: ['warranty:read', 'organisation:write'] });
    const nobody = await service.as({ scopes: ['catalogue:publish'] });
    const end = { reference: 'e', from: '2026-02-01T00:00:00Z', reason };
    for (const who of [brackwater, both, scopeless, nobody]) {
      const given = await who('POST', '/v1/approvals', { reference: 'r', ...body });
      const ended = await who('POST', `/v1/approvals/${id}/withdrawals`, end);
      expect([given.body.code, ended.body.code]).toEqual(['forbidden', 'forbidden']);
    }
    const other = await service.as({ maker: 'other-maker' });
    expect((await other('POST', `/v1/approvals/${id}/withdrawals`, end)).status).toBe(404);
  });

  it('is refused with its place where it says what can’t be', async () => {
    const shop = await newShop();
    const sound = { reference: 'once', distributor: 'brackwater', shop, from: '2026-01-01T00:00:00Z', reason };
    const post = async (more: object) => await maker('POST', '/v1/approvals', { ...sound, ...more });
    const placesOf = async (more: object) =>
      (await post(more)).body.errors.map((one: Json) => one['pointer']) as string[];
    expect(await placesOf({ reason: ' ' })).toEqual(['/reason']);
    expect(await placesOf({ until: '2025-01-01T00:00:00Z' })).toEqual(['/until']);
    expect(await placesOf({ series: [] })).toEqual(['/series']);
    for (const distributor of ['nobody', 'ardenholm']) {
      expect((await post({ distributor })).body.findings).toMatchObject([
        { rule: 'unknown-id', pointer: '/distributor', found: distributor },
      ]);
    }
    const kept = await mustGoWell(post({}));
    expect((await post({})).body.findings).toMatchObject([{ rule: 'reference-used', found: kept.body.id }]);
    const nowhere = '/v1/approvals/01890000-0000-7000-8000-000000000000/withdrawals';
    expect((await maker('POST', nowhere, { reference: 'e', from: sound.from, reason })).status).toBe(404);
  });
});
