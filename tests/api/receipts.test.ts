/** Receipts prove what was recorded to whoever has them, and the chain of each unit shows that none is missing. */
import { describe, expect, it } from 'vitest';
import { receiptFaults } from '../support/check-receipt.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { edition, mustGoWell, pumpWith } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, inspectionOf, intakeOf, openShops, registerPair } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const key: string = (await service.server.inject('/log/key')).json().publicKey;
const recordOf = async (id: string) => (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body;
const minute = (nth: number) => new Date(Date.UTC(2026, 3, 1, 0, nth)).toISOString();

type Subject = { unit: string; seq: number; prev: string | null };
type Receipt = { entry: string; subjects: Subject[]; recordedAt: string };

describe('a receipt', () => {
  const postings: readonly [string, () => ReturnType<typeof brackwater>][] = [
    ['a shop', () => brackwater('PUT', '/v1/shops/receipts', { name: 'yard' })],
    ['a technician', () => brackwater('PUT', '/v1/technicians/receipts', { name: 'A. Example' })],
    [
      'an intake with a note',
      () => brackwater('POST', '/v1/lots/ardenholm/L-1/intakes', { ...intakeOf('r-1'), note: 'ä\u2028' }),
    ],
    [
      'a pump with a control on it',
      () => brackwater('PUT', '/v1/pumps/ardenholm/P-r', pumpWith({ serial: 'K-r', function: 'load-sense' })),
    ],
    [
      'an inspection',
      () => brackwater('POST', '/v1/inspections', inspectionOf('r', { reference: 'r-1', performedAt: minute(0) })),
    ],
    [
      'a conversion on a pump',
      async () =>
        brackwater(
          'POST',
          '/v1/conversions',
          await conversionOf(brackwater, 'r', 'remote-pressure', { reference: 'r-2', performedAt: minute(1) }),
        ),
    ],
  ];
  it.each(postings)('of %s is checked with the public key and the record as read back', async (_, posted) => {
    const { body } = await mustGoWell(posted());
    const record = await recordOf(body.id);
    expect(receiptFaults(record, body.receipt, key)).toEqual([]);
  });

  it('of an edition is checked by its maker', async () => {
    const maker = await service.as({ maker: 'other-maker' });
    const path = '/v1/catalogue/other-maker/editions/2026-1';
    const { body } = await mustGoWell(maker('PUT', path, { ...(edition as object), maker: 'other-maker' }));
    const record = await mustGoWell(maker('GET', `/v1/records/${body.id}`));
    expect(receiptFaults(record.body, body.receipt, key)).toEqual([]);
  });

  it('checks no more once anything of the record, the receipt or the key is another', async () => {
    await registerPair(brackwater, 'changed');
    const posted = inspectionOf('changed', { reference: 'changed', performedAt: minute(0) });
    const { id, receipt } = (await mustGoWell(brackwater('POST', '/v1/inspections', posted))).body;
    const record = await recordOf(id);
    const { statement, private: kept, origin, judgement } = record;
    const [subject] = receipt.subjects;
    const otherKey = Buffer.alloc(32, 1).toString('base64');
    expect([
      receiptFaults({ ...record, statement: { ...statement, reference: 'changed.' } }, receipt, key),
      receiptFaults({ ...record, private: { ...kept, note: `${kept.note} ` } }, receipt, key),
      receiptFaults({ ...record, origin: { ...origin, owner: id } }, receipt, key),
      receiptFaults({ ...record, judgement: { ...judgement, status: 'held' } }, receipt, key),
      receiptFaults({ ...record, kind: 'conversion' }, receipt, key),
      receiptFaults({ ...record, edition: '2026-2' }, receipt, key),
      receiptFaults(record, { ...receipt, subjects: [{ ...subject, seq: subject.seq + 1 }] }, key),
      receiptFaults(record, { ...receipt, key: 'another' }, key),
      receiptFaults(record, receipt, otherKey),
    ]).toEqual([
      ['statement'],
      ['private'],
      ['origin'],
      ['judgement'],
      ['entry'],
      ['entry'],
      ['signature', 'entry'],
      ['signature'],
      ['signature'],
    ]);
  });
});

/** Forty records by two distributors on two pairs, many at a time; the receipts of all. */
async function busyDay(): Promise<Receipt[]> {
  const registered = [];
  for (const number of ['day-1', 'day-2']) {
    const pair = pumpWith({ serial: `K-${number}`, function: 'load-sense-bled' });
    registered.push(await mustGoWell(brackwater('PUT', `/v1/pumps/ardenholm/P-${number}`, pair)));
  }
  const inspected = await Promise.all(
    Array.from({ length: 36 }, async (_, nth) => {
      const frame = { reference: `day-${nth}`, performedAt: minute(nth) };
      const shop = nth % 3 === 0 ? tollan : brackwater;
      return await mustGoWell(shop('POST', '/v1/inspections', inspectionOf(`day-${1 + (nth % 2)}`, frame)));
    }),
  );
  const converted = [];
  for (const [nth, number] of ['day-1', 'day-2'].entries()) {
    const frame = { reference: `day-c-${nth}`, performedAt: minute(100) };
    const record = await conversionOf(brackwater, number, 'remote-pressure', frame);
    converted.push(await mustGoWell(brackwater('POST', '/v1/conversions', record)));
  }
  return [...registered, ...inspected, ...converted].map((answer) => answer.body.receipt);
}

describe('the chain of a unit', () => {
  it('has every place once, names the entry before it, and its times only grow', async () => {
    const receipts = await busyDay();
    const units = [...new Set(receipts.flatMap((one) => one.subjects.map(({ unit }) => unit)))];
    expect(units).toHaveLength(4);
    for (const unit of units) {
      const links = receipts
        .flatMap(({ entry, recordedAt, subjects }) =>
          subjects.filter((one) => one.unit === unit).map((one) => ({ ...one, entry, recordedAt })),
        )
        .sort((a, b) => a.seq - b.seq);
      expect(links.map((one) => one.seq)).toEqual(links.map((_, index) => index + 1));
      expect(links.map((one) => one.prev)).toEqual([null, ...links.slice(0, -1).map((one) => one.entry)]);
      for (const [index, link] of links.entries()) {
        if (index > 0) expect(link.recordedAt > (links[index - 1]?.recordedAt ?? '')).toBe(true);
      }
      const stored = await rowsOf(
        db,
        'select seq::int, prev, entry from unit_events e join facts f on f.id = e.fact where unit_id = $1 order by seq',
        [unit],
      );
      expect(stored).toEqual(links.map(({ seq, prev, entry }) => ({ seq, prev, entry })));
    }
  });

  it("goes on one microsecond later where the database's clock is behind its end", async () => {
    await registerPair(brackwater, 'ahead');
    const [head] = await withSuperuser(db.superuserUrl, async (client) => {
      const { rows } = await client.query<{ at: string }>(`
        update unit_heads set recorded_at = date_trunc('second', recorded_at) + interval '1 hour'
        where unit_id = (select unit_id from unit_names where name_key = 'K-AHEAD')
        returning to_char(recorded_at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS') as at`);
      return rows;
    });
    const times = [];
    for (const nth of [1, 2, 3]) {
      const body = inspectionOf('ahead', { reference: `ahead-${nth}`, performedAt: minute(nth) });
      times.push((await mustGoWell(brackwater('POST', '/v1/inspections', body))).body.receipt.recordedAt);
    }
    expect(times).toEqual([1, 2, 3].map((nth) => `${head?.at}.00000${nth}Z`));
  });
});

describe('every fact that was kept', () => {
  it('has one leaf with its entry and one line in the outbox; none is without its fact', async () => {
    const wrong = await rowsOf(
      db,
      `select coalesce(f.id, l.fact, o.fact) as fact, f.kind, count(distinct l.id) as leaves, count(distinct o.id) as lines
       from facts f
       full join staged_leaves l on l.fact = f.id and l.entry = f.entry
       full join outbox o on o.fact = f.id and o.owner = f.owner and o.kind = f.kind and o.recorded_at = f.recorded_at
       group by 1, 2, f.id having f.id is null or count(distinct l.id) <> 1 or count(distinct o.id) <> 1`,
    );
    expect(wrong).toEqual([]);
    expect((await rowsOf(db, 'select from facts')).length).toBeGreaterThan(60);
  });
});
