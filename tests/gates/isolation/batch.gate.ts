/**
 * Two distributors that call everything the same, in one batch and so in one context: every look-up must go by owner
 * too. Controls: the service with one look-up that goes by the name alone.
 */
import { afterAll, describe, expect, it } from 'vitest';
import { recordAll } from '../../../src/app/recording/record-all.ts';
import type { Asked, Outcome, Request } from '../../../src/app/recording/request.ts';
import { controlRegistration, correctionBody, inspectionBody } from '../../../src/core/records/bodies.ts';
import { dispositionBody } from '../../../src/core/records/disposition-body.ts';
import { intakeBody } from '../../../src/core/records/lot-bodies.ts';
import { instrumentBody, lotBody, shopBody, technicianBody } from '../../../src/core/records/stock-bodies.ts';
import { closePools } from '../../../src/store/pools.ts';
import { type TestDatabase, testDatabase } from '../../support/database.ts';
import { rowsOf } from '../../support/rows.ts';
import { publish } from '../../support/scene.ts';
import { organisations, requestOf, type TestService, testService } from '../../support/service.ts';
import { controlBody, edition, maker } from '../../support/shop.ts';
import { tell } from '../gate-options.ts';
import { type Alteration, alteredPools } from './altered-pools.ts';

const distributors = ['brackwater', 'tollan'] as const;
type Distributor = (typeof distributors)[number];
const words = { brackwater: 'quillfen', tollan: 'tarnfen' } as const;
const otherOf = (one: Distributor): Distributor => (one === 'brackwater' ? 'tollan' : 'brackwater');
const performedAt = '2026-04-01T08:00:00Z';
const torque = (value: string) => ({ value, unit: 'N.m' as const });

class Batches {
  readonly wrong: string[] = [];
  requests = 0;
  readonly #service: TestService;
  readonly #db: TestDatabase;

  constructor(service: TestService, db: TestDatabase) {
    this.#service = service;
    this.#db = db;
  }

  /** Everything that is wrong, in words. */
  async run(): Promise<string[]> {
    await this.#record((one) => this.#stock(one));
    const records = await this.#record((one) => [
      this.#registration(one),
      this.#inspection(one, 'one'),
      this.#intake(one),
    ]);
    await this.#checkRecords(records);
    this.#checkReplays(
      records,
      await this.#record((one) => [this.#inspection(one, 'one', false), this.#intake(one, false)]),
    );
    await this.#takeAlone();
    await this.#nameEachOthers(records);
    return this.wrong;
  }

  /** One batch, of both by turns. */
  async #record(asked: (distributor: Distributor) => Request[]): Promise<{ request: Request; outcome: Outcome }[]> {
    const [some = [], others = []] = distributors.map(asked);
    const requests = some.flatMap((request, index) => [request, others[index] ?? request]);
    this.requests += requests.length;
    const { app } = this.#service;
    const outcomes = await recordAll({ ...app, pool: app.pools.recording }, requests);
    return requests.map((request, index) => ({ request, outcome: outcomes[index] as Outcome }));
  }

  #ask(distributor: Distributor, asked: Asked & { sent: unknown }, key: string | null): Request {
    return requestOf(this.#service.app, { distributor }, asked, { key });
  }

  #stock(one: Distributor): Request[] {
    const word = words[one];
    const shop = { name: `${word} yard` };
    const technician = { name: `${word} name`, subject: `${word}-fitter` };
    // So a torque of 34 N.m is in the range of one and not of the other, and a seal in the lot of one and not of the other.
    const range = { min: torque('5'), max: torque(one === 'brackwater' ? '100' : '10') };
    const instrument = { kind: 'torque-wrench', how: 'set', class: word, range };
    const lot = { part: one === 'brackwater' ? 'bought-loose' : 'plug-m5' };
    return [
      this.#ask(one, { kind: 'shop', id: 'same', body: shopBody.parse(shop), sent: shop }, null),
      this.#ask(
        one,
        { kind: 'technician', id: 'same', body: technicianBody.parse(technician), sent: technician },
        null,
      ),
      this.#ask(
        one,
        { kind: 'instrument', id: 'same', body: instrumentBody.parse(instrument), sent: instrument },
        null,
      ),
      this.#ask(one, { kind: 'lot', maker, number: 'same', body: lotBody.parse(lot), sent: lot }, null),
    ];
  }

  #registration(one: Distributor): Request {
    const sent = { ...controlBody('load-sense'), note: `${words[one]} note`, shop: 'same', technician: 'same' };
    const body = controlRegistration.parse(sent);
    return this.#ask(one, { kind: 'registration', of: 'control', maker, serial: `K-${one}`, body, sent }, null);
  }

  #inspection(one: Distributor, reference: string, isNew = true, more: object = {}): Request {
    const sent = {
      ...{ control: { maker, serial: `K-${one}` }, reference, edition, performedAt, shop: 'same', technician: 'same' },
      ...{ found: { plate: `${words[one]} plate` }, note: `${words[one]} note`, ...more },
      seals: [{ joint: 'side-cap-body', seal: 'seal-14-nbr', lot: 'same' }],
      torques: [{ joint: 'side-cap-body', how: 'set', reading: torque('34'), instrument: 'same' }],
    };
    const request = this.#ask(one, { kind: 'inspection', body: inspectionBody.parse(sent), sent }, `key-${reference}`);
    return isNew ? request : { ...request, fact: this.#service.app.effects.newId() };
  }

  #intake(one: Distributor, isNew = true): Request {
    const sent = { reference: 'in', performedAt, shop: 'same', quantity: 3, note: `${words[one]} intake` };
    const request = this.#ask(
      one,
      { kind: 'intake', maker, number: 'same', body: intakeBody.parse(sent), sent },
      'key-in',
    );
    return isNew ? request : { ...request, fact: this.#service.app.effects.newId() };
  }

  #disposition(one: Distributor, record: string, reference: string): Request {
    const sent = { reference, performedAt: '2026-04-02T08:00:00Z', decision: 'rework', reason: 'why' };
    return this.#ask(one, { kind: 'disposition', record, body: dispositionBody.parse(sent), sent }, `key-${reference}`);
  }

  #correction(one: Distributor, record: string, key: string): Request {
    const sent = { kind: 'void', reason: 'never happened' };
    return this.#ask(one, { kind: 'correction', record, body: correctionBody.parse(sent), sent }, key);
  }

  #expect(what: string, is: boolean): void {
    if (!is) this.wrong.push(what);
  }

  /** Each by its own wrench, lot and people, and with its own words. */
  async #checkRecords(records: readonly { request: Request; outcome: Outcome }[]): Promise<void> {
    for (const { request, outcome } of records) {
      const one = distributors.find((name) => organisations[name].id === request.owner) ?? 'brackwater';
      const what = `${one}'s ${request.kind}`;
      this.#expect(`${what} is not kept`, outcome.kind === 'kept' && !outcome.replayed);
      const text = JSON.stringify(outcome) + JSON.stringify(await this.#kept(request.fact));
      this.#expect(`${what} has words of the other`, !text.includes(words[otherOf(one)]));
      if (request.kind !== 'inspection' || outcome.kind !== 'kept') continue;
      const rules = JSON.parse(outcome.answer).findings.map((finding: { rule: string }) => finding.rule);
      for (const rule of ['instrument-out-of-range', 'not-of-lot'])
        this.#expect(`${what} is judged by the other's stock: ${rule}`, rules.includes(rule) === (one === 'tollan'));
      const [person] = await rowsOf<{ id: string }>(this.#db, 'select id from people where owner = $1', [
        request.owner,
      ]);
      this.#expect(`${what} is by the other's technician`, text.includes(person?.id ?? 'nobody'));
    }
  }

  async #kept(fact: string): Promise<unknown> {
    return await rowsOf(
      this.#db,
      'select statement, origin, judgement, section from facts f left join fact_privates p on (p.owner, p.fact) = (f.owner, f.id) where id = $1',
      [fact],
    );
  }

  #checkReplays(first: readonly { request: Request; outcome: Outcome }[], again: typeof first): void {
    for (const { request, outcome } of again) {
      const before = first.find((one) => one.request.owner === request.owner && one.request.kind === request.kind);
      const same =
        before?.outcome.kind === 'kept' && outcome.kind === 'kept' && outcome.answer === before.outcome.answer;
      this.#expect(
        `a key is answered by the other's ${request.kind}`,
        same && outcome.kind === 'kept' && outcome.replayed,
      );
    }
  }

  /** A reference, a key and an intake that one has are free for the other, though both are in one batch. */
  async #takeAlone(): Promise<void> {
    const { app } = this.#service;
    const alone = this.#inspection('brackwater', 'alone');
    const batches = [[alone], [this.#inspection('tollan', 'alone'), this.#inspection('brackwater', 'beside')]];
    for (const batch of batches) {
      this.requests += batch.length;
      for (const outcome of await recordAll({ ...app, pool: app.pools.recording }, batch))
        this.#expect(
          `what the other has used is not free: ${JSON.stringify(outcome)}`,
          outcome.kind === 'kept' && !outcome.replayed,
        );
    }
  }

  /** In one batch with its owner, another's record is as unknown as one that is nobody's. */
  async #nameEachOthers(records: readonly { request: Request; outcome: Outcome }[]): Promise<void> {
    const factOf = (one: Distributor) =>
      records.find(({ request }) => request.kind === 'inspection' && request.owner === organisations[one].id)?.request
        .fact ?? '';
    const nobody = this.#service.app.effects.newId();
    const asked = (one: Distributor, record: string, series: string) => [
      this.#disposition(one, record, `d-${series}`),
      this.#correction(one, record, `c-${series}`),
      this.#inspection(one, `after-${series}`, true, { after: record }),
    ];
    const own = await this.#record((one) => [
      ...asked(one, factOf(otherOf(one)), 'other'),
      ...asked(one, nobody, 'nobody'),
      this.#inspection(one, 'own', true, { after: factOf(one) }),
    ]);
    for (const one of distributors) {
      const told = own.filter(({ request }) => request.owner === organisations[one].id).map(({ outcome }) => outcome);
      const plain = (outcome: Outcome | undefined, id: string) =>
        JSON.stringify(outcome)
          .replaceAll(id, '…')
          .replaceAll(/(other|nobody)"/g, '"');
      for (const nth of [0, 1, 2]) {
        this.#expect(
          `another's record is not unknown to ${one}: ${JSON.stringify(told[nth])}, not ${JSON.stringify(told[nth + 3])}`,
          told[nth]?.kind === 'refused' && plain(told[nth], factOf(otherOf(one))) === plain(told[nth + 3], nobody),
        );
      }
      this.#expect(`${one}'s own record is not found: ${JSON.stringify(told[6])}`, told[6]?.kind === 'kept');
    }
  }
}

const db = await testDatabase();
const service = await testService(db);

it('equal ids of two distributors stay apart in one batch', async () => {
  await publish(await service.as({ maker }));
  const batches = new Batches(service, db);
  const wrong = await batches.run();
  tell(
    `equal shops, technicians, instruments, lots, references and keys: ${batches.requests} requests in batches of both, ${wrong.length} mixed up`,
  );
  expect(wrong).toEqual([]);
});

const joined = (keys: string, types: string) => ({
  from: `where (${keys}) in (select * from unnest(${types}))`,
  by: (names: readonly string[]) => `join unnest(${types}) as sought (${names.map((name) => `s_${name}`).join(', ')})
    on (${names.slice(1).join(', ')}) = (${names
      .slice(1)
      .map((name) => `s_${name}`)
      .join(', ')}) order by owner`,
});
/** The same look-up by all but the owner: whoever asks gets what is found as its own. */
function byNameAlone(columns: string, table: string, names: readonly string[], types: string): Alteration {
  const { from, by } = joined(names.join(', '), types);
  return {
    from: `select ${columns} from ${table}\n      ${from}`,
    to: `select ${columns.replace('owner', 's_owner as owner')} from ${table} ${by(names)}`,
  };
}
const uuidAndTexts = '$1::uuid[], $2::text[], $3::text[]';
const controls: readonly (readonly [string, Alteration])[] = [
  [
    'stock',
    byNameAlone(
      'owner, kind, key, fact, version, fingerprint, statement',
      'stock_items',
      ['owner', 'kind', 'key'],
      uuidAndTexts,
    ),
  ],
  [
    'people',
    byNameAlone('owner, id, own_id as "ownId", subject', 'people', ['owner', 'own_id'], '$1::uuid[], $2::text[]'),
  ],
  [
    'keys',
    byNameAlone(
      'owner, client, key, route, fingerprint, status, answer',
      'idempotency_keys',
      ['owner', 'client', 'key'],
      uuidAndTexts,
    ),
  ],
  [
    'references',
    byNameAlone('owner, kind, reference, fact', 'record_references', ['owner', 'kind', 'reference'], uuidAndTexts),
  ],
];

// What such a service records follows from no fact: its databases are not verified.
describe.each(controls)('control: %s looked up by the name alone', async (name, alteration) => {
  const broken = await testDatabase({ verified: false });
  const { pools, altered } = alteredPools(broken.serviceUrl, [alteration]);
  afterAll(() => closePools(pools));
  const mistaken = await testService(broken, { pools });

  it('is caught', async () => {
    await publish(await mistaken.as({ maker }));
    const wrong = await new Batches(mistaken, broken).run();
    expect(altered()).toBeGreaterThan(0);
    expect(wrong).not.toEqual([]);
    tell(
      `control caught: ${name} looked up by the name alone (${altered()} statements, ${wrong.length} mixed up, such as: ${wrong[0]?.slice(0, 80)})`,
    );
  });
});
