/** Exactly once by key, as a caller meets it (IETF draft "The Idempotency-Key HTTP Header Field"; guarantees of README). */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowCounts, rowsOf } from '../support/rows.ts';
import { edition, mustGoWell, pumpWith } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { controlBody, conversionOf, inspectionOf, intakeOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
await registerPair(brackwater, '1');
const intakes = '/v1/lots/ardenholm/L-1/intakes';
const performedAt = '2026-04-01T08:00:00Z';

describe('a POST that records facts', () => {
  it('without a key is 400 and writes nothing', async () => {
    const before = await rowCounts(db);
    const answer = await brackwater('POST', intakes, intakeOf('no-key'), null);
    expect([answer.status, answer.body.code]).toEqual([400, 'missing-idempotency-key']);
    expect(await rowCounts(db)).toEqual(before);
  });

  it('with the key and body of an earlier one is answered with the same bytes, and says so', async () => {
    const body = inspectionOf('1', { reference: 'again', performedAt });
    const first = await brackwater('POST', '/v1/inspections', body, 'again');
    const before = await rowCounts(db);
    const again = await brackwater('POST', '/v1/inspections', body, '"again"');
    expect([first.status, first.headers.get('idempotency-replayed')]).toEqual([201, null]);
    expect([again.status, again.headers.get('idempotency-replayed')]).toEqual([201, 'true']);
    expect(again.text).toBe(first.text);
    expect(again.headers.get('content-type')).toBe(first.headers.get('content-type'));
    expect(await rowCounts(db)).toEqual(before);
  });

  it('is the same request however its JSON is spelled', async () => {
    const first = await brackwater('POST', intakes, intakeOf('spelled', 12), 'spelled');
    const spelled = `{ "shop" : "n\\u006frth",\n"quantity":1.2e1, "performedAt":"2026-05-01T08:00:00Z",\t"reference":"spelled" }`;
    const again = await brackwater('POST', intakes, spelled, 'spelled');
    expect([again.status, again.text]).toEqual([201, first.text]);
  });

  it.each([
    ['another body', intakes, intakeOf('bound', 4)],
    ['a member more, with the value that it has anyway', intakes, { ...intakeOf('bound'), note: '' }],
    ['another path of the same route', '/v1/lots/ardenholm/L-2/intakes', intakeOf('bound')],
    ['another route', '/v1/inspections', inspectionOf('1', { reference: 'other-route', performedAt })],
  ])('with a used key and %s is 422 and writes nothing', async (_, path, body) => {
    await brackwater('POST', intakes, intakeOf('bound'), 'bound');
    const before = await rowCounts(db);
    const answer = await brackwater('POST', path, body, 'bound');
    expect([answer.status, answer.body.code]).toEqual([422, 'key-reused']);
    expect(await rowCounts(db)).toEqual(before);
  });

  it('that was refused leaves its key free: when the cause is gone it is judged afresh', async () => {
    const body = { ...inspectionOf('1', { reference: 'late-shop', performedAt }), shop: 'harbour' };
    const refused = await brackwater('POST', '/v1/inspections', body, 'late-shop');
    expect([refused.status, refused.body.code]).toEqual([409, 'refused-by-rules']);
    await mustGoWell(brackwater('PUT', '/v1/shops/harbour', { name: 'harbour' }));
    const now = await brackwater('POST', '/v1/inspections', body, 'late-shop');
    expect([now.status, now.headers.get('idempotency-replayed')]).toEqual([201, null]);
    expect(await rowsOf(db, `select kind from attempts where body like '%late-shop%'`)).toHaveLength(1);
  });

  it('meets no equal key of another client or of another distributor', async () => {
    const otherClient = await service.as({ distributor: 'brackwater', client: 'another-system' });
    const answers = [
      await brackwater('POST', intakes, intakeOf('shared-1', 1), 'shared'),
      await otherClient('POST', intakes, intakeOf('shared-2', 2), 'shared'),
      await tollan('POST', intakes, intakeOf('shared-1', 3), 'shared'),
    ];
    expect(answers.map((one) => [one.status, one.body.quantity])).toEqual([
      [201, 1],
      [201, 2],
      [201, 3],
    ]);
  });

  it('sent twenty times at once has one effect; every other is the same bytes or 409 with Retry-After', async () => {
    for (let round = 0; round < 20; round++) {
      const body = intakeOf(`at-once-${round}`);
      const answers = await Promise.all(
        Array.from({ length: 20 }, () => brackwater('POST', intakes, body, `at-once-${round}`)),
      );
      const kept = answers.filter((one) => one.status === 201);
      expect(new Set(kept.map((one) => one.text)).size).toBe(1);
      for (const one of answers.filter((other) => other.status !== 201)) {
        expect([one.status, one.body.code, one.headers.get('retry-after')]).toEqual([409, 'key-in-use', '1']);
      }
      expect(await rowsOf(db, 'select from record_references where reference = $1', [body.reference])).toHaveLength(1);
    }
  });
});

describe('?check=only', () => {
  it.each([
    ['takes no key and writes nothing where the record would be kept', 200, 'load-sense-bled'],
    ['writes nothing, not even the attempt, where the record would be refused', 409, 'pressure-limit'],
  ])('%s', async (_, status, found) => {
    const record = await conversionOf(brackwater, '1', 'load-sense', { reference: 'checked', performedAt });
    const before = await rowCounts(db);
    const answer = await brackwater(
      'POST',
      '/v1/conversions?check=only',
      { ...record, found: { function: found } },
      null,
    );
    expect(answer.status).toBe(status);
    expect(await rowCounts(db)).toEqual(before);
  });

  it('binds no key that is sent with it, and meets none', async () => {
    const path = `${intakes}?check=only`;
    await mustGoWell(brackwater('POST', path, intakeOf('check-1'), 'check'));
    const kept = await mustGoWell(brackwater('POST', intakes, intakeOf('check-2'), 'check'));
    expect([kept.status, kept.headers.get('idempotency-replayed')]).toEqual([201, null]);
    const again = await mustGoWell(brackwater('POST', path, intakeOf('check-3'), 'check'));
    expect(again.headers.get('idempotency-replayed')).toBe(null);
  });

  it('gives what recording then gives, but for its id and receipt', async () => {
    await registerPair(brackwater, '2');
    const record = await conversionOf(brackwater, '2', 'load-sense', { reference: 'both', performedAt });
    for (const [path, body] of [
      ['/v1/conversions', record],
      [intakes, intakeOf('both')],
    ] as const) {
      const checked = await brackwater('POST', `${path}?check=only`, body, null);
      const { id, receipt, ...kept } = (await mustGoWell(brackwater('POST', path, body))).body;
      expect([typeof id, typeof receipt]).toEqual(['string', 'object']);
      expect([path, checked.status, checked.body]).toEqual([path, 200, kept]);
    }
  });
});

describe('a PUT', () => {
  it.each([
    ['/v1/pumps/ardenholm/P-put', pumpWith({ serial: 'K-on-put', function: 'load-sense' })],
    ['/v1/controls/ardenholm/K-put', controlBody('load-sense')],
  ])(
    'of a registration: %s again is 200 with the bytes of the first, another is 409 and shows what is recorded',
    async (path, body) => {
      const first = await mustGoWell(brackwater('PUT', path, body));
      const before = await rowCounts(db);
      const again = await brackwater('PUT', path, JSON.stringify(body, null, 2));
      expect([first.status, again.status, again.text]).toEqual([201, 200, first.text]);
      const other = await brackwater('PUT', path, { ...body, performedAt: '2026-03-03T08:00:00+01:00' });
      expect([other.status, other.body.code]).toEqual([409, 'registration-differs']);
      expect(other.body.recorded.fit).toBeDefined();
      const foreign = await tollan('PUT', path, body);
      expect([foreign.status, foreign.body.code]).toEqual([409, 'registration-differs']);
      expect(await rowCounts(db)).toEqual(before);
    },
  );

  it.each([
    ['/v1/shops/put-1', { name: 'one' }, { name: 'two' }],
    ['/v1/technicians/put-1', { name: 'one' }, { name: 'one', subject: 'somebody' }],
    ['/v1/instruments/put-1', { kind: 'stand' }, { kind: 'gauge' }],
    ['/v1/lots/ardenholm/put-1', { part: 'kit-remote' }, { part: 'kit-sense' }],
  ])('of %s again changes nothing and is 200; another body is the next version', async (path, body, other) => {
    const first = await brackwater('PUT', path, body);
    expect([first.status, first.body.version]).toEqual([201, 1]);
    const before = await rowCounts(db);
    const again = await brackwater('PUT', path, body);
    expect([again.status, again.text]).toEqual([200, first.text]);
    expect(await rowCounts(db)).toEqual(before);
    const next = await brackwater('PUT', path, other);
    expect([next.status, next.body.version]).toEqual([200, 2]);
    expect((await brackwater('PUT', path, other)).text).toBe(next.text);
    expect(await rowsOf(db, 'select from facts where id = any ($1)', [[first.body.id, next.body.id]])).toHaveLength(2);
  });

  it('of an edition again is 200 with the bytes of the first, its receipt with them', async () => {
    const maker = await service.as({ maker: 'other-maker' });
    const path = '/v1/catalogue/other-maker/editions/2026-1';
    const body = { ...(edition as object), maker: 'other-maker' };
    const first = await maker('PUT', path, body);
    const before = await rowCounts(db);
    const again = await maker('PUT', path, JSON.stringify(body, null, 2));
    expect([first.status, again.status, again.text]).toEqual([201, 200, first.text]);
    expect(typeof again.body.receipt.signature).toBe('string');
    expect(await rowCounts(db)).toEqual(before);
  });

  it('sent ten times at once is one statement, whatever it is of', async () => {
    for (const [path, body] of [
      ['/v1/shops/at-once', { name: 'one' }],
      ['/v1/technicians/at-once', { name: 'one' }],
      ['/v1/instruments/at-once', { kind: 'stand' }],
      ['/v1/lots/ardenholm/at-once', { part: 'kit-remote' }],
      ['/v1/pumps/ardenholm/P-at-once', pumpWith({ serial: 'K-at-once', function: 'load-sense' })],
    ] as const) {
      const facts = (await rowCounts(db))['facts'] ?? 0;
      const answers = await Promise.all(Array.from({ length: 10 }, () => brackwater('PUT', path, body)));
      expect([path, ...answers.map((one) => one.status).sort()]).toEqual([path, ...Array(9).fill(200), 201]);
      expect((await rowCounts(db))['facts']).toBe(facts + 1);
    }
  });

  it('of twelve different bodies at once for one thing are versions without a gap, and 503 for who lost too often', async () => {
    const path = '/v1/shops/versions';
    const put = (nth: number) => brackwater('PUT', path, { name: `name ${nth}` });
    const answers = await Promise.all(Array.from({ length: 12 }, (_, nth) => put(nth)));
    const versions = answers.flatMap((one) => one.body.version ?? []).sort((a, b) => a - b);
    expect(versions).toEqual(Array.from({ length: versions.length }, (_, nth) => nth + 1));
    const busy = answers.filter((one) => one.body.version === undefined);
    expect(busy.filter((one) => one.body.code !== 'busy' || one.headers.get('retry-after') !== '1')).toEqual([]);
    const facts = await rowsOf(db, `select from facts where kind = 'shop' and statement like '%"shop":"versions"%'`);
    expect(facts).toHaveLength(versions.length);
  });
});
