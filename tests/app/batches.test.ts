/** Many requests of two distributors in one transaction: neighbours that must not notice each other. */
import { describe, expect, it } from 'vitest';
import { recordFact } from '../../src/app/record-fact.ts';
import { recordAll } from '../../src/app/recording/record-all.ts';
import type { Outcome, Request } from '../../src/app/recording/request.ts';
import { conversionBody, inspectionBody } from '../../src/core/records/bodies.ts';
import { intakeBody } from '../../src/core/records/lot-bodies.ts';
import { technicianBody } from '../../src/core/records/stock-bodies.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { askerOf, organisations, requestOf, testService } from '../support/service.ts';
import { conversionOf, inspectionOf, intakeOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { app } = service;
const shops = await openShops(service);
const recording = { ...app, pool: app.pools.recording };
const both = ['brackwater', 'tollan'] as const;
type Distributor = (typeof both)[number];
const performedAt = '2026-04-01T08:00:00Z';

const inspection = (distributor: Distributor, sent: object, more: { key?: string } = {}) =>
  requestOf(app, { distributor }, { kind: 'inspection', body: inspectionBody.parse(sent), sent }, more);
const conversion = (distributor: Distributor, sent: object, more: { key?: string } = {}) =>
  requestOf(app, { distributor }, { kind: 'conversion', body: conversionBody.parse(sent), sent }, more);
const intake = (distributor: Distributor, sent: object) =>
  requestOf(
    app,
    { distributor },
    { kind: 'intake', maker: 'ardenholm', number: 'L-1', body: intakeBody.parse(sent), sent },
  );

/** Fifty records at fifty controls, of both distributors by turns; both use the same references and keys. */
async function fiftyRecords(series: string): Promise<Request[]> {
  const requests: Request[] = [];
  for (let nth = 0; nth < 50; nth++) {
    const distributor = both[nth % 2] ?? 'brackwater';
    await registerPair(shops[distributor], `${series}-${nth}`);
    const reference = `${series}-${Math.floor(nth / 2)}`;
    requests.push(
      inspection(distributor, inspectionOf(`${series}-${nth}`, { reference, performedAt }), { key: reference }),
    );
  }
  return requests;
}

const answerOf = (outcome: Outcome | undefined) => {
  if (outcome?.kind !== 'kept') throw new Error(JSON.stringify(outcome));
  return JSON.parse(outcome.answer);
};
const transactionsOf = async (requests: readonly Request[]) =>
  await rowsOf(db, 'select distinct xmin::text from facts where id = any ($1)', [requests.map((one) => one.fact)]);

describe('fifty records of two distributors in one batch', () => {
  it('are kept in one transaction, each under its own organisation', async () => {
    const requests = await fiftyRecords('good');
    const outcomes = await recordAll(recording, requests);
    expect(outcomes.map((one) => one.kind)).toEqual(Array(50).fill('kept'));
    expect(await transactionsOf(requests)).toHaveLength(1);
    for (const distributor of both) {
      const own = requests.filter((one) => one.owner === organisations[distributor].id).map((one) => one.fact);
      const kept = await rowsOf(db, 'select from facts where id = any ($1) and owner = $2', [
        own,
        organisations[distributor].id,
      ]);
      expect(kept).toHaveLength(25);
    }
  });

  // A name with a NUL can't come by HTTP, where bodies are read strictly, but the database refuses it whoever brings it.
  it.each([
    ['while it is looked up', 'load', (name: string) => intake('tollan', intakeOf(name))],
    [
      'while it is written',
      'commit',
      (name: string) =>
        requestOf(
          app,
          { distributor: 'tollan' },
          {
            kind: 'technician',
            id: 'poison',
            body: technicianBody.parse({ name }),
            sent: { name },
          },
        ),
    ],
    [
      'before it gets to the database',
      'decide',
      () =>
        inspection('tollan', { ...inspectionOf('good-1', { reference: 'half', performedAt }), workOrder: '\ud83d' }),
    ],
  ])('with one that breaks the transaction %s, lose that one alone', async (_, series, poisonNamed) => {
    const requests = await fiftyRecords(series);
    const poison = poisonNamed('a\u0000b');
    requests.splice(24, 1, poison);
    const outcomes = await recordAll(recording, requests);
    expect(outcomes.map((one) => one.kind)).toEqual([...Array(24).fill('kept'), 'failed', ...Array(25).fill('kept')]);
    const facts = await rowsOf(db, 'select id from facts where id = any ($1)', [requests.map((one) => one.fact)]);
    expect(facts).toHaveLength(49);
    expect(facts).not.toContainEqual({ id: poison.fact });
    for (const table of ['outbox', 'staged_leaves', 'unit_events', 'idempotency_keys', 'fact_privates']) {
      expect(await rowsOf(db, `select from ${table} where fact = $1`, [poison.fact])).toEqual([]);
    }
  });
});

describe('one control twice in a batch', () => {
  it('is judged the second time as the first left it, whoever comes first', async () => {
    await registerPair(shops.brackwater, 'twice');
    const there = await conversionOf(shops.brackwater, 'twice', 'load-sense', { reference: 'there', performedAt });
    const { removed, fitted, found, to } = there;
    const back = {
      ...there,
      reference: 'back',
      found: to,
      to: found,
      removed: fitted.map(({ lot: _, ...one }: { lot: string }) => one),
      fitted: removed,
    };
    const wrongWayRound = await recordAll(recording, [conversion('tollan', back), conversion('brackwater', back)]);
    expect(wrongWayRound.map((one) => one.kind)).toEqual(['refused', 'refused']);
    const [first, second, third] = await recordAll(recording, [
      conversion('brackwater', there),
      conversion('tollan', back),
      conversion('brackwater', back),
    ]);
    expect([answerOf(first).function, answerOf(second).function]).toEqual(['load-sense', 'load-sense-bled']);
    expect(answerOf(second).receipt.subjects[0]).toMatchObject({ seq: 3, prev: answerOf(first).receipt.entry });
    expect(answerOf(second).receipt.recordedAt > answerOf(first).receipt.recordedAt).toBe(true);
    expect(third).toMatchObject({ kind: 'refused', refusal: { extra: { recorded: { function: 'load-sense-bled' } } } });
  });
});

describe('equal names of two distributors in one batch', () => {
  it('stay apart: each record has its own technician, instrument and lot', async () => {
    const requests: Request[] = [];
    for (const distributor of both) {
      await registerPair(shops[distributor], `equal-${distributor}`);
      const frame = { reference: 'equal', performedAt };
      const sent = await conversionOf(shops[distributor], `equal-${distributor}`, 'load-sense', frame);
      requests.push(conversion(distributor, sent, { key: 'equal' }));
    }
    const outcomes = await recordAll(recording, requests);
    expect(outcomes.map((one) => one.kind === 'kept' && !one.replayed)).toEqual([true, true]);
    for (const { fact, owner } of requests) {
      const [kept] = await rowsOf<{ statement: string; judgement: string }>(
        db,
        'select statement, judgement from facts where id = $1 and owner = $2',
        [fact, owner],
      );
      const [own] = await rowsOf<{ person: string; instruments: string[] }>(
        db,
        `select (select id from people where owner = $1 and own_id = 't-17') as person,
          (select array_agg(fact order by fact) from stock_items
            where owner = $1 and kind = 'instrument' and key in ('tw-3', 'pg-1')) as instruments`,
        [owner],
      );
      expect(JSON.parse(kept?.statement ?? '').technician).toBe(own?.person);
      const named = JSON.parse(kept?.judgement ?? '').verdicts.map((one: { instrument: string }) => one.instrument);
      expect([...new Set(named)].sort()).toEqual(own?.instruments);
      expect(await rowsOf(db, 'select from part_uses where fact = $1 and owner = $2', [fact, owner])).not.toEqual([]);
    }
    const reach = await mustGoWell(shops.tollan('GET', '/v1/reach?lot=ardenholm/L-1&first=200'));
    expect(new Set(reach.body.items.map((one: { name: string }) => one.name))).toContain('K-equal-tollan');
    expect(reach.text).not.toContain('K-equal-brackwater');
  });
});

describe('two of a batch that claim the same', () => {
  it('one key with another body: the second is told so; one reference: the second is refused and kept as an attempt', async () => {
    await registerPair(shops.brackwater, 'claims');
    const of = (reference: string) => inspectionOf('claims', { reference, performedAt });
    const [first, replayed, reused, referenceUsed] = await recordAll(recording, [
      inspection('brackwater', of('claims-1'), { key: 'claims' }),
      inspection('brackwater', of('claims-1'), { key: 'claims' }),
      inspection('brackwater', of('claims-2'), { key: 'claims' }),
      inspection('brackwater', of('claims-1')),
    ]);
    // What the first touched may have been left undone: a replay looks.
    expect(replayed).toEqual({ ...first, replayed: true, judgesAgain: expect.any(String) });
    expect(reused).toMatchObject({ kind: 'refused', refusal: { code: 'key-reused' } });
    expect(referenceUsed).toMatchObject({ kind: 'refused', refusal: { code: 'refused-by-rules' } });
    expect(await rowsOf(db, `select from attempts where body like '%"claims-1"%'`)).toHaveLength(1);
    expect(await rowsOf(db, `select from record_references where reference like 'claims-%'`)).toHaveLength(1);
  });
});

describe('a batch of one', () => {
  it('is answered as a lone request is', async () => {
    const answers = [];
    for (const number of ['lone', 'direct']) {
      await registerPair(shops.brackwater, number);
      const frame = { reference: number, performedAt };
      const sent = await conversionOf(shops.brackwater, number, 'remote-pressure', frame);
      const request = conversion('brackwater', sent);
      if (number === 'lone') answers.push(answerOf((await recordAll(recording, [request]))[0]));
      else {
        const asked = { ...request, asker: askerOf({ distributor: 'brackwater' }) };
        answers.push(JSON.parse((await recordFact(app, asked)).body));
      }
    }
    const without = ({ id: _, control: __, pump: ___, receipt: ____, ...judged }: Record<string, unknown>) => judged;
    expect(without(answers[0])).toEqual(without(answers[1]));
    expect(Object.keys(answers[0])).toEqual(Object.keys(answers[1]));
  });
});

describe('requests that come one by one at the same moment', () => {
  it('are kept in few transactions, each with its own answer', async () => {
    const requests = await fiftyRecords('moment');
    const answers = await Promise.all(
      requests.map((request, nth) =>
        recordFact(app, { ...request, asker: askerOf({ distributor: both[nth % 2] ?? 'brackwater' }) }),
      ),
    );
    const receipts = answers.map(({ body }) => JSON.parse(body));
    expect(receipts.map((one) => one.control.name)).toEqual(requests.map((_, nth) => `K-moment-${nth}`));
    const facts = receipts.map((one) => one.id);
    const transactions = await rowsOf(db, 'select distinct xmin::text from facts where id = any ($1)', [facts]);
    expect(transactions.length).toBeGreaterThan(1);
    expect(transactions.length).toBeLessThan(10);
  });
});
