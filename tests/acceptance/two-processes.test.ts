/** Two service processes on one Postgres, posting at the same moment. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import type { Caller } from '../support/over-http.ts';
import { addOrganisations, madeFolder, type RunningService, startService } from '../support/running-service.ts';
import { byTheBook, mustGoWell, publish, pumpWith, shopScopes, stockUp } from '../support/scene.ts';

const rounds = 200;
const db = await testDatabase();
let services: RunningService[] = [];
let shops: [Caller, Caller];

beforeAll(async () => {
  await addOrganisations(db, { ardenholm: 'maker', brackwater: 'distributor' });
  const dataDir = madeFolder();
  const first = await startService(db, dataDir);
  const second = await startService(db, dataDir);
  services = [first, second];
  await publish(await first.caller({ maker: 'ardenholm' }, ['catalogue:publish']));
  const who = { distributor: 'brackwater' };
  shops = [await first.caller(who, shopScopes), await second.caller(who, shopScopes)];
  await stockUp(shops[0]);
  await mustGoWell(shops[0]('PUT', '/v1/pumps/ardenholm/P-1', pumpWith({ serial: 'K-1', function: 'load-sense' })));
});
afterAll(async () => {
  for (const service of services) await service.stop();
});

/** From unbled to bled and back, alternating: what is found by function only is right for one of two alone. */
const directions = [
  { from: 'load-sense', to: 'load-sense-bled' },
  { from: 'load-sense-bled', to: 'load-sense' },
] as const;

describe('two processes at one control', () => {
  it(`one wins each time of ${rounds}, and the other is told how the control is now`, async () => {
    const outcomes: string[] = [];
    for (let round = 0; round < rounds; round++) {
      const { from, to } = directions[round % 2] ?? directions[0];
      const { body: sheet } = await mustGoWell(shops[0]('GET', `/v1/controls/ardenholm/K-1/job-sheet?function=${to}`));
      // The same moment for both: otherwise the earlier work would be placed before the later, and both be right.
      const performedAt = new Date().toISOString();
      const record = (by: number) => ({
        control: { maker: 'ardenholm', serial: 'K-1' },
        reference: `R-${round}-${by}`,
        performedAt,
        found: { function: from },
        to: { function: to },
        ...byTheBook(sheet),
      });
      const answers = await Promise.all(shops.map((shop, by) => shop('POST', '/v1/conversions', record(by))));
      outcomes.push(
        answers
          .map((answer) => answer.status)
          .sort()
          .join(),
      );
      const loser = answers.find((answer) => answer.status === 409);
      expect(loser?.body.recorded.function).toBe(to);
      expect(loser?.body.findings.map((one: { rule: string }) => one.rule)).toContain('found-needed');
    }
    expect(new Set(outcomes)).toEqual(new Set(['201,409']));
    const { body } = await mustGoWell(shops[1]('GET', '/v1/controls/ardenholm/K-1/history?first=200&after=1'));
    expect(body.items).toHaveLength(rounds);
  }, 120_000);

  it('what one was answered, the other answers again for the same key, byte for byte', async () => {
    const lot = '/v1/lots/ardenholm/L-1/intakes';
    const intake = { reference: 'IN-1', performedAt: '2026-05-01T08:00:00Z', shop: 'north', quantity: 3 };
    const answers = await Promise.all(
      Array.from({ length: 20 }, async (_, nth) => await (shops[nth % 2] ?? shops[0])('POST', lot, intake, 'one-key')),
    );
    expect(answers.map((answer) => answer.status).filter((status) => ![201, 409].includes(status))).toEqual([]);
    const later = await Promise.all(shops.map((shop) => shop('POST', lot, intake, 'one-key')));
    expect(later.map((answer) => answer.headers.get('idempotency-replayed'))).toEqual(['true', 'true']);
    const bodies = [...answers, ...later].filter((answer) => answer.status === 201).map((answer) => answer.text);
    expect(new Set(bodies).size).toBe(1);
    const other = await shops[1]('POST', lot, { ...intake, quantity: 4 }, 'one-key');
    expect([other.status, other.body.code]).toEqual([422, 'key-reused']);
  });
});
