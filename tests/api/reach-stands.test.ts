/**
 * How units that were reached stand, which is read of projections and of a few columns of their events: against the fold of
 * those events, whole, as a past reach is answered.
 */
import { expect, it } from 'vitest';
import { asAt } from '../../src/core/history/concession.ts';
import { effectiveEvents } from '../../src/core/history/effective-events.ts';
import { eventsAt, fold } from '../../src/core/history/fold.ts';
import { orderEvents } from '../../src/core/history/order-events.ts';
import { isForOwnerAlone } from '../../src/core/history/owner-alone.ts';
import { stillIn, stillOfParts } from '../../src/core/reach/still.ts';
import { readEvents } from '../../src/store/sql/read-events.ts';
import { withTransaction } from '../../src/store/transaction.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, organisations, testService } from '../support/service.ts';
import { conversionOf, edition, maker, registerPair } from '../support/shop.ts';
import { recordVariedHistory } from '../support/varied-history.ts';

const db = await testDatabase();
const service = await testService(db);
await recordVariedHistory(service);
await correctWhatCameAfter();

/** A look after a conversion with parts of a lot, told again otherwise: it was done once since. */
async function correctWhatCameAfter(): Promise<void> {
  const shop = await service.as({ distributor: 'brackwater' });
  await registerPair(shop, '8');
  const times = { reference: 'eight', performedAt: '2026-04-01T08:00:00Z' };
  await mustGoWell(shop('POST', '/v1/conversions', await conversionOf(shop, '8', 'load-sense', times)));
  const look = {
    ...{ control: { maker, serial: 'K-8' }, reference: 'eight-look', performedAt: '2026-04-09T08:00:00Z', edition },
    ...{ shop: 'north', technician: 't-17', found: { stations: { 'test-port': [{ element: 'port-plug' }] } } },
  };
  const { id } = (await mustGoWell(shop('POST', '/v1/inspections', look))).body;
  const body = { ...look, performedAt: '2026-04-10T08:00:00Z' };
  await mustGoWell(shop('POST', `/v1/records/${id}/corrections`, { kind: 'inspection', reason: 'a day off', body }));
}

// biome-ignore lint/suspicious/noExplicitAny: JSON as it is answered.
type Json = Record<string, any>;

const facts = await rowsOf<{ id: string; owner: string; kind: string; statement: string }>(
  db,
  'select id::text, owner::text, kind, statement from facts',
);
const units = (await rowsOf<{ unit: string }>(db, 'select unit_id::text as unit from unit_states')).map(
  ({ unit }) => unit,
);
const recorder = { role: 'recorder' as const, orgs: [], readOnly: true };
const events = Map.groupBy(
  await withTransaction(service.app.pools.reading, recorder, (tx) => readEvents(tx, units)),
  ({ unit }) => unit,
);
const lots = (
  await rowsOf<{ lot: string }>(
    db,
    `select distinct lot_maker || '/' || lot_number as lot from part_uses where lot_number is not null`,
  )
).map(({ lot }) => `lot=${lot}`);
const shops = (
  await rowsOf<{ shop: string }>(
    db,
    `select distinct statement::jsonb ->> 'shop' as shop from facts where jsonb_typeof(statement::jsonb -> 'shop') = 'string'`,
  )
).map(({ shop }) => `shop=${shop}`);

const now = '2999-01-01T00:00:00.000000Z';

/** Of an item what follows from the events of its unit and from the facts that the asker sees. */
function standingOf(item: Json, owner: string | null): Json {
  const own = events.get(item['unit']) ?? [];
  const state = asAt(fold(item['unit'], eventsAt(own, now, null)), new Date().toISOString());
  const seen = new Set(facts.filter((one) => owner === null || one.owner === owner).map(({ id }) => id));
  const ordered = orderEvents(effectiveEvents(own));
  const ids = item['records'].map((one: Json) => one['id']);
  const last = ordered.findLastIndex(({ fact }) => ids.includes(fact));
  const uses = item['records'].flatMap(({ id, uses }: Json) =>
    uses.map((use: Json) => stillIn({ ...use, fact: id } as Parameters<typeof stillIn>[0], state.stations)),
  );
  const movement = facts.find(({ id }) => state.custody?.is === 'in' && id === state.custody.record && seen.has(id));
  const holder =
    movement === undefined
      ? null
      : {
          distributor: Object.entries(organisations).find(([, { id }]) => id === movement.owner)?.[0],
          shop: JSON.parse(movement.statement).shop,
        };
  return {
    kind: state.born?.kind ?? null,
    status: state.status,
    mounted: state.mounted?.with ?? null,
    mergedInto: state.mergedInto ?? null,
    uses,
    still: uses.length === 0 ? item['still'] : stillOfParts(uses),
    holder,
    doneSince: ordered
      .slice(last + 1)
      .filter((event) => seen.has(event.fact) || !isForOwnerAlone(event, own))
      .map(({ kind, performedFrom: from, performedTo: to }) => ({ kind, performed: { from, to } })),
  };
}

function told(item: Json): Json {
  const { kind, status, mounted, mergedInto, still, holder, doneSince, records } = item;
  return {
    ...{ kind, status, mergedInto, still, doneSince },
    mounted: mounted?.unit ?? null,
    uses: records.flatMap(({ uses }: Json) => uses.map((use: Json) => use['still'])),
    holder: holder && { distributor: holder.distributor, shop: holder.shop },
  };
}

const itemsOf = async (caller: Caller, query: string): Promise<Json[]> => {
  const { status, body } = await caller('GET', `/v1/reach?${query}&first=200`);
  if (status === 404) return [];
  expect([query, status]).toEqual([query, 200]);
  return body.items;
};

it.each([
  ['brackwater', await service.as({ distributor: 'brackwater' }), organisations.brackwater.id],
  ['tollan', await service.as({ distributor: 'tollan' }), organisations.tollan.id],
  ["the maker's people", await service.as({ maker, scopes: ['warranty:read'] }), null],
])('what was reached stands as the fold of its events says, for %s', async (_, caller, owner) => {
  const seen: Json[] = [];
  for (const query of [...lots, ...shops])
    for (const item of await itemsOf(caller, query)) {
      seen.push(item);
      expect([query, item['unit'], told(item)]).toEqual([query, item['unit'], standingOf(item, owner)]);
    }
  expect(seen.length).toBeGreaterThan(2);
  expect(seen.some(({ doneSince }) => doneSince.length > 0)).toBe(true);
});

it('of the history something was moved in, corrected and judged again, or this would prove little', () => {
  const kinds = new Set([...events.values()].flat().map(({ kind }) => kind));
  expect(['movement', 'correction', 'judgement'].filter((kind) => !kinds.has(kind))).toEqual([]);
});
