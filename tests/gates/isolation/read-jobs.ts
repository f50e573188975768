/** Jobs that read, and one that asks for whatever is described. */
import { edition, maker } from '../../support/shop.ts';
import type { DescribedOperation } from '../described-operations.ts';
import { operations, planted, someUnit, timeOf } from './planted-requests.ts';
import { equalIds, otherParty, ownIds, type Side, type State, someIds } from './traffic-state.ts';
import type { Send } from './wire-caller.ts';
import { stems } from './words.ts';

export async function readUnits(state: State, side: Side, send: Send): Promise<void> {
  const { random } = state;
  const number = someUnit(state, random.of(Object.values(state.sides)) ?? side);
  const path = random.of([`/v1/controls/${maker}/K-${number}`, `/v1/pumps/${maker}/P-${number}`]);
  const rest = random.of([
    '',
    '',
    '?units=imperial',
    '/history?first=20',
    '/chain',
    '/trace',
    '/history',
    '/history?order=newest',
    '/history?performed=2026-04-15T00:00:00Z',
    '/history?known=2026-04-15T00:00:00Z',
    '/trace',
    '/trace?performed=2026-04-15T00:00:00Z',
    '/job-sheet?function=remote-pressure',
  ]);
  await send({ method: 'GET', path: `${path}${rest}` });
}

export async function readRecords(state: State, _: Side, send: Send): Promise<void> {
  const all = Object.values(state.sides).flatMap(({ records }) => records.slice(-30));
  const rest = state.random.of(['', '', '/certificate', '/certificate?withhold=private']);
  if (all.length > 0) await send({ method: 'GET', path: `/v1/records/${state.random.of(all).id}${rest}` });
}

export async function readLists(state: State, side: Side, send: Send): Promise<void> {
  const list = state.random.of([
    'shops',
    'technicians',
    'technicians',
    'instruments',
    'lots',
    'attempts',
    'authorisations',
    'approvals',
    'calibrations',
    'held',
    'held/counts',
    'due',
    'due/counts',
    'claims',
    'containments',
    'accesses',
    `stock?shop=${someIds(state.random, side.party).shop}`,
  ]);
  const first = list.endsWith('counts')
    ? ''
    : `${list.includes('?') ? '&' : '?'}first=${state.random.of([3, 20, 200])}`;
  await send({ method: 'GET', path: `/v1/${list}${first}` });
}

export async function readReach(state: State, side: Side, send: Send): Promise<void> {
  const ids = [ownIds(side.party), ownIds(otherParty(side.party))];
  const lots = [
    `${maker}/${equalIds.lot}`,
    ...ids.flatMap(({ lot, supplier }) => [`${maker}/${lot}`, `${supplier}/${lot}`]),
  ];
  await send({ method: 'GET', path: `/v1/reach?lot=${encodeURIComponent(state.random.of(lots))}&first=20` });
}

export async function readPages(state: State, side: Side, send: Send): Promise<void> {
  const all = Object.values(state.sides).flatMap(({ records }) => records.slice(-30));
  const paths = [
    `/v1/controls/${maker}/K-${someUnit(state, side)}/job-sheet?function=load-sense`,
    ...(all.length === 0 ? [] : [`/v1/records/${state.random.of(all).id}`]),
  ];
  await send({ method: 'GET', path: state.random.of(paths), accept: 'text/html' });
}

const everything = `query Everything($maker: String!, $serial: String!, $pump: String!, $lot: String!) {
  control(maker: $maker, serial: $serial) { id name status findings { rule record { id reference shop } } custody { shop record { id } }
    history { entries(first: 10) { edges { node { kind record { reference shop workOrder } } } } } }
  pump(maker: $maker, serial: $pump) { control { name fit { station record { shop reference } } } mountings(first: 5) { edges { node { unit { name } } } } }
  records(first: 20, order: newest) { edges { node { id reference shop note technician { id unknown } checks { reason } lots: fitted { lot { number } } } } }
  lot(maker: $maker, number: $lot) { number uses(first: 5) { edges { node { record { shop reference } } } } }
}`;

export async function askGraphql(state: State, side: Side, send: Send): Promise<void> {
  const { random } = state;
  const [control, pump] = [`K-${someUnit(state, side)}`, `P-${someUnit(state, side)}`];
  const number = random.of([equalIds.lot, ownIds(side.party).lot, ownIds(otherParty(side.party)).lot]);
  const bodies: readonly object[] = [
    { query: everything, variables: { maker, serial: control, pump, lot: number } },
    { report: 'control-then', variables: { maker, serial: control, known: null } },
    { report: 'control-then', variables: { maker, serial: control, performed: '2026-04-15T00:00:00Z' } },
    { report: 'held-by-shop', variables: { first: 10 } },
    { report: 'due-by-shop', variables: { first: 10, shop: equalIds.shop } },
    { report: 'reach-of-lot', variables: { maker, number, first: 10 } },
    { report: 'claimed-lots', variables: { maker, first: 10 } },
    { report: 'contained-units', variables: { first: 10 } },
    { report: 'exposure-of-lot', variables: { maker, number, first: 10 } },
    { report: 'records-performed', variables: { filter: { performedFrom: '2026-04-10T00:00:00Z' }, first: 10 } },
  ];
  await send({ method: 'POST', path: '/graphql', body: random.of(bodies) });
}

/** Of a few hours, so that an export doesn't grow with the traffic. */
export async function exportAll(state: State, _: Side, send: Send): Promise<void> {
  const at = state.random.below(24 * 28);
  const query = `format=${state.random.of(['csv', 'ndjson'])}&performedFrom=${timeOf(at)}&performedTo=${timeOf(at + 2)}`;
  await send({ method: 'GET', path: `/v1/export/records?${query}` });
}

/** Whatever is described, by turns, with its example where it takes a body: so that nothing is left out that comes later. */
export async function anyOperation(state: State, side: Side, send: Send): Promise<void> {
  const operation = operations[state.turn++ % operations.length] as DescribedOperation;
  const { body, method, path } = operation;
  const ids = someIds(state.random, side.party);
  const text = (value: unknown) =>
    JSON.stringify(value)
      .replaceAll('brackwater-north', ids.shop)
      .replaceAll('"t-17"', JSON.stringify(ids.technician))
      // What the maker's people say of a shop is read by the distributor whose words are planted in it.
      .replaceAll('"brackwater"', JSON.stringify(side.party))
      .replaceAll('P-7741', `P-${someUnit(state, side)}`)
      .replaceAll('K-20931', `K-${someUnit(state, side)}`);
  const sample =
    body?.example === undefined ? undefined : planted(side.party, `${method} ${path}`, JSON.parse(text(body.example)));
  const filled = pathOf(operation, state, side);
  const [type] = body?.mediaTypes ?? [];
  await send({
    ...{ method, path: filled },
    ...(sample !== undefined && type !== undefined && { body: sample, type }),
    ...(method === 'POST' && { key: `any-${state.next++}` }),
  });
}

function pathOf({ method, path, parameters }: DescribedOperation, state: State, side: Side): string {
  const record = state.sides[state.random.of(['brackwater', 'tollan'] as const)].records.at(-1)?.id ?? 'none';
  const ids = someIds(state.random, side.party);
  const values: Record<string, string> = {
    ...{
      maker,
      edition: method === 'PUT' ? 'sample' : edition,
      serial: `${path.includes('pumps') ? 'P' : 'K'}-${someUnit(state, side)}`,
      number: ids.lot,
    },
    ...{
      digest: side.attachments.at(-1) ?? 'none',
      code: 'forbidden',
      entry: state.sides[side.party].records.find((one) => one.entry !== undefined)?.entry ?? 'none',
      from: '1',
      lot: `${maker}/${ids.lot}`,
      function: 'load-sense',
    },
    cause: record,
    id: path.includes('records')
      ? record
      : path.includes('claims')
        ? (side.claims.at(-1) ?? 'none')
        : path.includes('containments') && method === 'GET'
          ? (side.containments.at(-1) ?? 'none')
          : path.includes('terms')
            ? `${stems.anybody.open}-terms`
            : path.includes('shops')
              ? ids.shop
              : path.includes('technicians')
                ? ids.technician
                : ids.wrench,
    pump: `${maker}/P-${someUnit(state, side)}`,
  };
  const filled = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(values[name] ?? 'none'));
  const query = parameters
    .filter((one) => one.in === 'query' && one.required === true)
    .map(({ name }) => `${name}=${encodeURIComponent(values[name] ?? 'none')}`);
  return query.length === 0 ? filled : `${filled}?${query.join('&')}`;
}
