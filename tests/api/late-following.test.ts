/** What follows a record that comes late is judged again, whoever's it is: a truthful history ends the same in any order of arrival. */
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
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

const day = (date: string) => `2026-${date}T08:00:00Z`;
let count = 0;
const frame = (date: string) => ({
  reference: `R-${++count}`,
  performedAt: day(date),
  shop: 'north',
  technician: 't-17',
});
const seat = (element: string) => ({ 'bleed-seat': [{ element }] });
/** Sees what sits in the bleed seat, and by that the function; or nothing. */
async function look(number: string, date: string, element: string | null, shop = brackwater): Promise<Json> {
  const fun = element === 'plug-m5' ? 'load-sense' : 'load-sense-bled';
  const found = element === null ? { stations: {} } : { stations: seat(element), function: fun };
  const body = { ...inspectionOf(number, { reference: `R-${++count}`, performedAt: day(date) }), found };
  return (await mustGoWell(shop('POST', '/v1/inspections', body))).body;
}
const move = async (what: string, unit: object, date: string, rest: object = {}, shop = brackwater): Promise<Json> =>
  (await mustGoWell(shop('POST', '/v1/movements', { what, ...unit, ...frame(date), ...rest }))).body;
const mount = (control: string, pump: string, on: boolean, date: string, rest: object = {}) =>
  brackwater('POST', '/v1/mountings', {
    ...{ ...onControl(control), ...onPump(pump), on, ...frame(date), edition: '2026-1', ...rest },
  });
const judgementsOf = async (cause: string, shop = brackwater): Promise<Json[]> =>
  (await mustGoWell(shop('GET', `/v1/judgements?cause=${cause}`))).body.items;
const rulesOn = async (number: string, shop = brackwater) =>
  (await unitFor(shop, 'control', number)).findings
    .filter((one: Json) => one.severity === 'hold')
    .map((one: Json) => [one.rule, one.fact]);

describe('what follows a late record', () => {
  it('of the same distributor is held where it finds otherwise now, and no more once that is explained', async () => {
    await registerControl(brackwater, 'own', 'load-sense-bled');
    const june = await look('own', '06-01', 'orifice-0.6');
    expect(june.status).toBe('released');
    const may = await look('own', '05-01', 'plug-m5');
    // The look in May is held for itself: by the records there was an orifice.
    expect(await rulesOn('own')).toEqual([['unrecorded-work', june.id]]);
    expect(await judgementsOf(may.id)).toMatchObject([{ record: june.id, status: { was: 'released', is: 'held' } }]);
  });

  it('of another distributor is judged in its own name, by nobody of the late one', async () => {
    await registerControl(brackwater, 'theirs', 'load-sense-bled');
    const june = await look('theirs', '06-01', 'orifice-0.6', tollan);
    const may = await look('theirs', '05-01', 'plug-m5');
    expect(await rulesOn('theirs', tollan)).toEqual([['unrecorded-work', june.id]]);
    // It is tollan's to read, and not brackwater's.
    const [judged] = await judgementsOf(may.id, tollan);
    expect(judged).toMatchObject({ record: june.id, status: { was: 'released', is: 'held' } });
    expect(await judgementsOf(may.id)).toEqual([]);
    const { origin } = await withSuperuser(db.superuserUrl, async (client) => {
      const { rows } = await client.query<{ origin: string }>('select origin from facts where id = $1', [judged.id]);
      return rows[0] ?? { origin: '' };
    });
    expect(origin).toMatch(/"client":"asfitted".*"subject":"asfitted"/);
    expect(origin).not.toContain('user-17');
    expect((await brackwater('GET', `/v1/records/${judged.id}`)).status).toBe(404);
    expect((await tollan('GET', `/v1/records/${may.id}`)).status).toBe(404);
  });

  it('is judged in the order of the work through several hands', async () => {
    await registerControl(brackwater, 'hands', 'load-sense-bled');
    const records = [
      await look('hands', '06-01', 'orifice-0.6', tollan),
      await look('hands', '06-02', 'orifice-0.6'),
      await look('hands', '06-03', 'orifice-0.6', tollan),
    ];
    await look('hands', '05-01', 'plug-m5');
    // June's first look finds another part than May's; the two after it find what that one left.
    expect(await rulesOn('hands')).toEqual([]);
    const [first] = records;
    const may = await look('hands', '05-02', 'plug-m5', tollan);
    expect(await rulesOn('hands')).toEqual([]);
    expect(await judgementsOf(may.id, tollan)).toEqual([]);
    const { judgement } = (await mustGoWell(tollan('GET', `/v1/records/${first.id}`))).body;
    expect(judgement.status).toBe('released');
  });

  it('is left alone by a record that is the last on all its units', async () => {
    await registerPair(brackwater, 'last');
    await look('last', '06-01', null);
    const alter = (what: string) =>
      withSuperuser(db.superuserUrl, (client) => client.query(`alter table pending_judgements ${what}`));
    await alter('add constraint nothing_more check (false) not valid');
    await look('last', '06-02', null);
    await move('received', onPump('last'), '06-03');
    await expect(look('last', '05-01', null)).rejects.toThrow('500');
    await alter('drop constraint nothing_more');
    await look('last', '05-01', null);
  });
});

describe('mountings that come late', () => {
  it('are taken in any order: what lies between may come first or last', async () => {
    for (const order of [
      ['off', 'on'],
      ['on', 'off'],
    ]) {
      const number = `turns-${order[0]}`;
      await registerPair(brackwater, number);
      const june = (await mustGoWell(mount(number, number, false, '06-01'))).body;
      // Between March and June it came off and went on again; the shop tells both in July.
      const post = { off: () => mount(number, number, false, '05-01'), on: () => mount(number, number, true, '05-15') };
      const first = await post[order[0] as 'on' | 'off']();
      if (order[0] === 'off') {
        expect(first.status).toBe(201);
        expect(await rulesOn(number)).toContainEqual(['on-two-pumps', june.id]);
        await mustGoWell(post.on());
      } else {
        // In May it was on by the records; that it had come off before is what the answer asks for.
        expect([first.status, first.body.findings[0].rule]).toEqual([409, 'on-two-pumps']);
        await mustGoWell(post.off());
        await mustGoWell(post.on());
      }
      expect(await rulesOn(number)).not.toContainEqual(['on-two-pumps', june.id]);
      expect((await unitFor(brackwater, 'pump', number)).mounted).toBe(null);
    }
  });

  it('that put another control on the pump hold the work recorded of the first', async () => {
    await registerPair(brackwater, 'swap');
    await registerControl(brackwater, 'swap-b', 'load-sense-bled');
    const body = { ...onPump('swap'), ...frame('06-01'), edition: '2026-1', found: { stations: seat('orifice-0.6') } };
    const june = (await mustGoWell(brackwater('POST', '/v1/inspections', body))).body;
    expect(june.control.name).toBe('K-swap');
    await mustGoWell(mount('swap', 'swap', false, '05-01'));
    await mustGoWell(mount('swap-b', 'swap', true, '05-02'));
    expect(await rulesOn('swap')).toEqual([['control-elsewhere', june.id]]);
    const { judgement } = (await mustGoWell(brackwater('GET', `/v1/records/${june.id}`))).body;
    expect(judgement.status).toBe('released');
    const reason = 'it was K-swap-b';
    await mustGoWell(brackwater('POST', `/v1/records/${june.id}/corrections`, { kind: 'void', reason }));
    await mustGoWell(brackwater('POST', '/v1/inspections', { ...body, reference: 'again' }));
    expect(await rulesOn('swap')).toEqual([]);
    expect((await unitFor(brackwater, 'pump', 'swap')).mounted.name).toBe('K-swap-b');
  });

  it('before the pump was registered with another control are held', async () => {
    await registerControl(brackwater, 'before', 'load-sense-bled');
    await registerPair(brackwater, 'before-p');
    const answer = await mustGoWell(mount('before', 'before-p', true, '02-01'));
    expect(answer.body.findings).toContainEqual(
      expect.objectContaining({ rule: 'later-work-disagrees', pointer: '/on' }),
    );
  });
});

describe('a movement that comes late', () => {
  it('out holds the work that was done here after it, until it is said when the unit came in again', async () => {
    await registerControl(brackwater, 'moved', 'load-sense-bled');
    const june = await look('moved', '06-01', null);
    await move('received', onControl('moved'), '04-01');
    expect(await rulesOn('moved')).toEqual([]);
    const away = await move('lent', onControl('moved'), '05-01', { to: 'Harbour Works' });
    expect(await rulesOn('moved')).toEqual([['not-in-custody', june.id]]);
    expect(await judgementsOf(away.id)).toMatchObject([{ record: june.id, status: { was: 'released', is: 'held' } }]);
    await move('returned', onControl('moved'), '05-20');
    expect(await rulesOn('moved')).toEqual([]);
  });
});

it('a pump that is registered bare after work on it keeps that work', async () => {
  await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-bare`, pumpWith(null)));
  await registerControl(brackwater, 'bare', 'load-sense-bled');
  await mustGoWell(mount('bare', 'bare', true, '02-01'));
  expect((await unitFor(brackwater, 'pump', 'bare')).mounted.name).toBe('K-bare');
});
