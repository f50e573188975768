/** Many late records on one unit at once: what follows them is judged again for all that wait together, not for each. */
import { randomUUID } from 'node:crypto';
import { expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { inspectionOf, openShops, registerControl } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);

/** Sees a plug or an orifice in the bleed seat of K-number, on the nth day of May. */
async function look(number: string, day: number, element: string) {
  const fun = element === 'plug-m5' ? 'load-sense' : 'load-sense-bled';
  const performedAt = new Date(Date.UTC(2026, 3, day, 8)).toISOString();
  const found = { stations: { 'bleed-seat': [{ element }] }, function: fun };
  const body = { ...inspectionOf(number, { reference: `${number}-${day}`, performedAt }), found };
  const key = randomUUID();
  for (let tried = 0; ; tried++) {
    const answer = await brackwater('POST', '/v1/inspections', body, key);
    // So many at once wait for one unit longer than the service lets them: they come again.
    if (answer.status === 503 && tried < 50) continue;
    return (await mustGoWell(Promise.resolve(answer))).body as { id: string; status: string };
  }
}

const elementOf = (day: number) => (day % 2 === 0 ? 'plug-m5' : 'orifice-0.6');

/** Ids made meanwhile, each by a record or by a record that is judged again. */
async function idsMade(work: () => Promise<unknown>): Promise<number> {
  const effects = service.app.effects as { newId: () => string };
  const make = effects.newId;
  let made = 0;
  effects.newId = () => {
    made += 1;
    return make();
  };
  await work();
  effects.newId = make;
  return made;
}

const many = 30;
const later = 3;
/** Of all that is done in May, in no order. */
const days = Array.from({ length: many }, (_, nth) => ((nth * 7) % many) + 1);

/** How each look is judged by now, by its day. */
async function judgedNow(number: string): Promise<Map<string, string>> {
  const rows = await rowsOf<{ day: string; status: string }>(
    db,
    `select split_part(reference, '-', 2) as day, coalesce(last.judgement, record.judgement)::jsonb ->> 'status' as status
     from record_references join facts as record on record.id = fact
     left join lateral (
       select judgement from facts as again where again.concerns = fact and again.kind = 'judgement'
       order by again.recorded_at desc limit 1) as last on true
     where reference like $1 order by 1`,
    [`${number}-%`],
  );
  return new Map(rows.map(({ day, status }) => [day, status]));
}

async function withLater(number: string): Promise<void> {
  await registerControl(brackwater, number, 'load-sense-bled');
  for (let nth = 1; nth <= later; nth++) await look(number, 100 + nth, 'orifice-0.6');
}

it('is judged once for many, and ends as if they had come one by one', async () => {
  await withLater('one');
  for (const day of days) await look('one', day, elementOf(day));
  await withLater('all');
  const made = await idsMade(() => Promise.all(days.map((day) => look('all', day, elementOf(day)))));
  // One for each record, and for each that comes again. Without waiting together there were 500 more.
  expect(made).toBeGreaterThan(many);
  expect(made).toBeLessThan(7 * (many + later));
  expect(await judgedNow('all')).toEqual(await judgedNow('one'));
  expect(new Set((await judgedNow('all')).values())).toEqual(new Set(['held', 'released']));
});

it('says of each judgement a cause that was done before the record and known before the judgement', async () => {
  const rows = await rowsOf<{ done: boolean; known: boolean }>(
    db,
    `select cause.performed_to < record.performed_to as done, cause.recorded_at < again.recorded_at as known
     from facts as again
     join facts as record on record.id = again.concerns
     join facts as cause on cause.id = (again.statement::jsonb ->> 'cause')::uuid
     where again.kind = 'judgement'`,
  );
  expect(rows.length).toBeGreaterThan(0);
  expect(rows.filter((row) => !row.done || !row.known)).toEqual([]);
  expect(await rowsOf(db, 'select cause from pending_judgements')).toEqual([]);
});
