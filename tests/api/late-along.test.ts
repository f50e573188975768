/**
 * Movements and start-ups that follow a late record: what turns out to have been mounted goes along, what turns out not to have
 * been doesn't. That what is mounted goes with what it is mounted on is common practice of the trade, no published source.
 */
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import {
  inspectionOf,
  maker,
  onControl,
  onPump,
  openShops,
  registerControl,
  registerPair,
  unitFor,
} from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

let count = 0;
const frame = (day: number) => ({
  reference: `A-${++count}`,
  performedAt: `2026-04-${String(day).padStart(2, '0')}T08:00:00Z`,
  shop: 'north',
  technician: 't-17',
});
const post = async (path: string, body: object, shop = brackwater): Promise<Json> =>
  (await mustGoWell(shop('POST', path, body))).body;
const move = (what: string, unit: object, day: number, rest: object = {}, shop = brackwater) =>
  post('/v1/movements', { what, ...unit, ...frame(day), ...rest }, shop);
const start = (unit: object, day: number, rest: object = {}, shop = brackwater) =>
  post('/v1/start-ups', { ...unit, ...frame(day), machine: 'press 4', ...rest }, shop);
const mount = (number: string, on: boolean, day: number, shop = brackwater) =>
  post('/v1/mountings', { ...onControl(number), ...onPump(number), on, ...frame(day), edition: '2026-1' }, shop);
const look = (number: string, day: number, shop = brackwater) =>
  post('/v1/inspections', { ...inspectionOf(number, frame(day)) }, shop);
const undo = (record: string, shop = brackwater) =>
  post(`/v1/records/${record}/corrections`, { kind: 'void', reason: 'another unit' }, shop);
const control = (number: string, shop = brackwater): Promise<Json> => unitFor(shop, 'control', number);
const pump = (number: string, shop = brackwater): Promise<Json> => unitFor(shop, 'pump', number);
const controlThen = async (number: string, query: string): Promise<Json> =>
  (await mustGoWell(brackwater('GET', `/v1/controls/${maker}/K-${number}?${query}`))).body.control;
const holds = ({ findings }: Json) =>
  findings.filter((one: Json) => one.severity === 'hold').map((one: Json) => [one.rule, one.fact]);
/** Pump P-number, bare, and control K-number on the shelf. */
async function apart(number: string): Promise<void> {
  await mustGoWell(
    brackwater('PUT', `/v1/pumps/${maker}/P-${number}`, { ...pumpWith({ function: 'load-sense' }), control: null }),
  );
  await registerControl(brackwater, number);
}

describe('a movement that was recorded before a mounting', () => {
  it('takes along the control that turns out to have been on the pump, from then on', async () => {
    await apart('goes');
    const out = await move('delivered', onPump('goes'), 5, { to: 'Harbour Works' });
    expect((await control('goes')).custody).toBe(null);
    const late = await mount('goes', true, 2);
    const custody = { record: out.id, is: 'out', shop: 'north', since: '2026-04-05T08:00:00.000000Z' };
    expect((await control('goes')).custody).toEqual(custody);
    // The day before the movement it was nowhere yet.
    expect((await controlThen('goes', 'performed=2026-04-04T08:00:00Z')).custody).toBe(null);
    expect((await controlThen('goes', 'performed=2026-04-06T08:00:00Z')).custody).toEqual(custody);
    const { items } = (await mustGoWell(brackwater('GET', `/v1/judgements?cause=${late.id}`))).body;
    expect(items).toMatchObject([{ record: out.id, kind: 'movement', status: { was: null, is: null } }]);
    expect(items[0].units.map((one: Json) => one.name).sort()).toEqual(['K-goes', 'P-goes']);
  });

  it('had not taken it along as it was known before', async () => {
    await apart('known');
    const out = await move('delivered', onPump('known'), 5);
    const known = out.receipt.recordedAt;
    await mount('known', true, 2);
    await setTimeout(6_500);
    const record = async (query = '') => (await mustGoWell(brackwater('GET', `/v1/records/${out.id}${query}`))).body;
    const names = ({ units }: Json) => units.map((one: Json) => one.name).sort();
    expect((await control('known')).custody).toMatchObject({ record: out.id });
    expect(names(await record())).toEqual(['K-known', 'P-known']);
    expect((await controlThen('known', `known=${known}`)).custody).toBe(null);
    expect(names(await record(`?known=${known}`))).toEqual(['P-known']);
  });

  it('takes it along no more once the mounting is made void, and again once it is told anew', async () => {
    await apart('again');
    await move('received', onPump('again'), 1);
    const out = await move('lent', onPump('again'), 5);
    const first = await mount('again', true, 2);
    expect((await control('again')).custody).toMatchObject({ record: out.id });
    await undo(first.id);
    expect((await control('again')).custody).toBe(null);
    await mount('again', true, 3);
    expect((await control('again')).custody).toMatchObject({ record: out.id, is: 'out' });
  });

  it('leaves behind what turns out to have been taken off before', async () => {
    await registerPair(brackwater, 'off');
    const came = await move('received', onPump('off'), 1);
    const out = await move('delivered', onPump('off'), 5);
    await mount('off', false, 3);
    expect((await control('off')).custody).toMatchObject({ record: came.id, is: 'in' });
    expect((await pump('off')).custody).toMatchObject({ record: out.id, is: 'out' });
  });

  it('is forgotten on both when it is made void, and corrected on both', async () => {
    await apart('undone');
    const out = await move('delivered', onPump('undone'), 5);
    await mount('undone', true, 2);
    const { reference, performedAt, shop, technician } = { ...frame(6), reference: `A-${count - 2}` };
    const body = { what: 'lent', ...onPump('undone'), reference, performedAt, shop, technician };
    const corrected = await post(`/v1/records/${out.id}/corrections`, { kind: 'movement', reason: 'a loan', body });
    const custody = { record: corrected.id, is: 'out', since: '2026-04-06T08:00:00.000000Z' };
    expect((await control('undone')).custody).toMatchObject(custody);
    expect((await pump('undone')).custody).toMatchObject(custody);
    await undo(corrected.id);
    expect((await control('undone')).custody).toBe(null);
    expect((await pump('undone')).custody).toBe(null);
  });

  it('has work on the control held where it turns out to have been away, and covered by what brought it back', async () => {
    await apart('away');
    await move('delivered', onPump('away'), 5);
    const worked = await look('away', 7);
    await mount('away', true, 2);
    const away = async () => holds(await control('away')).filter(([rule]: string[]) => rule === 'not-in-custody');
    // So was the pump; a record that names the control alone has no place there.
    expect(await away()).toEqual([
      ['not-in-custody', worked.id],
      ['not-in-custody', worked.id],
    ]);
    await move('returned', onControl('away'), 6);
    expect(await away()).toEqual([]);
  });

  it('changes nothing that another distributor reads of the control but what it recorded itself', async () => {
    await apart('quiet');
    const out = await move('delivered', onPump('quiet'), 5, { to: 'Harbour Works' });
    const path = `/v1/controls/${maker}/K-quiet`;
    await mount('quiet', true, 2, tollan);
    expect((await control('quiet')).custody).toMatchObject({ record: out.id });
    expect((await control('quiet', tollan)).custody).toBe(null);
    const seen = (await mustGoWell(tollan('GET', `${path}/history`))).body.items;
    expect(seen.map((one: Json) => one.kind)).toEqual(['registration', 'mounting']);
    const own = (await mustGoWell(brackwater('GET', `${path}/history`))).body;
    expect(own.items.map((one: Json) => one.kind)).toEqual(['registration', 'mounting', 'judgement']);
    expect(own.state.custody).toMatchObject({ record: out.id, shop: 'north' });
  });

  it('hands over what was handed over then, and nothing that is due since', async () => {
    await apart('dues');
    const looked = await look('dues', 1);
    expect(looked.status).toBe('released');
    await move('delivered', onPump('dues'), 5);
    await mount('dues', true, 2);
    const open = (await control('dues')).findings.filter((one: Json) => one.severity === 'due');
    expect(open.length).toBeGreaterThan(0);
    expect(open.every((one: Json) => one.handedOver === undefined)).toBe(true);
  });
});

it('a tag holds the control where it turns out that none was on the pump any more, until somebody decides', async () => {
  await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-tag`, pumpWith({ function: 'load-sense' })));
  const tagged = await move('tagged', onPump('tag'), 5, { tag: 'T-along' });
  const named = { control: { maker, tag: 'T-along' } };
  await post('/v1/mountings', { ...named, ...onPump('tag'), on: false, ...frame(3), edition: '2026-1' });
  const holdsNow = async () => {
    const { body } = await mustGoWell(brackwater('GET', `/v1/controls/${maker}/T-along`));
    return holds(body.control).filter(([, fact]: string[]) => fact === tagged.id);
  };
  expect(await holdsNow()).toEqual([['unknown-id', tagged.id]]);
  await undo(tagged.id);
  expect(await holdsNow()).toEqual([]);
});

describe('a start-up that was recorded before', () => {
  const bar = (value: string) => ({ value, unit: 'bar' });
  const low = { circuit: { 'system-relief': bar('100') } };
  const adjusted = (number: string, day: number) =>
    post('/v1/adjustments', {
      ...{ ...onControl(number), ...frame(day), edition: '2026-1' },
      settings: [{ setting: 'pressure-limit', reading: bar('250'), instrument: 'pg-1' }],
    });

  it('is of the control too that turns out to have been on the pump: its circuit is remembered', async () => {
    await apart('runs');
    const ran = await start(onPump('runs'), 5, { circuit: { 'system-relief': bar('300') } });
    expect((await control('runs')).circuit).toBe(undefined);
    await mount('runs', true, 2);
    expect((await control('runs')).circuit).toMatchObject({ 'system-relief': { value: '300', record: ran.id } });
  });

  it('holds the control that turns out to have been on the pump, and says so of itself', async () => {
    await apart('both');
    const ran = await start(onPump('both'), 5, low);
    await mount('both', true, 2);
    const status = async () => (await mustGoWell(brackwater('GET', `/v1/records/${ran.id}`))).body.status;
    expect(await status()).toBe('released');
    await adjusted('both', 3);
    expect(holds(await control('both'))).toContainEqual(['relation-broken', ran.id]);
    expect(await status()).toBe('held');
  });

  it('holds where a setting that is told late breaks a relation with its circuit, and no more when that is made void', async () => {
    await registerPair(brackwater, 'relief');
    const ran = await start(onPump('relief'), 5, low);
    expect(holds(await control('relief'))).toEqual([]);
    const set = await adjusted('relief', 3);
    const broken = async () => holds(await control('relief')).filter(([rule]: string[]) => rule === 'relation-broken');
    expect(await broken()).toEqual([['relation-broken', ran.id]]);
    await undo(set.id);
    expect(await broken()).toEqual([]);
  });
});

describe('work that is held because of where the unit was', () => {
  const away = async (number: string) =>
    holds(await control(number)).filter(([rule]: string[]) => rule === 'not-in-custody');

  it('is held again where it turns out that the unit had gone again after it came in', async () => {
    await registerControl(brackwater, 'gone');
    await move('delivered', onControl('gone'), 1);
    const worked = await look('gone', 9);
    expect(await away('gone')).toEqual([['not-in-custody', worked.id]]);
    await move('returned', onControl('gone'), 2);
    expect(await away('gone')).toEqual([]);
    await move('delivered', onControl('gone'), 5);
    expect(await away('gone')).toEqual([['not-in-custody', worked.id]]);
  });

  it('is held once what said that it came in since is made void', async () => {
    await registerControl(brackwater, 'since');
    await move('delivered', onControl('since'), 1);
    const came = await move('returned', onControl('since'), 5);
    const worked = await look('since', 3);
    expect(await away('since')).toEqual([]);
    await undo(came.id);
    expect(await away('since')).toEqual([['not-in-custody', worked.id]]);
  });

  it('is held once it turns out that it was not this unit that came in with a pump', async () => {
    await registerPair(brackwater, 'with');
    await move('delivered', onPump('with'), 1);
    const worked = await look('with', 2);
    await move('returned', onPump('with'), 6);
    expect(await away('with')).toEqual([]);
    const off = await mount('with', false, 3);
    // The pump did come back: the control alone was away, also when it was taken off.
    expect(await away('with')).toEqual([
      ['not-in-custody', worked.id],
      ['not-in-custody', off.id],
    ]);
    await undo(off.id);
    expect(await away('with')).toEqual([]);
  });
});
