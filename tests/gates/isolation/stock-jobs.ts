/** Jobs that state stock, take goods and files in, repeat requests and send lines. */
import { controlBody, maker } from '../../support/shop.ts';
import { control, frame, planted, post } from './planted-requests.ts';
import { equalIds, hiddenIds, otherParty, ownIds, type Side, type State, someIds } from './traffic-state.ts';
import type { Send } from './wire-caller.ts';
import { stems, word } from './words.ts';

/** All that is each one's own, before the traffic begins. */
export async function stockUpWords(side: Side, send: Send): Promise<void> {
  for (const ids of [ownIds(side.party), hiddenIds(side.party)]) await stockUp(ids, side, send);
}

export async function stateStock(state: State, side: Side, send: Send): Promise<void> {
  const { random } = state;
  const put = async (path: string, operation: string, body: object) =>
    await send({ method: 'PUT', path, body: planted(side.party, `PUT ${operation}`, body) });
  const { shop, technician, wrench, gauge, lot } = someIds(random, side.party);
  switch (random.below(5)) {
    case 0:
      return void (await put(`/v1/shops/${shop}`, '/v1/shops/{id}', { name: 'n' }));
    case 1:
      return void (await put(`/v1/technicians/${technician}`, '/v1/technicians/{id}', {}));
    case 2:
      return void (await put(`/v1/instruments/${wrench}`, '/v1/instruments/{id}', {
        kind: 'torque-wrench',
        how: 'set',
        shop,
      }));
    case 3:
      return void (await put(`/v1/instruments/${gauge}`, '/v1/instruments/{id}', { kind: 'gauge' }));
    default: {
      const supplier = random.of([maker, ownIds(side.party).supplier, hiddenIds(side.party).supplier]);
      await put(`/v1/lots/${supplier}/${lot}`, '/v1/lots/{maker}/{number}', {
        part: random.of(['bought-loose', 'kit-remote']),
      });
    }
  }
}

export async function takeIn(state: State, side: Side, send: Send): Promise<void> {
  const { shop, lot } = someIds(state.random, side.party);
  const body = { reference: 'i', performedAt: '2026-05-01T08:00:00Z', shop, quantity: 3 };
  const list = state.random.of(['intakes', 'scrappings', 'returns', 'counts']);
  await post(state, side, send, `/v1/lots/${maker}/${lot}/${list}`, {
    ...body,
    ...(list !== 'counts' && list !== 'intakes' && { reason: 'r' }),
  });
  for (const path of ['', '/intakes?first=5', '/moves?first=5']) {
    await send({ method: 'GET', path: `/v1/lots/${maker}/${lot}${path}` });
  }
  await send({ method: 'GET', path: `/v1/stock?shop=${shop}&first=5` });
}

/** Given, read, and now and then withdrawn. */
export async function authorise(state: State, side: Side, send: Send): Promise<void> {
  const { technician } = someIds(state.random, side.party);
  state.next += 1;
  const valid = { from: '2026-01-01T00:00:00Z', until: '2027-01-01T00:00:00Z' };
  const body = { reference: `a-${state.next}`, tasks: ['assemble'], ...valid };
  const given = await post(state, side, send, `/v1/technicians/${technician}/authorisations`, body);
  await send({ method: 'GET', path: `/v1/technicians/${technician}` });
  if (given?.status !== 201 || !state.random.oneIn(3)) return;
  const end = { reference: `e-${state.next}`, from: '2026-06-01T00:00:00Z' };
  await post(state, side, send, `/v1/authorisations/${given.json.id}/withdrawals`, end);
}

/** Somebody who leaves, and is forgotten. */
export async function forget(state: State, side: Side, send: Send): Promise<void> {
  const path = `/v1/technicians/${stems[side.party].kept}-left-${state.next++}`;
  await send({ method: 'PUT', path, body: planted(side.party, 'PUT /v1/technicians/{id}', {}) });
  const got = await send({ method: 'GET', path });
  if (got?.status !== 200) return;
  const erase = state.random.of(['name', 'everything']);
  await post(state, side, send, `/v1/technicians/${got.json.technician}/erasures`, { erase });
}

/** Calibrated, checked, dropped, and now and then by mistake: what it touched is judged again, and that is read. */
export async function examine(state: State, side: Side, send: Send): Promise<void> {
  const { wrench: instrument } = someIds(state.random, side.party);
  state.next += 1;
  const frame = { reference: `x-${state.next}`, performedAt: '2026-03-01T08:00:00Z', note: word(side.party, 'note') };
  const point = { at: { value: '60', unit: 'N.m' }, asFound: { value: state.random.of(['0', '-7']), unit: '%' } };
  const uncertainty = { value: '1', unit: '%' };
  const [what, body] = state.random.of<readonly [string, object]>([
    ['calibrations', { document: 'certificate', points: [{ ...point, uncertainty }] }],
    ['checks', { points: [point] }],
    ['incidents', { what: 'dropped' }],
  ]);
  const path = `/v1/instruments/${instrument}`;
  const said = await post(state, side, send, `${path}/${what}`, { ...frame, ...body });
  if (said?.status === 201) {
    const wrong = { record: said.json.id, reason: 'r' };
    const taken = state.random.oneIn(2) ? await post(state, side, send, `${path}/voids`, wrong) : null;
    for (const cause of [said, ...(taken?.status === 201 ? [taken] : [])])
      await send({ method: 'GET', path: `/v1/judgements?cause=${cause.json.id}&first=5` });
  }
  await send({ method: 'GET', path: `/v1/instruments/${instrument}` });
}

/** Some are for claims, which tell them to the maker; the others stay the distributor's. */
export async function keepFile(state: State, side: Side, send: Send): Promise<void> {
  const isTold = state.random.oneIn(2);
  const body = Buffer.from(`%PDF-1.4\n${word(side.party, 'note', isTold)}\n%%EOF\n`);
  const got = await send({ method: 'POST', path: '/v1/attachments', body, type: 'application/pdf' });
  const digest = got?.json?.attachment;
  if (typeof digest === 'string') (isTold ? side.toldFiles : side.attachments).push(digest);
  const seen = [...side.attachments.slice(-3), ...state.sides[otherParty(side.party)].attachments.slice(-3)];
  if (seen.length > 0) await send({ method: 'GET', path: `/v1/attachments/${state.random.of(seen)}` });
}

/** One's own request again, or the other's key for one's own. */
export async function repeat(state: State, side: Side, send: Send): Promise<void> {
  const other = state.sides[otherParty(side.party)];
  const own = side.keyed.slice(-30);
  if (own.length === 0 || other.keyed.length === 0) return;
  const { path, key, body } = state.random.of(own);
  await send({ method: 'POST', path, key, body });
  // An erasure has no reference that is used by then: it would go well, and keep a key that the other made up.
  if (path.endsWith('/erasures')) return;
  await send({ method: 'POST', path, key: state.random.of(other.keyed.slice(-30)).key, body });
}

export async function sendLines(state: State, side: Side, send: Send): Promise<void> {
  const { shop, technician } = someIds(state.random, side.party);
  const number = `${side.party}-b${state.next++}`;
  const theirs = ownIds(otherParty(side.party));
  const inspection = { ...frame(state, side), found: { plate: 'p' } };
  const planting = (operation: string, body: object) => planted(side.party, operation, body);
  const lines = [
    { kind: 'shop', id: shop, body: planting('PUT /v1/shops/{id}', { name: 'n' }) },
    { kind: 'technician', id: technician, body: planting('PUT /v1/technicians/{id}', {}) },
    {
      kind: 'control-registration',
      control: { maker, serial: `K-${number}` },
      body: planting('PUT /v1/controls/{maker}/{serial}', controlBody('load-sense')),
    },
    { kind: 'inspection', body: planting('POST /v1/inspections', { ...control(number), ...inspection }) },
    {
      kind: 'inspection',
      body: planting('POST /v1/inspections', { ...control(number), ...inspection, shop: theirs.shop }),
    },
    { kind: 'nothing', body: { note: word(side.party, 'note') } },
  ].map((line, nth) => JSON.stringify({ key: `line-${state.next}-${nth}`, ...line }));
  await send({ method: 'POST', path: '/v1/bulk', body: `${lines.join('\n')}\n`, type: 'application/x-ndjson' });
}

async function stockUp(
  { shop, technician, wrench, gauge, lot, supplier }: ReturnType<typeof ownIds>,
  side: Side,
  send: Send,
): Promise<void> {
  const stated: readonly (readonly [string, string, object])[] = [
    [`/v1/shops/${shop}`, '/v1/shops/{id}', { name: 'n' }],
    [`/v1/technicians/${technician}`, '/v1/technicians/{id}', {}],
    [`/v1/technicians/${equalIds.technician}`, '/v1/technicians/{id}', {}],
    [`/v1/instruments/${wrench}`, '/v1/instruments/{id}', { kind: 'torque-wrench', how: 'set', shop }],
    [`/v1/instruments/${gauge}`, '/v1/instruments/{id}', { kind: 'gauge' }],
    [`/v1/lots/${maker}/${lot}`, '/v1/lots/{maker}/{number}', { part: 'bought-loose' }],
    [`/v1/lots/${supplier}/${lot}`, '/v1/lots/{maker}/{number}', { part: 'bought-loose' }],
  ];
  for (const [path, operation, body] of stated) {
    const got = await send({ method: 'PUT', path, body: planted(side.party, `PUT ${operation}`, body) });
    if (got === null || got.status >= 300) throw new Error(`${path}: ${got?.text}`);
  }
}
