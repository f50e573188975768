/** A record replaced by what it should have said, or made void: the state is as if it had never been, and it stays readable. */
import { beforeAll, describe, expect, it } from 'vitest';
import { uploader } from '../support/bulk.ts';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, inspectionOf, openShops, registerPair } from '../support/shop.ts';
import { usesReached } from '../support/uses-reached.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Json = Awaited<ReturnType<typeof brackwater>>['body'];

const control = async (number: string) =>
  (await mustGoWell(brackwater('GET', `/v1/controls/ardenholm/K-${number}`))).body.control as Json;
const historyOf = async (number: string, query = '') =>
  (await mustGoWell(brackwater('GET', `/v1/controls/ardenholm/K-${number}/history${query}`))).body as Json;
const correct = (id: string, body: Json, shop = brackwater) => shop('POST', `/v1/records/${id}/corrections`, body);
const elementAt = ({ fit }: Json, station: string) => fit[station].elements.map((one: Json) => one['element']);

async function converted(number: string, to = 'load-sense') {
  await registerPair(brackwater, number);
  const body = await conversionOf(brackwater, number, to, { reference: number, performedAt: '2026-04-01T08:00:00Z' });
  return {
    body: body as Json,
    ...((await mustGoWell(brackwater('POST', '/v1/conversions', body))).body as Json),
  } as Json;
}

describe('a correction', () => {
  let first: Json;
  let answer: Json;
  beforeAll(async () => {
    first = await converted('torque');
    // The wrench had been read off wrongly.
    const [torque, ...torques] = first['body'].torques;
    const wrong = { ...first['body'], torques: [{ ...torque, reading: { value: '9.9', unit: 'N.m' } }, ...torques] };
    answer = (await mustGoWell(correct(first['id'], { kind: 'conversion', reason: 'misread', body: wrong }))).body;
  });

  it('is judged as a record of its kind, in the place of the one that it replaces', async () => {
    expect(first['status']).toBe('released');
    expect(answer).toMatchObject({ status: 'held', replaces: first['id'] });
    expect(await control('torque')).toMatchObject({ status: 'held', function: 'load-sense' });
    expect((await control('torque'))['fit']['bleed-seat'].record).toBe(answer['id']);
  });

  it('leaves the record readable, and says of it that it counts no more', async () => {
    const record = (await mustGoWell(brackwater('GET', `/v1/records/${first['id']}`))).body;
    expect(record).toMatchObject({ kind: 'conversion', correctedBy: answer['id'], concerns: null });
    expect(record.judgement.status).toBe('released');
    const correction = (await mustGoWell(brackwater('GET', `/v1/records/${answer['id']}`))).body;
    expect(correction).toMatchObject({ kind: 'correction', correctedBy: null, concerns: first['id'] });
    expect(correction.statement).toMatchObject({ kind: 'conversion', reason: 'misread', record: first['id'] });
    const { items } = await historyOf('torque');
    expect(items.map((one: Json) => [one['kind'], one['counts'], one['correctedBy']])).toEqual([
      ['registration', true, null],
      ['conversion', false, answer['id']],
      ['correction', true, null],
    ]);
  });

  it('may be corrected itself, but nothing twice', async () => {
    const again = await correct(first['id'], { kind: 'void', reason: 'no' });
    expect(again).toMatchObject({
      status: 409,
      body: { findings: [{ rule: 'corrected-already', found: answer['id'] }] },
    });
    const right = await mustGoWell(
      correct(answer['id'], { kind: 'conversion', reason: 'it was right', body: first['body'] }),
    );
    expect(right.body).toMatchObject({ status: 'released', replaces: answer['id'] });
    expect((await control('torque'))['status']).toBe('released');
  });

  it('keeps kind, reference and unit', async () => {
    const one = await converted('kept');
    await registerPair(brackwater, 'other');
    const { body } = one;
    const rulesOf = async (correction: Json) => {
      const refused = await correct(one['id'], { reason: 'r', ...correction });
      expect(refused.status).toBe(409);
      return refused.body.findings.map((finding: Json) => [finding['rule'], finding['pointer']]);
    };
    const look = inspectionOf('kept', { reference: 'kept', performedAt: '2026-04-01T08:00:00Z' });
    expect(await rulesOf({ kind: 'inspection', body: look })).toEqual([['other-kind', '/kind']]);
    const renamed = { ...body, reference: 'another' };
    expect(await rulesOf({ kind: 'conversion', body: renamed })).toEqual([['other-reference', '/body/reference']]);
    const elsewhere = { ...body, control: { maker: 'ardenholm', serial: 'K-other' } };
    expect(await rulesOf({ kind: 'conversion', body: elsewhere })).toEqual([['other-unit', '/body']]);
    const unknown = { ...body, technician: 'nobody' };
    expect(await rulesOf({ kind: 'conversion', body: unknown })).toEqual([['unknown-id', '/body/technician']]);
    expect((await control('kept'))['status']).toBe('released');
  });

  it('is for the owner of the record alone, and not for registrations', async () => {
    const { items } = await historyOf('kept');
    const stays = await correct(items[0].id, { kind: 'void', reason: 'r' });
    expect(stays.body.findings).toMatchObject([{ rule: 'not-correctable' }]);
    const strange = await correct(items[1].id, { kind: 'void', reason: 'r' }, tollan);
    const nowhere = await correct('01890000-0000-7000-8000-000000000000', { kind: 'void', reason: 'r' }, tollan);
    expect([strange.status, strange.body.code]).toEqual([nowhere.status, nowhere.body.code]);
    expect(strange.status).toBe(404);
  });
});

describe('a void record', () => {
  it('gives back what was there before, as known then and now, and no part of its lot went anywhere', async () => {
    const record = await converted('void');
    const lot = record['body'].fitted.find((one: Json) => one['lot'] !== undefined).lot;
    const reach = async () =>
      usesReached((await mustGoWell(analyst('GET', `/v1/reach?lot=ardenholm/${lot}&first=200`))).body.items).filter(
        (one) => one.record === record['id'],
      ).length;
    expect(await reach()).toBeGreaterThan(0);
    const { recordedAt } = (await mustGoWell(brackwater('GET', `/v1/records/${record['id']}`))).body;
    await mustGoWell(correct(record['id'], { kind: 'void', reason: 'posted for the wrong control' }));
    expect(elementAt(await control('void'), 'bleed-seat')).toEqual(['orifice-0.6']);
    expect(await control('void')).toMatchObject({ function: 'load-sense-bled', status: 'released' });
    expect(await reach()).toBe(0);
    const then = await historyOf('void', `?performed=2026-04-02T00:00:00Z&known=${recordedAt}`);
    if (then['known'] === recordedAt) expect(then['state'].function).toBe('load-sense');
    else expect(then['known'] < recordedAt).toBe(true);
  });

  it('takes its holds with it, also those that nothing else clears', async () => {
    await registerPair(brackwater, 'nothing');
    const unknown = { unknown: 'nobody remembers' };
    const look = {
      ...inspectionOf('nothing', { reference: 'nothing', performedAt: '2026-04-01T08:00:00Z' }),
      technician: unknown,
    };
    const { id, status } = (await mustGoWell(brackwater('POST', '/v1/inspections', look))).body;
    expect(status).toBe('held');
    const scrap = { reference: 'scrap', performedAt: '2026-04-02T08:00:00Z', decision: 'scrap', reason: 'bent' };
    const disposition = (await mustGoWell(brackwater('POST', `/v1/records/${id}/dispositions`, scrap))).body;
    expect((await control('nothing'))['findings'].map((one: Json) => one['rule']).sort()).toEqual(
      expect.arrayContaining(['nothing-known', 'scrapped']),
    );
    await mustGoWell(correct(disposition.id, { kind: 'void', reason: 'the wrong one' }));
    await mustGoWell(
      correct(id, { kind: 'inspection', reason: 'asked around', body: { ...look, technician: 't-17' } }),
    );
    expect((await control('nothing'))['status']).toBe('released');
  });
});

describe('what follows a corrected record', () => {
  const seat = (element: string) => [{ station: 'bleed-seat', element }];

  it('is judged again: what could not have been is held until somebody decides, and put right when that is', async () => {
    const first = await converted('after');
    const later = {
      ...(await conversionOf(brackwater, 'after', 'load-sense-bled', {
        reference: 'after-2',
        performedAt: '2026-05-01T08:00:00Z',
      })),
    } as Json;
    expect(later['removed']).toEqual([expect.objectContaining(seat('plug-m5')[0] ?? {})]);
    const second = (await mustGoWell(brackwater('POST', '/v1/conversions', later))).body;
    expect(second.status).toBe('released');
    // The first never happened: then there was no plug to be taken out.
    const undone = (await mustGoWell(correct(first['id'], { kind: 'void', reason: 'another control' }))).body;
    const held = await control('after');
    expect(held).toMatchObject({ status: 'held', function: 'load-sense-bled' });
    const open = new Set(held['findings'].map((one: Json) => `${one['rule']} of ${one['fact']}`));
    // The orifice was in the seat all along.
    expect([...open]).toEqual(['found-needed', 'two-in-one-seat'].map((rule) => `${rule} of ${second.id}`));
    const record = (await mustGoWell(brackwater('GET', `/v1/records/${second.id}`))).body;
    expect(record).toMatchObject({ status: 'held', judgement: { status: 'released' } });
    const [again] = record.judgedAgain;
    const judgement = (await mustGoWell(brackwater('GET', `/v1/records/${again}`))).body;
    expect(judgement).toMatchObject({ kind: 'judgement', concerns: second.id, statement: { cause: undone.id } });
    const caused = (await mustGoWell(brackwater('GET', `/v1/judgements?cause=${undone.id}`))).body;
    expect(caused).toMatchObject({
      items: [
        {
          ...{ id: again, cause: undone.id, record: second.id, kind: 'conversion', reference: 'after-2' },
          units: expect.arrayContaining([
            expect.objectContaining({
              name: 'K-after',
              status: 'held',
              mountedWith: expect.objectContaining({ name: 'P-after' }),
            }),
          ]),
          status: { was: 'released', is: 'held' },
        },
      ],
      pageInfo: { hasNextPage: false },
    });
    expect((await mustGoWell(tollan('GET', `/v1/judgements?cause=${undone.id}`))).body.items).toEqual([]);
    expect((await mustGoWell(analyst('GET', `/v1/judgements?cause=${undone.id}`))).body).toEqual(caused);
    // The void is itself taken back.
    await mustGoWell(
      correct(undone.id, { kind: 'conversion', reason: 'it was this one after all', body: first['body'] }),
    );
    expect((await control('after'))['status']).toBe('released');
    const { items } = await historyOf('after');
    expect(items.map((one: Json) => [one['kind'], one['counts']])).toEqual([
      ['registration', true],
      ['conversion', false],
      ['correction', true],
      ['conversion', true],
      ['correction', false],
      ['judgement', true],
      ['judgement', true],
    ]);
  });

  it('is judged again once, however often the correction is sent', async () => {
    const first = await converted('once');
    const frame = { reference: 'once-2', performedAt: '2026-05-01T08:00:00Z' };
    const later = await conversionOf(brackwater, 'once', 'load-sense-bled', frame);
    const { id } = (await mustGoWell(brackwater('POST', '/v1/conversions', later))).body;
    const voided = { kind: 'void', reason: 'another control' };
    const send = () => brackwater('POST', `/v1/records/${first['id']}/corrections`, voided, 'once-key');
    expect((await mustGoWell(send())).body).toEqual((await mustGoWell(send())).body);
    expect((await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body.judgedAgain).toHaveLength(1);
  });

  it('is judged again as well where the correction comes as a line among others', async () => {
    const first = await converted('line');
    const frame = { reference: 'line-2', performedAt: '2026-05-01T08:00:00Z' };
    const later = await conversionOf(brackwater, 'line', 'load-sense-bled', frame);
    const { id } = (await mustGoWell(brackwater('POST', '/v1/conversions', later))).body;
    const body = { kind: 'void', reason: 'another control' };
    const upload = await uploader(service, { distributor: 'brackwater' });
    const { outcomes } = await upload([{ key: 'line-key', kind: 'correction', record: first['id'], body }]);
    expect(outcomes).toMatchObject([{ line: 1, status: 201 }]);
    expect(await control('line')).toMatchObject({ status: 'held' });
    expect((await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body.judgedAgain).toHaveLength(1);
  });

  it('is left alone where it is judged the same', async () => {
    const first = await converted('same');
    const look = inspectionOf('same', { reference: 'same-2', performedAt: '2026-05-01T08:00:00Z' });
    const { id } = (await mustGoWell(brackwater('POST', '/v1/inspections', look))).body;
    await mustGoWell(correct(first['id'], { kind: 'conversion', reason: 'typed again', body: first['body'] }));
    expect((await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body.judgedAgain).toEqual([]);
  });
});
