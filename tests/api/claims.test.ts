/** Claims under warranty: raised by a distributor, decided by the maker's people, seen by these two and nobody else. */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { claimOf, makeClaims, terms } from '../support/make-claims.ts';
import { rowsOf } from '../support/rows.ts';
import { edition as demo, mustGoWell } from '../support/scene.ts';
import { organisations, testService } from '../support/service.ts';
import { edition, maker, onControl, onPump, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
const people = await service.as({ maker });
type Shop = typeof brackwater;
type Json = Awaited<ReturnType<Shop>>['body'];

let next = 0;
const number = () => {
  next += 1;
  return `c${next}`;
};
const nobody = '01890000-0000-7000-8000-000000000000';

beforeAll(async () => {
  for (const shop of [brackwater, tollan]) {
    await registerPair(shop, shop === brackwater ? 'b' : 't');
  }
});

async function claimed(more: object = {}, unit: object = onPump('b'), shop: Shop = brackwater): Promise<Json> {
  return (await mustGoWell(shop('POST', '/v1/claims', claimOf(unit, number(), more)))).body as Json;
}
const read = async (id: string, who: Shop = brackwater, query = '') =>
  (await mustGoWell(who('GET', `/v1/claims/${id}${query}`))).body as Json;
const refused = async (more: object, unit: object = onPump('b')) => {
  const answer = await brackwater('POST', '/v1/claims', claimOf(unit, number(), more));
  return [answer.status, ...(answer.body.findings ?? []).map((one: Json) => `${one['rule']} ${one['pointer']}`)];
};
const decide = async (claim: string, decision: string, more: object = {}) =>
  (
    await mustGoWell(
      people('POST', `/v1/claims/${claim}/decisions`, {
        ...{ reference: number(), performedAt: '2026-09-05T08:00:00Z', decision, reasons: 'as seen' },
        ...(decision === 'more-evidence' && { asks: ['a sample'] }),
        ...more,
      }),
    )
  ).body as Json;
const evidence = (more: object = {}) => ({
  ...{
    reference: number(),
    shop: 'north',
    performedAt: '2026-09-02T08:00:00Z',
    observations: { fluid: 'mineral oil' },
  },
  ...more,
});
const add = async (claim: string, more: object = {}, shop: Shop = brackwater) =>
  (await mustGoWell(shop('POST', `/v1/claims/${claim}/evidence`, evidence(more)))).body as Json;

describe('a claim', () => {
  it('is kept as it was said, and read by its distributor and the people of the maker alike', async () => {
    const said = {
      ...{ machine: 'forestry loader 3', duty: 'two shifts', note: 'called on Monday', technician: 't-17' },
      hours: { value: '1820', unit: 'h' },
      asFound: { plate: 'LS', marks: [{ place: 'port plate', text: 'scored' }] },
      observations: { cleanliness: '22/20/17', water: { unknown: 'no sample was sent' } },
    };
    const { id, unit } = await claimed(said);
    const whole = await read(id);
    expect(whole).toMatchObject({
      ...{ claim: id, status: 'open', reopened: false, replaces: null, replacedBy: null, distributor: 'brackwater' },
      ...{ unit: { ...unit, kind: 'pump', maker, name: 'P-b' }, part: 'control', symptom: 'pressure-unstable' },
      failed: { from: '2026-08-20T00:00:00.000000Z', to: '2026-08-20T23:59:59.999999Z' },
      statement: { asFound: said.asFound, observations: said.observations, hours: said.hours },
      private: { machine: said.machine, duty: said.duty, note: said.note },
      ...{ evidence: [], decisions: [] },
    });
    expect(JSON.stringify(whole.statement)).not.toMatch(/forestry|two shifts|Monday|t-17/);
    // Another statement began between the two, so the horizon moved on.
    expect({ ...(await read(id, analyst)), horizon: null }).toEqual({ ...whole, horizon: null });
  });

  it('is refused with its place where it can not be read or contradicts itself, and nowhere else', async () => {
    const sheet = `sha256:${'0'.repeat(64)}`;
    expect(await refused({ pump: { maker, serial: 'P-0' } })).toEqual([409, 'unknown-id /pump']);
    expect(await refused({ shop: 'nowhere', technician: 't-0', attachments: [sheet] })).toEqual([
      409,
      ...['unknown-id /shop', 'unknown-id /technician', 'unknown-id /attachments/0'],
    ]);
    expect(await refused({ symptom: 'gremlins', failureMode: 'hexed' })).toEqual([
      409,
      ...['unknown-id /symptom', 'unknown-id /failureMode'],
    ]);
    expect(await refused({ performedAt: '2999-01-01T00:00:00Z' })).toEqual([409, 'performed-in-future /performedAt']);
    expect(await refused({ failedAt: '2026-09-02T00:00:00Z' })).toEqual([409, 'claim-before-failure /failedAt']);
    expect(await refused({ startedUpAt: '2026-08-21T00:00:00Z' })).toEqual([409, 'claim-before-failure /startedUpAt']);
    expect(await refused({ replaces: nobody })).toEqual([409, 'claim-corrects-another /replaces']);
    expect(await refused({ technician: { unknown: 'left' }, startedUpAt: '2026-08-20T12:00:00Z' })).toEqual([201]);
    const { id, unit } = await claimed({ reference: 'once' });
    expect(unit.name).toBe('P-b');
    const again = await brackwater('POST', '/v1/claims', claimOf(onPump('b'), 'once'));
    expect(again.body.findings).toMatchObject([{ rule: 'reference-used', found: id }]);
  });

  it('of a unit that failed before it was built is refused', async () => {
    const built = {
      ...(await import('../support/shop.ts')).controlBody('load-sense'),
      builtAt: '2026-02-01T00:00:00Z',
    };
    await mustGoWell(brackwater('PUT', `/v1/controls/${maker}/K-new`, built));
    expect(await refused({ failedAt: '2026-01-31T00:00:00Z' }, onControl('new'))).toEqual([
      ...[409, 'before-unit-existed /failedAt'],
    ]);
    expect(await refused({ failedAt: '2026-02-01T00:00:00Z' }, onControl('new'))).toEqual([201]);
  });

  it('may use the words that the newest edition in effect adds', async () => {
    const words = {
      symptoms: [{ id: 'whistles', text: 'it whistles' }],
      failureModes: [{ id: 'chipped', text: 'chipped' }],
    };
    const published = { ...(demo as object), edition: `${edition}-words`, effectiveFrom: '2026-06-01', ...words };
    await mustGoWell(people('PUT', `/v1/catalogue/${maker}/editions/${edition}-words`, published));
    const said = { symptom: 'whistles', failureMode: 'chipped' };
    expect(await refused(said)).toEqual([201]);
    const before = { performedAt: '2026-05-01T00:00:00Z', failedAt: '2026-04-01T00:00:00Z' };
    expect(await refused({ ...said, ...before })).toEqual([409, 'unknown-id /symptom', 'unknown-id /failureMode']);
  });

  it('changes nothing of its unit, whose history others read', async () => {
    const before = await rowsOf(db, 'select unit_id, seq from unit_heads order by 1');
    await decide((await claimed()).id, 'accepted');
    expect(await rowsOf(db, 'select unit_id, seq from unit_heads order by 1')).toEqual(before);
  });

  it('is corrected by another, which only one can do, and which stays readable', async () => {
    const { id } = await claimed();
    const { id: other } = await claimed({}, onControl('b'));
    expect(await refused({ replaces: other })).toEqual([409, 'claim-corrects-another /replaces']);
    const { id: instead } = await claimed({ replaces: id });
    expect(await read(id)).toMatchObject({ status: 'replaced', replacedBy: instead });
    expect(await read(instead)).toMatchObject({ status: 'open', replaces: id, replacedBy: null });
    expect(await refused({ replaces: id })).toEqual([409, 'claim-corrects-another /replaces']);
    const said = await brackwater('POST', `/v1/claims/${id}/evidence`, evidence());
    expect(said.body.findings).toMatchObject([{ rule: 'claim-replaced', found: instead }]);
    const decided = { reference: number(), performedAt: '2026-09-05T08:00:00Z', decision: 'accepted', reasons: 'x' };
    const refusal = await people('POST', `/v1/claims/${id}/decisions`, decided);
    expect(refusal.body.findings).toMatchObject([{ rule: 'claim-replaced', found: instead }]);
    const races = await Promise.all(
      ['one', 'two', 'three'].map((one) =>
        brackwater('POST', '/v1/claims', claimOf(onPump('b'), `race-${one}`, { replaces: instead })),
      ),
    );
    expect(races.map((one) => one.status).toSorted()).toEqual([201, 409, 409]);
  });
});

describe('a decision', () => {
  it('is the maker’s fact, stands until evidence comes, and is read by both', async () => {
    const { id } = await claimed();
    const cost = { amount: '1240.00', currency: 'EUR' };
    const asked = await decide(id, 'more-evidence', { asks: ['a sample of the fluid'] });
    expect(await read(id)).toMatchObject({ status: 'more-evidence', decisions: [{ asks: ['a sample of the fluid'] }] });
    const { id: found, status } = await add(id, { note: 'from the laboratory' });
    expect(status).toBe('open');
    expect(await read(id, analyst)).toMatchObject({
      ...{ status: 'open', reopened: true },
      evidence: [
        {
          record: found,
          statement: { observations: { fluid: 'mineral oil' } },
          private: { note: 'from the laboratory' },
        },
      ],
    });
    const declined = await decide(id, 'declined', { cost });
    expect(declined).toMatchObject({ claim: id, status: 'declined' });
    await add(id);
    expect(await read(id)).toMatchObject({ status: 'open', reopened: true });
    await decide(id, 'accepted', { cost });
    const whole = await read(id);
    expect(whole).toMatchObject({ status: 'accepted', reopened: false });
    expect(whole.decisions.map((one: Json) => [one['record'], one['decision'], one['cost']])).toEqual([
      [asked.id, 'more-evidence', undefined],
      [declined.id, 'declined', cost],
      [expect.any(String), 'accepted', cost],
    ]);
    const [fact] = await rowsOf<{ owner: string }>(db, 'select owner from facts where id = $1', [declined.id]);
    expect(fact?.owner).toBe(organisations.ardenholm.id);
    expect((await brackwater('GET', `/v1/records/${declined.id}`)).status).toBe(404);
    expect((await people('GET', `/v1/records/${declined.id}`)).body.concerns).toBe(id);
  });

  it('is not made before the claim, nor by anybody but the maker’s own people', async () => {
    const { id } = await claimed();
    const body = { reference: number(), performedAt: '2026-08-31T00:00:00Z', decision: 'accepted', reasons: 'x' };
    const early = await people('POST', `/v1/claims/${id}/decisions`, body);
    expect(early.body.findings).toMatchObject([{ rule: 'decided-before-claim', pointer: '/performedAt' }]);
    const both = await service.as({ distributor: 'brackwater', maker });
    for (const who of [brackwater, both, analyst]) {
      expect((await who('POST', `/v1/claims/${id}/decisions`, body)).body.code).toBe('forbidden');
    }
    const other = await service.as({ maker: 'other-maker' });
    expect((await other('POST', `/v1/claims/${id}/decisions`, body)).status).toBe(404);
    expect((await people('POST', `/v1/claims/${nobody}/decisions`, body)).status).toBe(404);
  });
});

describe('claims of others', () => {
  it('are not there: not to another distributor, nor to another maker', async () => {
    const { id } = await claimed({ note: 'not for tollan' });
    const other = await service.as({ maker: 'other-maker' });
    for (const who of [tollan, other]) {
      expect((await who('GET', `/v1/claims/${id}`)).status).toBe(404);
      const listed = (await mustGoWell(who('GET', '/v1/claims?first=200'))).body.items;
      expect(listed.filter((one: Json) => one['distributor'] === 'brackwater')).toEqual([]);
      expect((await who('GET', `/v1/claims?after=${id}`)).body.code).toBe('invalid-input');
    }
    expect((await tollan('POST', `/v1/claims/${id}/evidence`, evidence())).status).toBe(404);
    expect((await other('GET', `/v1/claims?unit=${maker}/P-b`)).status).toBe(404);
    expect((await people('POST', `/v1/claims/${id}/evidence`, evidence())).body.code).toBe('forbidden');
  });

  it('are told apart where both call everything the same', async () => {
    await makeClaims(service, (of) => onPump(of === 'brackwater' ? 'b' : 't'));
    const mine = (await mustGoWell(tollan('GET', '/v1/claims'))).body.items as Json[];
    expect(mine.map((one) => [one['reference'], one['status']])).toEqual([
      [' claim-0 ', 'replaced'],
      ['claim-1', 'goodwill'],
    ]);
    expect(await read(mine[1]?.['claim'], tollan)).toMatchObject({
      private: { machine: 'tollan loader' },
      decisions: [{ reference: ' tollan ', cost: { amount: '1240.00', currency: 'EUR' } }],
    });
  });
});

describe('the list of claims', () => {
  it('is sought by unit, status, part and the time of the failure, page by page, and each stands as its own page says', async () => {
    await registerPair(brackwater, 'list');
    const unit = `unit=${maker}/p-list`;
    const made = [
      await claimed({ failedAt: '2026-07-01T00:00:00Z' }, onPump('list')),
      await claimed({ part: 'pump' }, onPump('list')),
      await claimed({}, onPump('list')),
      await claimed({}, onPump('list')),
    ].map((one) => one.id as string);
    const [first = '', second = '', third = '', fourth = ''] = made;
    await decide(first, 'declined');
    await decide(second, 'declined');
    await add(second);
    await claimed({ replaces: fourth, part: 'kit-part' }, onPump('list'));
    const listed = async (query: string) =>
      (await mustGoWell(analyst('GET', `/v1/claims?${unit}&${query}`))).body.items as Json[];
    const found = async (query: string) => (await listed(query)).map((one) => one['claim']);
    expect(await found('status=declined')).toEqual([first]);
    expect(await found('status=replaced')).toEqual([fourth]);
    expect((await found('status=open')).slice(0, 2)).toEqual([second, third]);
    expect(await found('part=pump')).toEqual([second]);
    expect(await found('to=2026-07-01T00:00:01Z')).toEqual([first]);
    expect(await found('from=2026-07-02T00:00:00Z&status=replaced')).toEqual([fourth]);
    for (const status of ['open', 'more-evidence', 'accepted', 'declined', 'goodwill', 'replaced']) {
      for (const one of await listed(`status=${status}`)) {
        const { claim, reopened } = one;
        expect([claim, one['status'], (await read(claim)).status]).toEqual([claim, status, status]);
        expect(reopened).toBe(claim === second);
      }
    }
    const page = (await mustGoWell(brackwater('GET', `/v1/claims?${unit}&first=1&after=${first}`))).body;
    expect(page).toMatchObject({ items: [{ claim: second }], pageInfo: { endCursor: second, hasNextPage: true } });
    expect((await brackwater('GET', `/v1/claims?unit=${maker}/P-0`)).status).toBe(404);
    expect((await brackwater('GET', '/v1/claims?after=x')).body.code).toBe('invalid-input');
  });
});

describe('coverage', () => {
  const life = (serial: string, reference: string, performedAt: string, more: object) => ({
    ...{ ...onPump(serial), reference: `${serial}-${reference}`, performedAt, shop: 'north', technician: 't-17' },
    ...more,
  });
  const moved = (serial: string, reference: string, at: string, what = 'delivered') =>
    mustGoWell(brackwater('POST', '/v1/movements', life(serial, reference, at, { what })));

  it('is computed by the terms in force, from the records that say when, the same for both', async () => {
    const serial = 'cover';
    await registerPair(brackwater, serial);
    await mustGoWell(people('PUT', `/v1/terms/${maker}/cover`, terms));
    const out = await moved(serial, 'out', '2026-03-10T08:00:00Z');
    const start = life(serial, 'run', '2026-03-20T08:00:00Z', { machine: 'loader' });
    const run = await mustGoWell(brackwater('POST', '/v1/start-ups', start));
    const { id } = await claimed({ part: 'pump', hours: { value: '5000', unit: 'h' } }, onPump(serial));
    const coverage = async (who: Shop, query = '') =>
      (await read(id, who, query)).coverage.find((one: Json) => one['terms'] === 'cover') as Json;
    const seen = await coverage(brackwater);
    expect(seen).toMatchObject({
      ...{ version: 1, chosenBy: 'delivery', because: 'cover, version 1, was in force at the delivery.' },
      coverage: {
        ...{ result: 'pro-rata', share: { least: '50.0', most: '50.0' }, missing: [] },
        limits: [
          { result: 'within', countedFrom: { record: run.body.id, said: 'start-up' } },
          { result: 'within', countedFrom: { record: out.body.id, said: 'movement' } },
          { result: 'pro-rata', left: { unit: 'h', least: '-1000' } },
        ],
      },
    });
    expect(await coverage(analyst)).toEqual(seen);
  });

  it('counts a pump from its first delivery, workmanship from its last; what the claim says comes before both', async () => {
    const serial = 'twice';
    await registerPair(brackwater, serial);
    const first = await moved(serial, 'out-1', '2026-03-10T08:00:00Z');
    await moved(serial, 'in', '2026-04-10T08:00:00Z', 'returned');
    const last = await moved(serial, 'out-2', '2026-05-10T08:00:00Z');
    await moved(serial, 'out-3', '2026-08-30T08:00:00Z', 'lent');
    const delivered = async (more: object) => (await read((await claimed(more, onPump(serial))).id)).delivered;
    expect((await delivered({ part: 'pump' })).record).toBe(first.body.id);
    expect((await delivered({ part: 'workmanship' })).record).toBe(last.body.id);
    expect(await delivered({ deliveredAt: '2026-02-01T00:00:00Z' })).toMatchObject({
      ...{ said: 'claim', at: { from: '2026-02-01T00:00:00.000000Z' } },
    });
    const reason = 'wrong day';
    const corrected = {
      ...{ kind: 'movement', reason },
      body: life(serial, 'out-1', '2026-03-01T08:00:00Z', { what: 'delivered' }),
    };
    const path = `/v1/records/${first.body.id}/corrections`;
    const { id: instead } = (await mustGoWell(brackwater('POST', path, corrected))).body;
    expect(await delivered({ part: 'pump' })).toMatchObject({
      record: instead,
      at: { from: '2026-03-01T08:00:00.000000Z' },
    });
  });

  it('takes the delivery that a registration states', async () => {
    const { pumpWith } = await import('../support/scene.ts');
    const body = { ...pumpWith({ serial: 'K-reg', function: 'load-sense' }), deliveredAt: '2026-01-15T00:00:00Z' };
    const { id } = (await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-reg`, body))).body;
    const claim = await claimed({}, onPump('reg'));
    expect((await read(claim.id)).delivered).toMatchObject({ record: id, said: 'registration' });
  });
});

describe('what was known', () => {
  it('is answered the same for ever, and a claim is not there before it was recorded', async () => {
    const { id } = await claimed();
    await decide(id, 'declined');
    const { recordedAt, decisions } = await read(id);
    const decidedAt = decisions[0]['recordedAt'] as string;
    const now = await brackwater('GET', `/v1/claims/${id}?known=${decidedAt}`);
    expect(now.status).toBe(404);
    // Until then it may still change, and is answered as of the horizon.
    while ((await read(id)).horizon <= decidedAt) await new Promise((wake) => setTimeout(wake, 200));
    const asked = async (known: string) => ({ ...(await read(id, analyst, `?known=${known}`)), horizon: null });
    const [first, second] = [await asked(recordedAt), await asked(decidedAt)];
    expect(first).toMatchObject({ status: 'open', decisions: [], known: recordedAt, settled: true });
    expect(second).toMatchObject({ status: 'declined', decisions: [{ decision: 'declined' }] });
    await add(id);
    await mustGoWell(people('PUT', `/v1/terms/${maker}/later`, terms));
    await claimed({ replaces: id });
    expect([await asked(recordedAt), await asked(decidedAt)]).toEqual([first, second]);
    expect(await read(id)).toMatchObject({ status: 'replaced', coverage: expect.any(Array), settled: false });
    const before = await brackwater('GET', `/v1/claims/${id}?known=2026-01-01T00:00:00Z`);
    expect(before.status).toBe(404);
  }, 60_000);
});

describe('who is forgotten', () => {
  it('is not found again by the fingerprint of a claim', async () => {
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-gone', { name: 'A. Sample' }));
    const { id } = await claimed({ technician: 't-gone' });
    const { technician } = (await mustGoWell(brackwater('GET', '/v1/technicians/t-gone'))).body;
    await mustGoWell(brackwater('POST', `/v1/technicians/${technician}/erasures`, { erase: 'everything' }));
    const keys = await rowsOf(db, 'select fingerprint from idempotency_keys where fact = $1', [id]);
    expect(keys).toEqual([{ fingerprint: '' }]);
  });
});

describe('terms', () => {
  it('are stated in versions by the people of their maker, and read by every distributor', async () => {
    const path = `/v1/terms/${maker}/plain`;
    const first = await people('PUT', path, terms);
    const again = await people('PUT', path, terms);
    const other = await people('PUT', path, { ...terms, text: 'Plain' });
    expect([first.status, again.status, other.status]).toEqual([201, 200, 200]);
    expect(again.body).toEqual(first.body);
    expect([first.body.version, other.body.version]).toEqual([1, 2]);
    const seen = (await mustGoWell(tollan('GET', path))).body;
    expect(seen.versions.map((one: Json) => [one['version'], one['text'], one['parts']])).toEqual([
      [1, undefined, terms.parts],
      [2, 'Plain', terms.parts],
    ]);
    expect((await tollan('GET', `/v1/terms/${maker}/none`)).status).toBe(404);
    const races = await Promise.all([1, 2, 3].map((one) => people('PUT', path, { ...terms, text: `race ${one}` })));
    expect(races.map((one) => one.body.version).toSorted()).toEqual([3, 4, 5]);
  });

  it('are no distributor’s to state, nor another maker’s, nor without the scope', async () => {
    const path = `/v1/terms/${maker}/plain`;
    const other = await service.as({ maker: 'other-maker' });
    const both = await service.as({ distributor: 'brackwater', maker });
    for (const who of [brackwater, both, other, analyst]) {
      expect((await who('PUT', path, terms)).body.code).toBe('forbidden');
    }
    expect((await other('GET', path)).status).toBe(404);
  });
});
