/** Jobs that record work on units, and decide, correct and tell units apart. */
import { byTheBook, pumpWith } from '../../support/scene.ts';
import { controlBody, maker } from '../../support/shop.ts';
import { control, frame, lifeFrame, planted, post, someUnit } from './planted-requests.ts';
import { otherParty, ownIds, type Side, type State, someIds } from './traffic-state.ts';
import type { Send } from './wire-caller.ts';

export async function register(state: State, side: Side, send: Send): Promise<void> {
  const number = `${side.party}-${state.next++}`;
  const { shop, technician } = someIds(state.random, side.party);
  const pump = pumpWith({ serial: `K-${number}`, function: state.random.of(['load-sense', 'load-sense-bled']) });
  const unknown = { content: { unknown: 'why' } };
  const body = { ...pump, shop, technician, stations: { ...pump.stations, 'pump/displacement-stop': unknown } };
  const path = `/v1/pumps/${maker}/P-${number}`;
  const got = await send({ method: 'PUT', path, body: planted(side.party, 'PUT /v1/pumps/{maker}/{serial}', body) });
  if (got?.status === 201) side.units.push(number);
  if (!state.random.oneIn(4)) return;
  const shelf = { ...controlBody('load-sense'), shop, technician };
  const planting = planted(side.party, 'PUT /v1/controls/{maker}/{serial}', shelf);
  await send({ method: 'PUT', path: `/v1/controls/${maker}/S-${number}`, body: planting });
}

export async function inspect(state: State, side: Side, send: Send): Promise<void> {
  const { random } = state;
  const { wrench, lot } = someIds(random, side.party);
  const body = {
    ...{ ...control(someUnit(state, side)), ...frame(state, side) },
    found: {
      plate: 'p',
      stations: { 'signal-port': random.oneIn(3) ? { unknown: 'w' } : [{ element: 'port-fitting' }] },
    },
    seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: random.oneIn(3) ? { unknown: 'w' } : lot }],
    torques: [
      {
        joint: 'side-cap-body',
        how: 'set',
        reading: { value: random.of(['34', '1']), unit: 'N.m' },
        instrument: random.oneIn(3) ? { unknown: 'w' } : wrench,
      },
    ],
    checks: [{ check: 'leak-free', result: random.of(['passed', 'failed']), reason: 'r' }],
  };
  await post(state, side, send, '/v1/inspections', body);
}

export async function convert(state: State, side: Side, send: Send): Promise<void> {
  const number = someUnit(state, side);
  const to = state.random.of(['load-sense', 'load-sense-bled', 'remote-pressure']);
  const sheet = await send({ method: 'GET', path: `/v1/controls/${maker}/K-${number}/job-sheet?function=${to}` });
  if (sheet?.status !== 200) return;
  const { shop, technician, wrench, lot } = someIds(state.random, side.party);
  // biome-ignore lint/suspicious/noExplicitAny: a record as JSON
  const book: any = byTheBook(sheet.json);
  const found = sheet.json.from.function === null ? {} : { found: { function: sheet.json.from.function } };
  const got = await post(state, side, send, '/v1/conversions', {
    ...{ ...control(number), ...book, ...found, ...frame(state, side), shop, technician, to: { function: to } },
    fitted: book.fitted.map((one: object) => ({ ...one, lot })),
    torques: book.torques.map((one: object) => ({ ...one, instrument: wrench, by: technician })),
    // Without its removals it is refused, and the whole body kept as an attempt.
    ...(state.random.oneIn(4) && { removed: [] }),
  });
  const [taken] = book.removed;
  if (got?.status !== 201 || taken === undefined) return;
  const { edition: _, technician: __, ...said } = frame(state, side);
  const { station, element } = taken;
  await post(state, side, send, '/v1/restockings', { ...said, record: got.json.id, station, element });
}

export async function adjust(state: State, side: Side, send: Send): Promise<void> {
  const { gauge } = someIds(state.random, side.party);
  const settings = [{ setting: 'differential', reading: { value: '15', unit: 'bar' }, instrument: gauge }];
  await post(state, side, send, '/v1/adjustments', {
    ...control(someUnit(state, side)),
    ...frame(state, side),
    settings,
  });
}

export async function repair(state: State, side: Side, send: Send): Promise<void> {
  const { wrench, lot, technician } = someIds(state.random, side.party);
  await post(state, side, send, '/v1/repairs', {
    ...{ ...control(someUnit(state, side)), ...frame(state, side) },
    seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot, by: technician }],
    torques: [
      { joint: 'side-cap-body', how: 'set', reading: { value: '34', unit: 'N.m' }, instrument: wrench, by: technician },
    ],
  });
}

export async function test(state: State, side: Side, send: Send): Promise<void> {
  const { gauge } = someIds(state.random, side.party);
  const measurements = [
    {
      measured: 'leakage',
      reading: { value: '0.1', unit: 'L/min' },
      instrument: state.random.of([gauge, { unknown: 'w' }]),
    },
  ];
  const checks = [{ check: 'function-check', result: 'not-done', reason: 'r' }];
  await post(state, side, send, '/v1/tests', {
    ...control(someUnit(state, side)),
    ...frame(state, side),
    measurements,
    checks,
  });
}

export async function move(state: State, side: Side, send: Send): Promise<void> {
  const unit = control(someUnit(state, side));
  const what = state.random.of(['received', 'delivered', 'lent', 'returned']);
  const handedOver = { acceptedBy: 'a', dues: [{ check: 'function-check' }] };
  await post(state, side, send, '/v1/movements', {
    ...{ what, ...unit, ...lifeFrame(state, side), from: 'f', to: 't' },
    ...(['delivered', 'lent'].includes(what) && state.random.oneIn(3) && { handedOver }),
  });
  if (state.random.oneIn(3)) {
    await post(state, side, send, '/v1/start-ups', {
      ...unit,
      ...lifeFrame(state, side),
      machine: 'm',
      ...(state.random.oneIn(2) && { handedOver }),
    });
  }
  if (state.random.oneIn(12))
    await post(state, side, send, '/v1/retirements', { ...unit, ...lifeFrame(state, side), reason: 'r' });
}

export async function mountOrDismount(state: State, side: Side, send: Send): Promise<void> {
  const number = someUnit(state, side);
  const pump = { pump: { maker, serial: `P-${number}` } };
  const off = await post(state, side, send, '/v1/mountings', { ...pump, ...frame(state, side), on: false });
  if (off?.status !== 201 || state.random.oneIn(3)) return;
  const sheet = await send({
    method: 'GET',
    path: `/v1/controls/${maker}/K-${number}/mounting-sheet?pump=${maker}/P-${number}`,
  });
  if (sheet?.status !== 200) return;
  const { sheet: _, ...book } = byTheBook(sheet.json);
  await post(state, side, send, '/v1/mountings', {
    ...control(number),
    ...pump,
    ...book,
    ...frame(state, side),
    on: true,
  });
}

/** Records that name what is the other's: its shop, people, tools, lots, files and records. */
export async function nameTheOthers(state: State, side: Side, send: Send): Promise<void> {
  const { random, sides } = state;
  const other = sides[otherParty(side.party)];
  const theirs = ownIds(other.party);
  const base = { ...control(someUnit(state, side)), ...frame(state, side), found: {} };
  const reading = { value: '34', unit: 'N.m' };
  const record = other.records.at(-1)?.id;
  const named = random.of([
    { shop: theirs.shop },
    { technician: theirs.technician },
    { checks: [{ check: 'leak-free', result: 'passed', by: theirs.technician }] },
    { torques: [{ joint: 'side-cap-body', how: 'set', reading, instrument: theirs.wrench }] },
    { seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: theirs.lot }] },
    { seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: { maker: theirs.supplier, number: theirs.lot } }] },
    ...other.attachments.slice(-1).map((one) => ({ attachments: [one] })),
    ...(record === undefined ? [] : [{ after: record }]),
  ]);
  await post(state, side, send, '/v1/inspections', { ...base, ...named });
  if (record === undefined) return;
  await post(state, side, send, `/v1/records/${record}/dispositions`, disposition(state));
  await post(state, side, send, `/v1/records/${record}/corrections`, { kind: 'void', reason: 'r' });
  await send({ method: 'GET', path: `/v1/records/${record}` });
}

export async function decide(state: State, side: Side, send: Send): Promise<void> {
  const held = side.records.filter(({ status }) => status === 'held').slice(-20);
  if (held.length > 0)
    await post(state, side, send, `/v1/records/${state.random.of(held).id}/dispositions`, disposition(state));
}

export async function correct(state: State, side: Side, send: Send): Promise<void> {
  const kinds: Record<string, string> = {
    '/v1/inspections': 'inspection',
    '/v1/adjustments': 'adjustment',
    '/v1/tests': 'test',
  };
  const correctable = side.records.filter(({ path }) => path in kinds).slice(-20);
  if (correctable.length === 0) return;
  const { id, path, body } = state.random.of(correctable);
  const replaced = state.random.oneIn(2) ? { kind: 'void' } : { kind: kinds[path], body };
  await post(state, side, send, `/v1/records/${id}/corrections`, { ...replaced, reason: 'r' });
}

export async function identify(state: State, side: Side, send: Send): Promise<void> {
  const number = someUnit(state, side);
  const { edition: _, ...said } = frame(state, side);
  const body = {
    what: 're-plated',
    pump: { maker, serial: `P-${number}` },
    serial: `P-${number}-R`,
    ...said,
    reason: 'r',
  };
  await post(state, side, send, '/v1/identities', body);
}

const disposition = (state: State) => ({
  ...{ reference: `d-${state.next}`, performedAt: '2026-05-20T08:00:00Z', reason: 'r' },
  ...state.random.of([
    { decision: 'rework' },
    { decision: 'concession' },
    { decision: 'concession', expires: '2050-01-01T00:00:00Z', limits: [{ text: 'stand only' }] },
    { decision: 'scrap' },
  ]),
});
