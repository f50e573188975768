/** What was known when: the same question about the past gets the same answer, whatever was on its way. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import type { Caller } from '../support/over-http.ts';
import { addOrganisations, type RunningService, startService } from '../support/running-service.ts';
import { byTheBook, mustGoWell, publish, pumpWith, shopScopes, stockUp } from '../support/scene.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
let service: RunningService;
let shop: Caller;

beforeAll(async () => {
  await addOrganisations(db, { ardenholm: 'maker', brackwater: 'distributor' });
  service = await startService(db);
  await publish(await service.caller({ maker: 'ardenholm' }, ['catalogue:publish']));
  shop = await service.caller({ distributor: 'brackwater' }, shopScopes);
  await stockUp(shop);
  await mustGoWell(shop('PUT', '/v1/pumps/ardenholm/P-1', pumpWith({ serial: 'K-1', function: 'load-sense' })));
});
afterAll(async () => {
  await service.stop();
});

const history = async (query = '') =>
  (await mustGoWell(shop('GET', `/v1/controls/ardenholm/K-1/history${query}`))).body;

describe('known', () => {
  it('asked while a recording is on its way is answered at the settled horizon, and the same afterwards', async () => {
    const { body: sheet } = await mustGoWell(
      shop('GET', '/v1/controls/ardenholm/K-1/job-sheet?function=load-sense-bled'),
    );
    const record = {
      control: { maker: 'ardenholm', serial: 'K-1' },
      reference: 'held-open',
      performedAt: '2026-04-01T08:00:00Z',
      to: { function: 'load-sense-bled' },
      ...byTheBook(sheet),
    };
    const { during, recorded } = await withSuperuser(db.superuserUrl, async (client) => {
      // Somebody else's claim on the same reference: the recording has its time and waits for this row.
      await client.query('begin');
      await client.query(
        `insert into record_references (owner, kind, reference, fact)
         select id, 'conversion', 'held-open', id from organisations where slug = 'brackwater'`,
      );
      const posted = shop('POST', '/v1/conversions', record);
      for (let waiting = 0; waiting === 0; ) {
        const { rows } = await client.query<{ n: number }>('select count(*)::int as n from pg_locks where not granted');
        waiting = rows[0]?.n ?? 0;
      }
      const answered = await history(`?known=${new Date().toISOString()}`);
      await client.query('rollback');
      return { during: answered, recorded: await posted };
    });
    expect(recorded.status).toBe(201);
    expect(during).toMatchObject({ settled: true, known: during.horizon });
    const { horizon: _, ...first } = during;
    const { horizon: __, ...again } = await history(`?known=${during.known}`);
    expect(again).toEqual(first);
  });

  it('left out gives the latest state, marked as not settled', async () => {
    const now = await history();
    expect(now).toMatchObject({ settled: false, known: null, state: { function: 'load-sense-bled' } });
  });

  it('a record that comes late is placed where its work was done; what was known before stays as it was', async () => {
    const known = (await history()).items.at(-1).recordedAt;
    await mustGoWell(
      shop('POST', '/v1/inspections', {
        control: { maker: 'ardenholm', serial: 'K-1' },
        reference: 'late',
        performedAt: '2026-03-20T08:00:00Z',
        edition: '2026-1',
        shop: 'north',
        technician: 't-17',
        found: { stations: { 'test-port': [{ element: 'port-plug' }] } },
      }),
    );
    const all = await history();
    expect(all.items.map((one: { kind: string }) => one.kind)).toEqual(['registration', 'inspection', 'conversion']);
    const between = await history('?performed=2026-03-25T00:00:00Z');
    expect(between.state).toMatchObject({
      function: 'load-sense',
      fit: { 'test-port': { elements: [{ element: 'port-plug' }] } },
    });
    expect(all.state).toMatchObject({ function: 'load-sense-bled', status: 'held' });
    const before = await history('?performed=2026-03-10T00:00:00Z');
    expect(before.state.changedUnrecorded).toMatchObject([{ station: 'test-port' }]);
    expect(known < all.items[1].recordedAt).toBe(true);
  });
});
