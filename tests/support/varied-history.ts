/** A small history with something of every kind of fact, by two distributors, over HTTP. Invented throughout. */

import { examineInstrument } from './examine-instrument.ts';
import { giveLeave } from './give-leave.ts';
import { makeClaims } from './make-claims.ts';
import { byTheBook, mustGoWell, pumpWith } from './scene.ts';
import type { Caller, TestService } from './service.ts';
import { controlBody, conversionOf, edition, intakeOf, maker, openShops, registerPair } from './shop.ts';

const frame = (reference: string, performedAt: string) => ({
  ...{ reference, performedAt, edition, shop: 'north', technician: 't-17' },
});
const control = (serial: string) => ({ control: { maker, serial } });
const pump = (serial: string) => ({ pump: { maker, serial } });

export async function recordVariedHistory(service: TestService): Promise<void> {
  const { brackwater, tollan } = await openShops(service);
  await giveLeave(service);
  await stateStockAgain(brackwater);
  await registerPair(brackwater, '1');
  await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-2`, pumpWith({ function: 'load-sense' })));
  const onTheShelf = { ...controlBody('load-sense'), technician: 't-17', shop: 'north', note: 'found in the store' };
  await mustGoWell(brackwater('PUT', `/v1/controls/${maker}/K-3`, onTheShelf));
  await workOnPumps(brackwater);
  await changeShops(brackwater, tollan);
  await holdAndDispose(brackwater, await service.as({ distributor: 'brackwater', subject: 'inspector' }));
  await comeLate(brackwater);
  await moveAbout(brackwater);
  await keepStock(brackwater);
  await makeClaims(service, (of) => pump(of === 'brackwater' ? 'P-1' : 'P-9'));
  await containAndLift(service, brackwater);
}

/** Second versions, somebody who is forgotten, and an intake. */
async function stateStockAgain(shop: Caller): Promise<void> {
  await mustGoWell(shop('PUT', '/v1/shops/north', { name: 'north yard, hall 2' }));
  await mustGoWell(shop('PUT', '/v1/technicians/t-17', { name: 'A. Example-Sample', subject: 'fitter-17' }));
  await mustGoWell(shop('PUT', '/v1/technicians/t-18', { name: 'B. Example' }));
  const { technician } = (await mustGoWell(shop('GET', '/v1/technicians/t-18'))).body;
  await mustGoWell(shop('POST', `/v1/technicians/${technician}/erasures`, { erase: 'everything', note: 'asked for' }));
  await mustGoWell(shop('PUT', '/v1/instruments/pg-1', { kind: 'gauge', class: '1.0', shop: 'north' }));
  await examineInstrument(shop);
  const lot = { part: 'kit-remote', madeAt: { at: '2026-01-20T00:00:00Z', precision: 'day' } };
  await mustGoWell(shop('PUT', `/v1/lots/${maker}/L-1`, lot));
  await mustGoWell(shop('POST', `/v1/lots/${maker}/L-1/intakes`, { ...intakeOf('in-1'), note: 'box was open' }));
}

/** A conversion on its pump, an adjustment, an inspection that says little. */
async function workOnPumps(shop: Caller): Promise<void> {
  const times = { reference: ' c-1 ', performedAt: '2026-04-01T08:00:00+02:00' };
  const conversion = await conversionOf(shop, '1', 'load-sense', times);
  await mustGoWell(shop('POST', '/v1/conversions', { ...conversion, note: 'thread cleaned', workOrder: 'w-1' }));
  const settings = [{ setting: 'pressure-limit', reading: { value: '230', unit: 'bar' }, instrument: 'pg-1' }];
  // A seal of the pump's own, from a lot that nobody knows.
  const seals = [{ joint: 'pump/flank-cover-screws', seal: 'seal-flank-nbr', lot: { unknown: 'loose in a drawer' } }];
  const adjustment = { ...pump('P-1'), ...frame('a-1', '2026-04-02T08:00:00Z'), settings, seals };
  await mustGoWell(shop('POST', '/v1/adjustments', adjustment));
  const unknown = { unknown: 'not written down' };
  const performedAt = { at: '2026-04-03T00:00:00Z', precision: 'day' };
  const look = { ...pump('P-1'), ...frame('i-1', ''), performedAt, technician: unknown };
  await mustGoWell(shop('POST', '/v1/inspections', { ...look, found: { stations: { 'signal-port': unknown } } }));
}

/** Off the pump, one with a tag; converted on the shelf; on another distributor's pump. */
async function changeShops(shop: Caller, other: Caller): Promise<void> {
  const off = { ...pump('P-2'), ...frame('m-2', '2026-04-04T08:00:00Z'), on: false, tag: ' box 7 ' };
  await mustGoWell(shop('POST', '/v1/mountings', off));
  const taken = { ...control('K-1'), ...pump('P-1'), ...frame('m-1', '2026-04-05T08:00:00Z'), on: false };
  await mustGoWell(shop('POST', '/v1/mountings', taken));
  const times = { reference: 'c-2', performedAt: '2026-04-06T08:00:00Z' };
  await mustGoWell(shop('POST', '/v1/conversions', await conversionOf(shop, '1', 'remote-pressure', times)));
  await mustGoWell(other('PUT', `/v1/pumps/${maker}/P-9`, pumpWith(null)));
  const path = `/v1/controls/${maker}/K-1/mounting-sheet?pump=${maker}/P-9`;
  const { sheet: _, ...work } = byTheBook((await mustGoWell(other('GET', path))).body);
  const on = { ...work, ...control('K-1'), ...pump('P-9'), ...frame('m-1', '2026-04-07T08:00:00Z'), on: true };
  await mustGoWell(other('POST', '/v1/mountings', on));
}

/** Not as declared, and so held, with a concession by somebody else, one with limits and an end before it; another without a name. */
async function holdAndDispose(shop: Caller, inspector: Caller): Promise<void> {
  const found = { stations: { 'bleed-seat': [{ element: 'orifice-0.6' }] } };
  const look = { ...control('K-3'), ...frame('i-3', '2026-05-01T08:00:00Z'), found };
  const { id } = (await mustGoWell(shop('POST', '/v1/inspections', look))).body;
  const lost = { ...pump('P-9'), ...frame('i-9', '2026-05-02T08:00:00Z'), technician: { unknown: 'left' } };
  await mustGoWell(shop('POST', '/v1/inspections', { ...lost, found: { stations: { 'pump/linkage': [] } } }));
  const decided = { reference: 'd-1', performedAt: '2026-05-03T08:00:00Z', decision: 'concession', reason: 'seen' };
  const limits = [{ what: 'pressure', atMost: { value: '180', unit: 'bar' } }, { text: 'on the stand' }];
  const ending = { ...decided, reference: 'd-0', limits, expires: '2050-01-01T00:00:00Z' };
  await mustGoWell(inspector('POST', `/v1/records/${id}/dispositions`, ending));
  const otherwise = { ...look, reference: 'i-4', found: { stations: { 'bleed-seat': [{ element: 'orifice-0.8' }] } } };
  const { id: other } = (await mustGoWell(shop('POST', '/v1/inspections', otherwise))).body;
  await mustGoWell(inspector('POST', `/v1/records/${other}/dispositions`, { ...ending, reference: 'd-2' }));
  await mustGoWell(inspector('POST', `/v1/records/${id}/dispositions`, { ...decided, note: 'by telephone' }));
}

/** Work of May that is recorded after that of June; and one placed after another of the same day. */
async function comeLate(shop: Caller): Promise<void> {
  await registerPair(shop, '4');
  const convert = async (to: string, month: string) =>
    await conversionOf(shop, '4', to, { reference: `late-${month}`, performedAt: `2026-${month}-01T08:00:00Z` });
  await mustGoWell(shop('POST', '/v1/conversions', await convert('load-sense', '04')));
  const late = await convert('load-sense-bled', '05');
  await mustGoWell(shop('POST', '/v1/conversions', await convert('remote-pressure', '06')));
  await mustGoWell(shop('POST', '/v1/conversions', late));
  const performedAt = { at: '2026-07-01T00:00:00Z', precision: 'day' };
  const look = (reference: string, element: string) => ({
    ...{ ...pump('P-4'), ...frame(reference, ''), performedAt },
    found: { stations: { 'signal-port': [{ element }] } },
  });
  const { id } = (await mustGoWell(shop('POST', '/v1/inspections', look('first', 'port-plug')))).body;
  await mustGoWell(shop('POST', '/v1/inspections', { ...look('then', 'port-fitting'), after: id.toUpperCase() }));
}

/** In, worked on elsewhere, out, started up with a due handed over, retired; a tag where it hangs; hours; one corrected. */
async function moveAbout(shop: Caller): Promise<void> {
  await mustGoWell(shop('PUT', '/v1/shops/south', { name: 'south yard' }));
  await registerPair(shop, '5');
  const said = (reference: string, performedAt: string) => {
    const { edition: _, ...rest } = frame(reference, performedAt);
    return rest;
  };
  const hours = { value: '12.5', unit: 'h' };
  const received = { what: 'received', ...pump('P-5'), ...said('mv-1', '2026-07-02T08:00:00Z'), from: 'Harbour Works' };
  const { id } = (await mustGoWell(shop('POST', '/v1/movements', { ...received, hours }))).body;
  const corrected = { kind: 'movement', reason: 'hours misread', body: { ...received, from: { shop: 'south' } } };
  await mustGoWell(shop('POST', `/v1/records/${id}/corrections`, corrected));
  const times = { reference: 'c-5', performedAt: '2026-07-03T08:00:00Z' };
  const conversion = { ...(await conversionOf(shop, '5', 'load-sense', times)), checks: [], shop: 'south' };
  await mustGoWell(shop('POST', '/v1/conversions', conversion));
  const again = { what: 'received', ...pump('P-5'), shop: 'south', performedAt: '2026-07-04T08:00:00Z' };
  await mustGoWell(shop('POST', '/v1/movements', { ...said('mv-2', ''), ...again, note: 'came by truck' }));
  const handedOver = { acceptedBy: 'plant engineer', dues: [{ check: 'leak-free' }] };
  const runs = { ...pump('P-5'), ...said('su-1', '2026-07-05T08:00:00Z'), machine: 'press 4', handedOver };
  await mustGoWell(shop('POST', '/v1/start-ups', { ...runs, circuit: { 'signal-pressure': hours } }));
  await mustGoWell(shop('PUT', `/v1/pumps/${maker}/P-6`, pumpWith({ function: 'load-sense' })));
  const tagged = { what: 'tagged', ...pump('P-6'), ...said('mv-3', '2026-07-06T08:00:00Z'), tag: ' box 8 ' };
  await mustGoWell(shop('POST', '/v1/movements', tagged));
  const worn = { ...pump('P-5'), ...said('re-1', '2026-07-07T08:00:00Z'), reason: 'worn', hours };
  await mustGoWell(shop('POST', '/v1/retirements', worn));
}

/** Lots of kits with what is in them, one of them withdrawn; taken in, used, thrown away, sent back, counted, put back. */
async function keepStock(shop: Caller): Promise<void> {
  const lots = `/v1/lots/${maker}/L-7`;
  const at = (reference: string, day: string) => ({
    ...{ reference, performedAt: `2026-07-${day}T08:00:00Z`, shop: 'north', note: 'by the storekeeper' },
  });
  const components = [{ element: 'seal-22-fkm', lot: { maker: 'tollan', number: 'S-7' } }];
  await mustGoWell(shop('PUT', lots, { part: 'kit-bleed', components }));
  await mustGoWell(shop('POST', `${lots}/intakes`, { ...at(' in-7 ', '01'), quantity: 1, location: 'shelf 3' }));
  await mustGoWell(
    shop('POST', `${lots}/scrappings`, { ...at('sc-7', '02'), quantity: 1, item: 'plug-m5', reason: 'bent' }),
  );
  await mustGoWell(
    shop('POST', `${lots}/returns`, { ...at('rt-7', '03'), quantity: 1, counts: 'kits', reason: 'late' }),
  );
  const loose = [{ item: 'plug-m5', quantity: 1 }];
  await mustGoWell(shop('POST', `${lots}/counts`, { ...at('ct-7', '04'), quantity: 0, loose }));
  await registerPair(shop, '7', 'load-sense');
  const convert = async (to: string, day: string, part: object) => {
    const frame = { reference: `c-7-${day}`, performedAt: `2026-07-${day}T08:00:00Z` };
    const { fitted, ...record } = await conversionOf(shop, '7', to, frame);
    const body = { ...record, fitted: fitted.map((one: object) => ({ ...one, ...part })) };
    return (await mustGoWell(shop('POST', '/v1/conversions', body))).body.id as string;
  };
  await convert('load-sense-bled', '05', { lot: 'L-7', serial: ' o-7 ' });
  const record = await convert('load-sense', '06', {});
  const back = { ...at('rs-7', '07'), record, station: 'bleed-seat', element: 'orifice-0.6', location: 'drawer 2' };
  await mustGoWell(shop('POST', '/v1/restockings', back));
  const withdrawn = { from: '2026-07-05T00:00:00Z', why: 'bore out of round' };
  await mustGoWell(shop('PUT', lots, { part: 'kit-bleed', components, withdrawn }));
}

/** A lot stopped by its maker, with a unit cleared, another scrapped and one that came in later, and an instrument's work, lifted. */
async function containAndLift(service: TestService, shop: Caller): Promise<void> {
  const analyst = await service.as({ maker });
  const said = { reason: 'threads out of tolerance', instruction: 'take the plugs out' };
  const stop = { ...said, reference: ' ct-1 ', severity: 'stop', criteria: { lot: `${maker}/L-7` }, dueWithin: 'P30D' };
  const { id } = (await mustGoWell(analyst('POST', '/v1/containments', stop))).body;
  const [reached] = (await mustGoWell(analyst('GET', `/v1/containments/${id}/reach`))).body.items;
  const told = { unit: reached.unit, by: 'B. Example', note: 'on the red shelf' };
  for (const step of ['secured', 'scrapped', 'cleared'])
    await mustGoWell(shop('POST', `/v1/containments/${id}/progress`, { ...told, reference: `pr-${step}`, step }));
  await registerPair(shop, '18', 'load-sense');
  const frame = { reference: 'c-18', performedAt: '2026-07-04T08:00:00Z' };
  const { fitted, ...record } = await conversionOf(shop, '18', 'load-sense-bled', frame);
  const late = { ...record, fitted: fitted.map((one: object) => ({ ...one, lot: 'L-7' })) };
  await mustGoWell(shop('POST', '/v1/conversions', late));
  const look = { ...said, reference: 'ct-2', severity: 'inspect', criteria: { instrument: 'pg-1' } };
  const other = (await mustGoWell(analyst('POST', '/v1/containments', look))).body.id;
  await mustGoWell(analyst('POST', `/v1/containments/${other}/lift`, { reference: 'ct-3', reason: 'read again' }));
}
