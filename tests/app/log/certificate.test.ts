/** A certificate and a unit's chain, checked with what they hold and a public key. */
import { describe, expect, it } from 'vitest';
import { sequenceAll } from '../../../src/app/log/sequence.ts';
import { type Certificate, certificateFaults, withheldOf, withhold } from '../../../src/core/log/certificate.ts';
import { type Chain, chainFault, untied } from '../../../src/core/log/chain.ts';
import { testDatabase } from '../../support/database.ts';
import { mustGoWell } from '../../support/scene.ts';
import { type Caller, testService } from '../../support/service.ts';
import { conversionOf, inspectionOf, maker, openShops, registerPair } from '../../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { app, signer } = service;
const { brackwater, tollan } = await openShops(service);
const analyst = await service.as({ maker, scopes: ['warranty:read'] });
const keys = [signer];

async function converted(number: string, more: object = {}): Promise<string> {
  await registerPair(brackwater, number);
  const frame = { reference: `C-${number}`, performedAt: '2026-04-02T08:00:00Z' };
  const body = { ...(await conversionOf(brackwater, number, 'load-sense', frame)), ...more };
  return (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body.id;
}
const certificateOf = async (id: string, query = '', as: Caller = brackwater): Promise<Certificate> =>
  (await mustGoWell(as('GET', `/v1/records/${id}/certificate${query}`))).body;
const chainOf = async (number: string, as: Caller = brackwater): Promise<Chain> =>
  (await mustGoWell(as('GET', `/v1/controls/${maker}/K-${number}/chain`))).body;

describe('a certificate', () => {
  it('waits for the log, then proves itself', async () => {
    const id = await converted('one', { note: 'for the file' });
    expect(await brackwater('GET', `/v1/records/${id}/certificate`)).toMatchObject({ status: 404 });
    await sequenceAll(app);
    const certificate = await certificateOf(id);
    expect(certificateFaults(certificate, keys)).toEqual([]);
    expect(withheldOf(certificate)).toEqual([]);
    expect(certificate.sections.statement?.content).toMatchObject({ to: { function: 'load-sense' } });
    expect(certificateFaults(certificate, [])).toMatchObject([{ fault: 'checkpoint-of-no-known-key' }]);
  });

  it('says where one digit was changed', async () => {
    const id = await converted('changed');
    await sequenceAll(app);
    const certificate = await certificateOf(id);
    const edited = (from: string, to: string): Certificate => {
      const text = JSON.stringify(certificate);
      expect(text.split(from).length).toBeGreaterThan(1);
      return JSON.parse(text.replace(from, to));
    };
    const torque = /"reading":\{"unit":"N\.m","value":"\d+/.exec(JSON.stringify(certificate));
    if (torque === null) throw new Error('the conversion has no torque');
    const other = `${torque[0].slice(0, -1)}${torque[0].endsWith('9') ? 8 : 9}`;
    expect(certificateFaults(edited(torque[0], other), keys)).toEqual([
      { fault: 'section-changed', pointer: '/sections/statement' },
    ]);
    expect(certificateFaults(edited('"rule":"', '"rule":"x'), keys)).toEqual([
      { fault: 'section-changed', pointer: '/sections/judgement' },
    ]);
    expect(certificateFaults(edited('"kind":"conversion"', '"kind":"inspection"'), keys)).toEqual([
      { fault: 'entry-of-another-record', pointer: '/leaf' },
    ]);
    const { index } = certificate.proof;
    expect(certificateFaults(edited(`"index":${index}`, `"index":${index - 1}`), keys)).toEqual([
      { fault: 'not-in-the-log', pointer: '/proof' },
    ]);
    expect(certificateFaults(edited('\\n\\n', '\\n\\n\\n'), keys)).toMatchObject([{ pointer: '/proof' }]);
  });

  it('proves the same with sections withheld, by the service or by whoever has it', async () => {
    const id = await converted('withheld', { note: 'a name' });
    await sequenceAll(app);
    const certificate = await certificateOf(id, '?withhold=private,statement');
    expect(withheldOf(certificate)).toEqual(['statement', 'private']);
    expect(certificateFaults(certificate, keys)).toEqual([]);
    expect(JSON.stringify(certificate)).not.toContain('a name');
    expect(withhold(await certificateOf(id), ['private', 'statement'])).toEqual(certificate);
    expect(await brackwater('GET', `/v1/records/${id}/certificate?withhold=notes`)).toMatchObject({ status: 400 });
  });

  it("is the maker's to have without what is kept apart, and not another distributor's", async () => {
    const id = await converted('whose', { note: 'a name' });
    await sequenceAll(app);
    const certificate = await certificateOf(id, '', analyst);
    expect([withheldOf(certificate), certificateFaults(certificate, keys)]).toEqual([['private'], []]);
    expect(await tollan('GET', `/v1/records/${id}/certificate`)).toMatchObject({ status: 404 });
  });

  it('is of what is released and stands', async () => {
    await registerPair(brackwater, 'held');
    const frame = { reference: 'held', performedAt: '2026-04-03T08:00:00Z' };
    const body = { ...inspectionOf('held', frame), checks: [{ check: 'leak-free', result: 'failed' }] };
    const { id } = (await mustGoWell(brackwater('POST', '/v1/inspections', body))).body;
    expect(await brackwater('GET', `/v1/records/${id}/certificate`)).toMatchObject({
      ...{ status: 409, body: { code: 'not-released' } },
    });
    const first = await converted('replaced');
    const voided = (
      await mustGoWell(brackwater('POST', `/v1/records/${first}/corrections`, { kind: 'void', reason: 'never done' }))
    ).body.id;
    const answer = await brackwater('GET', `/v1/records/${first}/certificate`);
    expect(answer).toMatchObject({ status: 409, body: { code: 'not-released' } });
    expect(answer.body.detail).toContain(voided);
  });
});

describe('the chain of a unit', () => {
  it('has every place with its proof, up to what is published', async () => {
    await converted('chain');
    await sequenceAll(app);
    const before = await chainOf('chain');
    await mustGoWell(
      brackwater(
        'POST',
        '/v1/inspections',
        inspectionOf('chain', { reference: 'i', performedAt: '2026-04-04T08:00:00Z' }),
      ),
    );
    expect(await chainOf('chain')).toEqual(before);
    await sequenceAll(app);
    const chain = await chainOf('chain');
    expect(chain.entries).toHaveLength(before.entries.length + 1);
    expect([chainFault(chain, keys), untied(chain)]).toEqual([null, []]);
  });

  it.each<[string, (chain: Chain) => Chain, object]>([
    [
      'a record left out',
      (c) => ({ ...c, entries: c.entries.filter((_, at) => at !== 1) }),
      { fault: 'place-missing', seq: 2 },
    ],
    [
      'a record left out and the rest moved up',
      (c) => ({ ...c, entries: c.entries.filter((_, at) => at !== 1).map((one, at) => ({ ...one, seq: at + 1 })) }),
      { fault: 'not-of-this-unit', seq: 2 },
    ],
    [
      'another unit',
      (c) => ({ ...c, unit: '00000000-0000-7000-8000-000000000000' }),
      { fault: 'not-of-this-unit', seq: 1 },
    ],
    [
      'a record that says something else',
      (c) => ({ ...c, entries: c.entries.with(1, { ...at(c, 1), leaf: { ...leafAt(c, 1), kind: 'void' } }) }),
      { fault: 'entry-of-another-record', seq: 2 },
    ],
    [
      'another entry in a place that is withheld',
      (c) => ({ ...c, entries: c.entries.with(1, { ...at(c, 0), seq: 2, leaf: null }) }),
      { fault: 'chain-broken', seq: 3 },
    ],
    [
      'an entry that is not in the log',
      (c) => ({ ...c, entries: c.entries.with(0, { ...at(c, 0), index: at(c, 0).index + 1 }) }),
      { fault: 'not-in-the-log', seq: 1 },
    ],
  ])('breaks at %s', async (what, change, fault) => {
    const number = what.replaceAll(' ', '-').slice(0, 20);
    await converted(number);
    await mustGoWell(
      brackwater(
        'POST',
        '/v1/inspections',
        inspectionOf(number, { reference: number, performedAt: '2026-04-04T08:00:00Z' }),
      ),
    );
    await sequenceAll(app);
    const chain = await chainOf(number);
    expect(chain.entries).toHaveLength(3);
    expect(chainFault(change(chain), keys)).toEqual(fault);
  });

  it('shows of others their entries alone, tied by the places after them', async () => {
    const number = 'others';
    await converted(number);
    await mustGoWell(
      tollan('POST', '/v1/inspections', inspectionOf(number, { reference: 't', performedAt: '2026-04-04T08:00:00Z' })),
    );
    await sequenceAll(app);
    const chain = await chainOf(number, tollan);
    expect(chain.entries.map(({ leaf }) => leaf === null)).toEqual([true, true, false]);
    // The second is named by the third, the first by nobody whose leaf is shown.
    expect([chainFault(chain, keys), untied(chain)]).toEqual([null, [1]]);
    const whole = await chainOf(number, analyst);
    expect(whole.entries.map(({ entry }) => entry)).toEqual(chain.entries.map(({ entry }) => entry));
    expect([chainFault(whole, keys), untied(whole)]).toEqual([null, []]);
  });
});

function at(chain: Chain, index: number): Chain['entries'][number] {
  const entry = chain.entries[index];
  if (entry === undefined) throw new Error(`the chain has no entry ${index}`);
  return entry;
}

function leafAt(chain: Chain, index: number) {
  const { leaf } = at(chain, index);
  if (leaf === null) throw new Error(`the leaf ${index} is withheld`);
  return leaf;
}
