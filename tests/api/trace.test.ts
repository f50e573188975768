/**
 * The analyst's question: what was in it that day, who fitted it, from which lot, with which tool, set to what. That a
 * failed unit is traced through every control that sat on it is common practice of warranty work, no published source.
 */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { pageText, reachesOut } from '../support/page-text.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, edition, intakeOf, maker, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

const day = (date: string) => `2026-${date}T08:00:00Z`;
const trace = async (path: string, caller: Caller = analyst, query = ''): Promise<Json> =>
  (await mustGoWell(caller('GET', `/v1/${path}/trace${query}`))).body;
const pump = (number: string, query = '', caller: Caller = analyst) =>
  trace(`pumps/${maker}/P-${number}`, caller, query);
const at = (list: Json[], member: string, value: string): Json => list.find((one) => one[member] === value);

/** K-number on P-number, converted from load-sense-bled to load-sense with parts of a lot of its own. */
async function converted(number: string, more: object = {}): Promise<Json> {
  await registerPair(brackwater, number);
  await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/N-${number}`, { part: 'plug-m5' }));
  await mustGoWell(brackwater('POST', `/v1/lots/${maker}/N-${number}/intakes`, intakeOf(`I-${number}`)));
  const frame = { reference: `C-${number}`, performedAt: day('04-02') };
  const body = await conversionOf(brackwater, number, 'load-sense', frame);
  const fitted = (body as Json).fitted.map((one: Json) => ({ ...one, lot: `N-${number}` }));
  return (await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, fitted, ...more }))).body;
}

describe('the trace of a pump', () => {
  it('tells which control sat on it that day, and where each piece of it came from', async () => {
    const { id } = await converted('origin');
    const told = await pump('origin', `?performed=${day('04-10')}`);
    expect([told.pump.name, told.control.name, told.control.function]).toEqual(['P-origin', 'K-origin', 'load-sense']);
    expect(told.pump.mountings).toMatchObject([{ name: 'K-origin', to: null }]);
    const seat = at(told.stations, 'station', 'bleed-seat');
    expect(seat).toMatchObject({ basis: 'seen', elements: [{ element: 'plug-m5', quantity: 1 }] });
    expect(seat.origin).toMatchObject({
      ...{ record: id, kind: 'conversion', distributor: 'brackwater', shop: 'north', edition, reference: 'C-origin' },
      pieces: [{ element: 'plug-m5', quantity: 1, lot: `${maker}/N-origin`, serial: null }],
    });
    expect(seat.origin.entry).toBe((await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body.entry);
    expect(at(told.stations, 'station', 'test-port').origin).toMatchObject({ kind: 'registration', pieces: [] });
    expect(told.records.map((one: Json) => one.kind)).toEqual(['registration', 'conversion']);
  });

  it('on a day before the work tells what was in it then, and the work as done later', async () => {
    const { id } = await converted('before');
    const told = await pump('before', `?performed=${day('03-20')}`);
    expect(told.control.function).toBe('load-sense-bled');
    expect(at(told.stations, 'station', 'bleed-seat').elements).toEqual([{ element: 'orifice-0.6', quantity: 1 }]);
    expect(told.later).toMatchObject([{ record: id, kind: 'conversion' }]);
  });

  it('is the same from the control, and follows it through every pump', async () => {
    await converted('moved');
    const off = { reference: 'OFF', performedAt: day('05-01'), edition, shop: 'north', technician: 't-17', on: false };
    const units = { control: { maker, serial: 'K-moved' }, pump: { maker, serial: 'P-moved' } };
    await mustGoWell(brackwater('POST', '/v1/mountings', { ...units, ...off, checks: [] }));
    const told = await trace(`controls/${maker}/K-moved`, analyst, `?performed=${day('04-10')}`);
    const same = await pump('moved', `?performed=${day('04-10')}`);
    for (const part of ['stations', 'settings', 'torques', 'seals', 'points'])
      expect([part, told[part]]).toEqual([part, same[part]]);
    expect((await pump('moved')).control).toBe(null);
    expect((await trace(`controls/${maker}/K-moved`)).control.mountings).toMatchObject([
      { name: 'P-moved', to: '2026-05-01T08:00:00.000000Z' },
    ]);
  });
});

describe('the evidence of a trace', () => {
  it('has the last torque and setting of each place with its verdict, then and by now, and its instrument', async () => {
    const range = { min: { value: '5', unit: 'N.m' }, max: { value: '100', unit: 'N.m' } };
    const wrench = { kind: 'torque-wrench', how: 'set', range, permissible: { value: '4', unit: '%' } };
    await mustGoWell(brackwater('PUT', '/v1/instruments/tw-7', wrench));
    await registerPair(brackwater, 'wrench');
    const frame = { reference: 'C-wrench', performedAt: day('04-02') };
    const body: Json = await conversionOf(brackwater, 'wrench', 'load-sense', frame);
    const torques = body.torques.map((one: Json) => ({ ...one, instrument: 'tw-7' }));
    await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, torques }));
    const known = (await pump('wrench')).records.at(-1).recordedAt;
    const before = await pump('wrench');
    const joint = 'sense-adjuster-body';
    expect(at(before.torques, 'place', joint)).toMatchObject({
      ...{ verdictThen: { verdict: 'conforms' }, verdictNow: { verdict: 'conforms' }, instrument: 'tw-7' },
      standing: { overdue: false, suspect: null, foundWorse: null },
    });
    expect(at(before.points, 'place', joint)).toMatchObject({ topic: 'torque', bears: 'clear' });
    const found = { value: '-9', unit: '%' };
    const point = { at: { value: '60', unit: 'N.m' }, asFound: found, uncertainty: { value: '1', unit: '%' } };
    const calibration = { reference: 'CAL', performedAt: day('06-01'), document: 'certificate', points: [point] };
    await mustGoWell(brackwater('POST', '/v1/instruments/tw-7/calibrations', calibration));
    const now = await pump('wrench');
    expect(at(now.torques, 'place', joint)).toMatchObject({
      ...{ verdictThen: { verdict: 'conforms' }, verdictNow: { verdict: 'outside' } },
      standing: { foundWorse: expect.any(String) },
    });
    expect(at(now.points, 'place', joint)).toMatchObject({
      ...{ bears: 'bears on the claim', basis: expect.stringContaining('judged "conforms" when it was recorded') },
    });
    expect(now.records.at(-1)).toMatchObject({ statusThen: 'released', statusNow: 'held', cause: expect.any(String) });
    // What was recorded just now may still be preceded by something that commits later: it is asked for until it is settled.
    let then = await pump('wrench', `?known=${known}`);
    while (then.asked.known < known) then = await pump('wrench', `?known=${known}`);
    expect(at(then.torques, 'place', joint)).toEqual(at(before.torques, 'place', joint));
  });

  it('says what is not known: an instrument, a lot, and what was never looked at', async () => {
    const why = { unknown: 'not noted' };
    await registerPair(brackwater, 'gaps');
    const frame = { reference: 'C-gaps', performedAt: day('04-02') };
    const body: Json = await conversionOf(brackwater, 'gaps', 'load-sense', frame);
    const torques = body.torques.map((one: Json) => ({ ...one, instrument: why }));
    const fitted = body.fitted.map((one: Json) => ({ ...one, lot: why }));
    await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, technician: why, torques, fitted }));
    const { points } = await pump('gaps');
    const unknown = points
      .filter((one: Json) => one.bears === 'unknown')
      .map((one: Json) => `${one.topic} ${one.place}`);
    expect(unknown).toEqual(
      expect.arrayContaining(['gap technician', 'gap sense-adjuster-body', 'station bleed-seat']),
    );
  });

  it('has what held the unit then, and what was decided about it, before the day or after', async () => {
    const { id } = await converted('decided', { torques: [] });
    const inspector = await service.as({ distributor: 'brackwater', subject: 'inspector' });
    const decision = {
      reference: 'D',
      performedAt: day('04-20'),
      decision: 'concession',
      reason: 'runs at half pressure',
    };
    await mustGoWell(inspector('POST', `/v1/records/${id}/dispositions`, decision));
    const then = await pump('decided', `?performed=${day('04-10')}`);
    expect(then.findings.map((one: Json) => one.rule)).toContain('joint-not-closed');
    expect(then.dispositions).toMatchObject([{ record: id, decision: 'concession', after: true }]);
    expect(then.points[0]).toMatchObject({ topic: 'finding', bears: 'bears on the claim', record: id });
    const later = await pump('decided', `?performed=${day('05-10')}`);
    expect(later.findings).toEqual([]);
    expect(later.dispositions).toMatchObject([{ after: false }]);
  });

  it('shows who sent them the bodies that were refused, and nobody else', async () => {
    await converted('refused');
    const body = await conversionOf(brackwater, 'refused', 'load-sense-bled', {
      reference: 'X',
      performedAt: day('04-09'),
    });
    expect((await brackwater('POST', '/v1/conversions', { ...body, removed: [] })).status).toBe(409);
    expect((await pump('refused', '', brackwater)).attempts).toMatchObject([{ kind: 'conversion' }]);
    expect((await pump('refused')).attempts).toBe(null);
  });
});

describe('a trace on paper', () => {
  const pageOf = async (path: string, language = 'en') => {
    const token = await service.tokenOf({ maker, scopes: ['warranty:read'] });
    const headers = { authorization: `Bearer ${token}`, accept: 'text/html', 'accept-language': language };
    const { statusCode, body, headers: got } = await service.server.inject({ method: 'GET', url: path, headers });
    expect([statusCode, got['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
    expect(reachesOut(body)).toEqual([]);
    return body;
  };

  it('has every point with its basis, what bears on a claim first, and every piece with its lot', async () => {
    await converted('paper', { torques: [] });
    const told = await pump('paper');
    const text = pageText(await pageOf(`/v1/pumps/${maker}/P-paper/trace`));
    for (const { basis } of told.points) expect(text).toContain(basis.replaceAll(/\s+/g, ' '));
    expect(text).toContain(`${maker}/N-paper`);
    expect(text.indexOf('bears on the claim')).toBeLessThan(text.indexOf('✓ clear'));
    expect(text).toContain('no verdict on liability');
  });

  it('is in German for who reads German, and marks nothing that was typed as markup', async () => {
    await registerPair(brackwater, 'deutsch');
    const frame = { reference: '<b>C</b>', performedAt: day('04-02') };
    const body: Json = await conversionOf(brackwater, 'deutsch', 'load-sense', frame);
    const fitted = body.fitted.map((one: Json) => ({ ...one, lot: { unknown: '<i>torn off</i>' } }));
    await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, fitted }));
    const page = await pageOf(`/v1/pumps/${maker}/P-deutsch/trace?performed=${day('04-10')}&lang=de`);
    expect(page).toContain('<html lang="de">');
    expect(pageText(page)).toContain('sagt nichts über Haftung');
    expect([page.includes('<b>C</b>'), page.includes('<i>torn off</i>')]).toEqual([false, false]);
    expect(pageText(page)).toContain('torn off');
  });
});

describe('who may trace', () => {
  it('is who recorded on the unit, and its maker; of others a distributor sees the dates of work alone', async () => {
    await converted('mine');
    const answer = await tollan('GET', `/v1/pumps/${maker}/P-mine/trace`);
    expect([answer.status, answer.body.code]).toEqual([403, 'history-restricted']);
    const looked = { control: { maker, serial: 'K-mine' }, reference: 'T', performedAt: day('05-01'), edition };
    const found = { stations: { 'signal-port': [{ element: 'port-fitting' }] } };
    const by = { shop: 'north', technician: 't-17', found };
    await mustGoWell(tollan('POST', '/v1/inspections', { ...looked, ...by }));
    const theirs = await pump('mine', '', tollan);
    expect(theirs.records.map((one: Json) => one.distributor)).toEqual(['tollan']);
    expect(at(theirs.stations, 'station', 'bleed-seat').origin).toMatchObject({ record: null, pieces: [] });
    expect((await pump('mine', '', brackwater)).later).toEqual([]);
    expect((await analyst('GET', `/v1/pumps/${maker}/P-nobody/trace`)).status).toBe(404);
  });

  it('is journalled for whose records are shown', async () => {
    const { id } = await converted('journal');
    await pump('journal');
    const [latest] = (await mustGoWell(brackwater('GET', '/v1/accesses'))).body.items;
    expect([latest.operation, latest.facts.includes(id)]).toEqual(['GET /v1/pumps/:maker/:serial/trace', true]);
  });
});

it('a bare pump has a trace too', async () => {
  await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-bare`, pumpWith(null)));
  const told = await pump('bare');
  expect([told.control, told.torques, told.stations.every((one: Json) => one.station.startsWith('pump/'))]).toEqual([
    ...[null, [], true],
  ]);
});
