/** Three recalls: of a lot over two distributors, of an instrument's work in a period, of an edition's error. */
import { beforeAll, describe, expect, it } from 'vitest';
import { settleAll } from '../../src/app/containing/contain.ts';
import { ask } from '../graphql/ask.ts';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, maker, openShops, registerPair, unitFor } from '../support/shop.ts';

// biome-ignore lint/suspicious/noExplicitAny: answers are read as JSON, field by field
type Json = Record<string, any>;

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const analyst = await service.as({
  ...{ maker, subject: 'analyst-3' },
  scopes: ['warranty:read', 'containment:write'],
});

const convert = async (shop: Caller, number: string, day: string, lot: string, more: object = {}) => {
  const frame = { reference: `${number}-${day}`, performedAt: `2026-${day}T08:00:00Z` };
  const record = await conversionOf(shop, number, 'load-sense', frame);
  const fitted = record['fitted'].map((one: Json) => ({ ...one, lot }));
  return (await mustGoWell(shop('POST', '/v1/conversions', { ...record, fitted, ...more }))).body;
};
const statusOf = async (shop: Caller, number: string) => (await unitFor(shop, 'control', number)).status;
const contain = async (caller: Caller, reference: string, criteria: object, more: object = {}) =>
  (
    await mustGoWell(
      caller('POST', '/v1/containments', {
        ...{ reference, criteria, severity: 'stop', reason: 'bores out of round', instruction: 'take it out' },
        ...more,
      }),
    )
  ).body;
const reachOf = async (caller: Caller, id: string, query = '') =>
  (await mustGoWell(caller('GET', `/v1/containments/${id}/reach?first=200${query}`))).body.items as Json[];
const namesIn = (items: readonly Json[]) => items.map((one) => one['name']).sort();
let told = 0;
const tell = async (caller: Caller, id: string, unit: string, step: string) =>
  await caller('POST', `/v1/containments/${id}/progress`, {
    ...{ reference: `told-${told++}`, unit, step, by: 'A. Example' },
  });

describe('a lot of kits', () => {
  let recall: Json = {};
  let units: Record<string, string> = {};

  beforeAll(async () => {
    for (const shop of [brackwater, tollan])
      for (const lot of ['L-BAD', 'L-GOOD'])
        await mustGoWell(shop('PUT', `/v1/lots/${maker}/${lot}`, { part: 'kit-sense' }));
    for (const [shop, numbers] of [
      [brackwater, ['b1', 'b2', 'late']],
      [tollan, ['t1', 'good']],
    ] as const)
      for (const number of numbers) await registerPair(shop, number);
    await convert(brackwater, 'b1', '04-01', 'L-BAD');
    await convert(brackwater, 'b2', '04-02', 'L-BAD');
    await convert(tollan, 't1', '04-03', 'L-BAD');
    await convert(tollan, 'good', '04-04', 'L-GOOD');
    recall = await contain(analyst, 'recall-1', { lot: `${maker}/L-BAD` }, { dueWithin: 'P30D' });
    const items = await reachOf(analyst, recall['id']);
    units = Object.fromEntries(items.map((one) => [one['name'], one['unit']]));
  });

  it('is contained at both distributors, each unit held, with what is to be done, for whoever looks', async () => {
    expect([recall['severity'], recall['reached'], Object.keys(units).sort()]).toEqual([
      'stop',
      3,
      ['K-b1', 'K-b2', 'K-t1'],
    ]);
    expect(await statusOf(tollan, 'good')).toBe('released');
    for (const [number, caller] of [
      ['b1', brackwater],
      ['b1', tollan],
      ['t1', tollan],
    ] as const) {
      const unit = await unitFor(caller, 'control', number);
      expect([unit.status, unit.findings]).toEqual([
        'held',
        [
          expect.objectContaining({
            ...{ rule: 'contained', severity: 'hold', instruction: 'take it out' },
            clearedBy: [{ kind: 'containment', place: recall['id'] }],
          }),
        ],
      ]);
    }
  });

  it('is read by each distributor as far as it worked on what it reaches', async () => {
    expect(namesIn(await reachOf(brackwater, recall['id']))).toEqual(['K-b1', 'K-b2']);
    expect(namesIn(await reachOf(tollan, recall['id']))).toEqual(['K-t1']);
    const seen = (await mustGoWell(tollan('GET', `/v1/containments/${recall['id']}`))).body;
    expect(seen).toMatchObject({ issuedBy: maker, instruction: 'take it out', criteria: null, reachedAtIssue: null });
    const own = (await mustGoWell(analyst('GET', '/v1/containments'))).body.items;
    expect(own).toMatchObject([{ containment: recall['id'], reachedAtIssue: 3, criteria: { lot: `${maker}/L-BAD` } }]);
    const stranger = await service.as({ maker: 'other-maker' });
    expect((await stranger('GET', `/v1/containments/${recall['id']}`)).status).toBe(404);
  });

  it('adds what a late record brings in, and says which', async () => {
    const late = await convert(brackwater, 'late', '03-20', 'L-BAD');
    expect(await statusOf(brackwater, 'late')).toBe('held');
    const items = await reachOf(analyst, recall['id']);
    const added = items.find((one) => one['name'] === 'K-late');
    expect(added).toMatchObject({ atIssue: false, added: { record: late['id'] }, done: false, progress: null });
    expect(items.filter((one) => one['name'] !== 'K-late').map((one) => [one['atIssue'], one['added']])).toEqual(
      Array(3).fill([true, null]),
    );
    units['K-late'] = added?.['unit'];
  });

  it('holds what is done to a unit meanwhile', async () => {
    const body = await conversionOf(brackwater, 'b2', 'load-sense-bled', {
      ...{ reference: 'b2-again', performedAt: new Date().toISOString() },
    });
    const { status, findings } = (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body;
    const holds = findings.filter((one: Json) => one['severity'] === 'hold');
    expect([status, holds.map((one: Json) => one['rule'])]).toEqual(['held', ['contained']]);
  });

  it('lets a unit go by progress: cleared, or converted; scrap holds it for good; a step back contains it again', async () => {
    const [b1, b2, t1] = ['K-b1', 'K-b2', 'K-t1'].map((name) => units[name] ?? '') as [string, string, string];
    await mustGoWell(tell(brackwater, recall['id'], b1, 'secured'));
    expect(await statusOf(brackwater, 'b1')).toBe('held');
    await mustGoWell(tell(brackwater, recall['id'], b1, 'cleared'));
    expect(await statusOf(brackwater, 'b1')).toBe('released');
    await mustGoWell(tell(brackwater, recall['id'], b2, 'converted'));
    expect(await statusOf(brackwater, 'b2')).toBe('released');
    await mustGoWell(tell(analyst, recall['id'], t1, 'scrapped'));
    expect((await unitFor(tollan, 'control', 't1')).findings.map((one: Json) => one['rule'])).toEqual(['scrapped']);
    await mustGoWell(tell(brackwater, recall['id'], b1, 'secured'));
    expect(await statusOf(brackwater, 'b1')).toBe('held');
    const steps = (await reachOf(analyst, recall['id'])).map((one) => [
      one['name'],
      one['progress']?.step,
      one['done'],
    ]);
    expect(steps.sort()).toEqual([
      ['K-b1', 'secured', false],
      ['K-b2', 'converted', true],
      ['K-late', undefined, false],
      ['K-t1', 'scrapped', true],
    ]);
  });

  it('takes progress from nobody who never worked on the unit, nor of a unit that it does not reach', async () => {
    expect((await tell(tollan, recall['id'], units['K-b1'] ?? '', 'cleared')).status).toBe(404);
    const good = (await unitFor(tollan, 'control', 'good')).unit;
    expect((await tell(tollan, recall['id'], good, 'cleared')).status).toBe(404);
    expect((await tell(brackwater, good, units['K-b1'] ?? '', 'cleared')).status).toBe(404);
  });

  it('tells what is overdue, and all of it as lines', async () => {
    expect(await reachOf(analyst, recall['id'], '&overdue=true')).toEqual([]);
    const at = (await mustGoWell(analyst('GET', `/v1/containments/${recall['id']}/reach`))).body.items[0].dueBy;
    expect(at > new Date().toISOString()).toBe(true);
    const none = await contain(
      analyst,
      'recall-0',
      { lot: `${maker}/L-GOOD` },
      { severity: 'inform', dueWithin: 'P0D' },
    );
    expect(namesIn(await reachOf(tollan, none['id'], '&overdue=true'))).toEqual(['K-good']);
    expect(await statusOf(tollan, 'good')).toBe('released');
    const stream = await service.server.inject({
      ...{ method: 'GET', url: `/v1/containments/${recall['id']}/reach` },
      headers: { authorization: `Bearer ${await service.tokenOf({ maker })}`, accept: 'application/x-ndjson' },
    });
    const lines = stream.payload.trim().split('\n');
    expect(lines.map((line) => JSON.parse(line))).toEqual(await reachOf(analyst, recall['id']));
  });

  it('is lifted by its issuer alone, once, and lets everything go but what was scrapped', async () => {
    const lift = { reference: 'lift-1', reason: 'measured again' };
    const path = `/v1/containments/${recall['id']}/lift`;
    expect((await brackwater('POST', path, lift)).status).toBe(404);
    await mustGoWell(analyst('POST', path, lift));
    const again = await analyst('POST', path, { ...lift, reference: 'lift-2' });
    expect([again.status, again.body.findings[0].rule]).toEqual([409, 'reference-used']);
    expect([
      await statusOf(brackwater, 'b1'),
      await statusOf(brackwater, 'late'),
      await statusOf(tollan, 't1'),
    ]).toEqual(['released', 'released', 'held']);
    const { lifted } = (await mustGoWell(analyst('GET', `/v1/containments/${recall['id']}`))).body;
    expect(lifted).toMatchObject({ reason: 'measured again', by: 'analyst-3' });
    expect((await mustGoWell(tollan('GET', `/v1/containments/${recall['id']}`))).body.lifted.by).toBeNull();
    await registerPair(brackwater, 'after');
    await convert(brackwater, 'after', '04-09', 'L-BAD');
    await settleAll(service.app);
    expect(await statusOf(brackwater, 'after')).toBe('released');
  });
});

describe("an instrument's work in a period", () => {
  it('is contained by its own distributor, and asks for an inspection', async () => {
    for (const number of ['i1', 'i2', 'i3']) await registerPair(brackwater, number);
    await registerPair(tollan, 'i4');
    await convert(brackwater, 'i1', '05-01', 'L-1');
    await convert(brackwater, 'i2', '05-10', 'L-1');
    await convert(brackwater, 'i3', '06-10', 'L-1');
    await convert(tollan, 'i4', '05-10', 'L-1');
    const criteria = { instrument: 'tw-3', from: '2026-05-05T00:00:00Z', to: '2026-06-01T00:00:00Z' };
    const made = await contain(brackwater, 'wrench', criteria, { severity: 'inspect', instruction: 'close it again' });
    const items = await reachOf(brackwater, made['id']);
    expect(namesIn(items)).toEqual(['K-i2', 'P-i2']);
    const unit = await unitFor(brackwater, 'control', 'i2');
    expect([unit.status, unit.findings[0].instruction, unit.findings[0].severity]).toEqual([
      'incomplete',
      'close it again',
      'due',
    ]);
    expect((await tollan('GET', `/v1/containments/${made['id']}`)).status).toBe(404);
    const looked = items.find((one) => one['name'] === 'K-i2');
    await mustGoWell(tell(brackwater, made['id'], looked?.['unit'], 'inspected'));
    expect(await statusOf(brackwater, 'i2')).toBe('released');
  });
});

describe("an edition's error", () => {
  it('is contained as far as a function was made by it, and what nobody stated is no recall', async () => {
    await registerPair(tollan, 'e1');
    await convert(tollan, 'e1', '08-01', 'L-1');
    const period = { from: '2026-07-31T00:00:00Z', to: '2026-08-02T00:00:00Z' };
    const made = await contain(analyst, 'edition', { edition: '2026-1', function: 'load-sense', ...period });
    expect(namesIn(await reachOf(analyst, made['id']))).toEqual(['K-e1', 'P-e1']);
    expect(await statusOf(tollan, 'e1')).toBe('held');
    const body = { reference: 'slip', severity: 'stop', reason: 'why', instruction: 'what' };
    const slip = await analyst('POST', '/v1/containments', { ...body, criteria: { lot: `${maker}/NONE` } });
    expect([slip.status, slip.body.code]).toEqual([404, 'not-found']);
    expect((await analyst('POST', '/v1/containments', { ...body, criteria: {} })).status).toBe(400);
    const other = await analyst('POST', '/v1/containments', {
      ...body,
      criteria: { maker: 'other-maker', shop: 'north' },
    });
    expect(other.status).toBe(404);
  });
});

describe("what a maker's containment holds", () => {
  const standing = async (caller: Caller, list: 'held' | 'due') => {
    const rest = (await mustGoWell(caller('GET', `/v1/${list}?rule=contained&first=200`))).body.items as Json[];
    const lines = (await mustGoWell(caller('GET', `/v1/${list}/counts?rule=contained`))).body;
    const graph = await ask(
      caller,
      `{ ${list}(rule: "contained", first: 100) { edges { node { unit { name } finding { rule severity clearedBy { place } record { reference } } } } }
        ${list}Counts(rule: "contained") { edges { node { findings units } } } }`,
    );
    const told = rest.map((one) => [one['unit'].name, one['severity'], one['clearedBy'][0].place]).sort();
    const nodes = graph[list].edges.map((one: Json) => one['node']);
    const seen = nodes.map((one: Json) => [
      one['unit'].name,
      one['finding'].severity,
      one['finding'].clearedBy[0].place,
    ]);
    expect(seen.sort()).toEqual(told);
    const references = nodes.map((one: Json) => one['finding'].record?.reference ?? null);
    expect(references.sort()).toEqual(rest.map((one) => one['reference']).sort());
    const counted = graph[`${list}Counts`].edges.map((one: Json) => one['node'].findings);
    expect([lines.findings, counted.reduce((sum: number, one: number) => sum + one, 0)]).toEqual([
      told.length,
      told.length,
    ]);
    return told as [string, string, string][];
  };

  it.each([
    ['stop', 'held', 'hold'],
    ['inspect', 'due', 'due'],
  ] as const)(
    'by %s is among what is %s of each distributor that worked on it, until it is lifted',
    async (...said) => {
      const [severity, list, as] = said;
      const lot = `L-${severity}`;
      for (const shop of [brackwater, tollan])
        await mustGoWell(shop('PUT', `/v1/lots/${maker}/${lot}`, { part: 'kit-sense' }));
      for (const [shop, number] of [
        [brackwater, `b-${severity}`],
        [tollan, `t-${severity}`],
      ] as const) {
        await registerPair(shop, number);
        await convert(shop, number, '04-20', lot);
      }
      const { id } = await contain(analyst, `seen-${severity}`, { lot: `${maker}/${lot}` }, { severity });
      const by = async (caller: Caller) => (await standing(caller, list)).filter(([, , place]) => place === id);
      expect(await by(brackwater)).toEqual([[`K-b-${severity}`, as, id]]);
      expect(await by(tollan)).toEqual([[`K-t-${severity}`, as, id]]);
      const last = async () => (await mustGoWell(brackwater('GET', `/v1/${list}?rule=contained`))).body.items.at(-1);
      expect(await last()).toMatchObject({ kind: 'containment-unit', shop: null, ageDays: 0 });
      const [reached] = await reachOf(brackwater, id);
      for (const step of ['cleared', 'secured']) await mustGoWell(tell(analyst, id, reached?.['unit'], step));
      expect(await last()).toMatchObject({ kind: 'containment-progress', shop: null, reference: null });
      await mustGoWell(
        analyst('POST', `/v1/containments/${id}/lift`, { reference: `end-${severity}`, reason: 'over' }),
      );
      expect([...(await by(brackwater)), ...(await by(tollan))]).toEqual([]);
    },
  );
});
