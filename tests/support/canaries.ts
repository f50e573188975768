/**
 * A distributor that plants the same word in everything it may word itself, and does every kind of work with it:
 * released, held, refused, decided, with people, tools and lots of its own.
 */

import type { TestDatabase } from './database.ts';
import { rowsOf } from './rows.ts';
import { mustGoWell, pumpWith } from './scene.ts';
import type { Caller, TestService } from './service.ts';
import { conversionOf, edition, maker, registerControl } from './shop.ts';

/** In an id of the shop's own, in a text, and as all of them begin. */
export const canary = 'canary';
const text = (what: string) => `${canary} ${what}`;
const unknown = (what: string) => ({ unknown: text(what) });
export const shopOfCanaries = {
  distributor: 'brackwater',
  subject: `${canary}-user`,
  client: `${canary}-system`,
} as const;

export type Planted = {
  readonly shop: Caller;
  /** Facts of every kind, by what they are. */
  readonly records: Readonly<Record<string, string>>;
  /** The service's own id of the technician. */
  readonly person: string;
  /** Digests of a file that a record names, and of one that a claim names. */
  readonly files: { readonly recorded: string; readonly claimed: string };
};

export async function plantCanaries(service: TestService, db: TestDatabase): Promise<Planted> {
  const shop = await service.as(shopOfCanaries);
  const keep = async (method: string, path: string, body: object, key?: string): Promise<string> =>
    (await mustGoWell(shop(method, path, body, key))).body.id;
  const files = { recorded: await keepFile(service, 'recorded'), claimed: await keepFile(service, 'claimed') };
  const frame = (nth: number) => ({
    ...{ reference: `${canary}-${nth}`, workOrder: text('order'), note: text('note'), edition },
    ...{ performedAt: `2026-04-0${nth}T08:00:00Z`, shop: `${canary}-shop`, technician: `${canary}-t` },
  });
  const unit = { control: { maker, serial: 'K-c' } };
  const stock = {
    shop: await keep('PUT', `/v1/shops/${canary}-shop`, { name: text('shop') }),
    technician: await keep('PUT', `/v1/technicians/${canary}-t`, { name: text('name'), subject: `${canary}-fitter` }),
    instrument: await keep('PUT', `/v1/instruments/${canary}-tw`, {
      ...{ kind: 'torque-wrench', class: text('class'), serial: text('serial'), shop: `${canary}-shop` },
    }),
    lot: await keep('PUT', `/v1/lots/${maker}/${canary}-lot`, { part: 'kit-remote' }),
    otherLot: await keep('PUT', `/v1/lots/${canary}-supplier/${canary}-lot`, { part: 'plug-m5' }),
    intake: await keep('POST', `/v1/lots/${maker}/${canary}-lot/intakes`, {
      ...{ reference: `${canary}-in`, performedAt: '2026-04-01T08:00:00Z', shop: `${canary}-shop`, quantity: 3 },
      note: text('intake'),
    }),
  };
  const examined = { performedAt: '2026-01-05T08:00:00Z', note: text('instrument note') };
  const points = [
    { at: { value: '60', unit: 'N.m' }, asFound: { value: '0', unit: '%' }, uncertainty: { value: '1', unit: '%' } },
  ];
  const instrument = (what: string, body: object) =>
    keep('POST', `/v1/instruments/${canary}-tw/${what}`, { ...examined, reference: `${canary}-${what}`, ...body });
  const calibrated = await instrument('calibrations', {
    ...{ document: 'certificate', number: text('certificate'), laboratory: text('laboratory'), points },
  });
  const [{ at, asFound }] = points as [(typeof points)[number]];
  const checked = await instrument('checks', { checker: text('checker'), points: [{ at, asFound }] });
  const fallen = await instrument('incidents', { what: 'repaired' });
  const valid = { from: '2026-01-01T00:00:00Z', until: '2026-12-01T00:00:00Z' };
  const authorised = await keep('POST', `/v1/technicians/${canary}-t/authorisations`, {
    ...{ reference: `${canary}-leave`, tasks: ['assemble'], ...valid, givenBy: text('giver'), note: text('leave') },
  });
  const withdrawn = await keep('POST', `/v1/authorisations/${authorised}/withdrawals`, {
    ...{ reference: `${canary}-end`, from: '2026-11-01T00:00:00Z', reason: text('end') },
  });
  await keep('PUT', `/v1/technicians/${canary}-left`, { name: text('left') });
  const left = (await mustGoWell(shop('GET', `/v1/technicians/${canary}-left`))).body.technician as string;
  const erased = await keep('POST', `/v1/technicians/${left}/erasures`, { erase: 'name', note: text('erasure') });
  const people = await service.as({ maker });
  const approval = { reference: `${canary}-approval`, distributor: 'brackwater', shop: `${canary}-shop` };
  await mustGoWell(people('POST', '/v1/approvals', { ...approval, from: valid.from, reason: text('approval') }));
  const pump = pumpWith({ serial: 'K-c', function: 'load-sense-bled' });
  const registration = await keep('PUT', `/v1/pumps/${maker}/P-c`, {
    ...{ ...pump, note: text('registration'), shop: `${canary}-shop`, technician: `${canary}-t` },
    stations: { ...pump.stations, 'pump/displacement-stop': { content: unknown('stop') } },
  });
  const record = await conversionOf(shop, 'c', 'load-sense', frame(1));
  const named = {
    ...{ ...record, ...frame(1) },
    fitted: record.fitted.map((one: object) => ({ ...one, lot: `${canary}-lot`, by: `${canary}-t` })),
    seals: record.seals.map((one: object) => ({
      ...one,
      lot: { maker: `${canary}-supplier`, number: `${canary}-lot` },
    })),
    torques: record.torques.map((one: object) => ({ ...one, instrument: `${canary}-tw` })),
    settings: record.settings.map((one: object) => ({ ...one, instrument: `${canary}-tw` })),
    checks: record.checks.map((one: object) => ({ ...one, reason: text('check'), by: `${canary}-t` })),
  };
  const refused = await shop('POST', '/v1/conversions', { ...named, removed: [] }, `${canary}-key-0`);
  if (refused.status !== 409) throw new Error(`not refused: ${refused.text}`);
  const converted = await keep('POST', '/v1/conversions', named, `${canary}-key-1`);
  const inspected = await keep('POST', '/v1/inspections', {
    ...{ ...unit, ...frame(2), technician: unknown('technician') },
    found: {
      stations: { 'signal-port': unknown('signal port'), 'bleed-seat': [{ element: 'orifice-0.6' }] },
      plate: text('plate'),
    },
    torques: [
      { joint: 'side-cap-body', how: 'set', reading: { value: '1', unit: 'N.m' }, instrument: unknown('instrument') },
    ],
    checks: [{ check: 'leak-free', result: 'failed', reason: text('leak') }],
    attachments: [files.recorded],
  });
  const decided = await keep('POST', `/v1/records/${inspected}/dispositions`, {
    ...{ reference: `${canary}-d`, performedAt: '2026-04-03T08:00:00Z', decision: 'rework' },
    ...{ reason: text('reason'), note: text('disposition') },
  });
  const settings = [{ setting: 'differential', reading: { value: '15', unit: 'bar' }, instrument: `${canary}-tw` }];
  const adjusted = await keep('POST', '/v1/adjustments', { ...unit, ...frame(4), settings });
  const { edition: _, ...said } = frame(5);
  const on = (reference: string, day: string) => ({
    ...{ ...unit, ...said, reference: `${canary}-${reference}`, performedAt: `2026-04-${day}T08:00:00Z` },
  });
  const moved = await keep('POST', '/v1/movements', {
    ...{ what: 'received', ...on('moved', '05'), from: text('from'), to: { shop: `${canary}-shop` } },
  });
  const started = await keep('POST', '/v1/start-ups', {
    ...{ ...on('started', '06'), machine: text('machine'), circuit: {} },
  });
  const words = { part: 'control', symptom: 'noise', failureMode: 'worn', failedAt: '2026-04-06T09:00:00Z' };
  const seen = { fluid: text('fluid'), filter: unknown('filter') };
  const claimed = await keep('POST', '/v1/claims', {
    ...{ ...on('claimed', '07'), ...words, workOrder: undefined, observations: seen, duty: text('claim duty') },
    ...{
      machine: text('claim machine'),
      note: text('claim note'),
      attachments: [files.claimed],
      asFound: { marks: [{ place: text('mark'), text: text('mark') }] },
    },
  });
  const { edition: __, workOrder: ___, ...evidence } = frame(8);
  const proven = await keep('POST', `/v1/claims/${claimed}/evidence`, { ...evidence, note: text('claim note') });
  await mustGoWell(
    people('POST', `/v1/claims/${claimed}/decisions`, {
      ...{ reference: `${canary}-decision`, performedAt: '2026-04-08T09:00:00Z', decision: 'declined' },
      reasons: text('claim reasons'),
    }),
  );
  await registerControl(shop, 'worn');
  const retired = await keep('POST', '/v1/retirements', {
    ...{ ...on('retired', '07'), control: { maker, serial: 'K-worn' }, reason: text('worn') },
  });
  await registerControl(shop, 'shelf', 'load-sense');
  const [person] = await rowsOf<{ id: string }>(db, 'select id from people where own_id = $1', [`${canary}-t`]);
  const records = {
    ...stock,
    registration,
    converted,
    inspected,
    decided,
    adjusted,
    erased,
    authorised,
    withdrawn,
    calibrated,
    checked,
    fallen,
    moved,
    started,
    retired,
    claimed,
    proven,
  };
  return { shop, records, person: person?.id ?? '', files };
}

async function keepFile({ server, tokenOf }: TestService, what: string): Promise<string> {
  const answer = await server.inject({
    ...{ method: 'POST', url: '/v1/attachments', payload: `%PDF-1.4\n${text(what)}\n%%EOF\n` },
    headers: { authorization: `Bearer ${await tokenOf(shopOfCanaries)}`, 'content-type': 'application/pdf' },
  });
  return answer.json().attachment as string;
}
