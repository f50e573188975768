/** Where a unit is: who is told so, and what it means for work on it. What "custody" is, is common practice of the trade, no published source. */
import { describe, expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { inspectionBody } from '../../src/core/records/bodies.ts';
import { uploader } from '../support/bulk.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, requestOf, testService } from '../support/service.ts';
import {
  onControl as control,
  conversionOf,
  edition,
  inspectionOf,
  maker,
  openShops,
  onPump as pump,
  registerControl,
  registerPair,
  unitFor,
} from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
await mustGoWell(brackwater('PUT', '/v1/shops/south', { name: 'south yard' }));
const inspector = await service.as({ distributor: 'brackwater', subject: 'inspector' });
type Json = Awaited<ReturnType<Caller>>['body'];

const day = (date: string) => `2026-04-${date}T08:00:00Z`;
const unitOf = (kind: 'pump' | 'control', number: string, shop = brackwater): Promise<Json> =>
  unitFor(shop, kind, number);
let count = 0;
function move(what: string, unit: object, date: string, rest: object = {}, shop = brackwater) {
  count += 1;
  const frame = { reference: `M-${count}`, performedAt: day(date), shop: 'north', technician: 't-17' };
  return shop('POST', '/v1/movements', { what, ...unit, ...frame, ...rest });
}
async function work(number: string, date: string, rest: object = {}, shop = brackwater): Promise<Json> {
  count += 1;
  const body = { ...inspectionOf(number, { reference: `W-${count}`, performedAt: day(date) }), ...rest };
  return (await mustGoWell(shop('POST', '/v1/inspections', body))).body;
}
const held = async (kind: 'pump' | 'control', number: string) =>
  (await unitOf(kind, number)).findings.map((one: Json) => [one.rule, one.fact]);
const rulesOf = ({ findings }: Json) => findings.map((one: Json) => `${one.severity} ${one.rule}`);

describe('where a unit is', () => {
  it('is told to who said so, with what is mounted on it, and to the analyst of its maker', async () => {
    await registerPair(brackwater, 'told');
    expect((await unitOf('pump', 'told')).custody).toBe(null);
    const { id } = (await mustGoWell(move('received', pump('told'), '01', { from: 'Harbour Works' }))).body;
    const custody = { record: id, is: 'in', shop: 'north', since: '2026-04-01T08:00:00.000000Z' };
    for (const kind of ['pump', 'control'] as const) {
      expect((await unitOf(kind, 'told')).custody).toEqual(custody);
      expect((await unitOf(kind, 'told', analyst)).custody).toEqual(custody);
    }
    await mustGoWell(move('lent', control('told'), '02', { to: { shop: 'south' } }));
    expect((await unitOf('pump', 'told')).custody).toMatchObject({ is: 'out', since: '2026-04-02T08:00:00.000000Z' });
    await mustGoWell(move('returned', control('told'), '03'));
    expect((await unitOf('control', 'told')).custody).toMatchObject({ is: 'in' });
  });

  it('changes nothing of what another distributor reads, down to the byte: not where it is, nor that or when it moved', async () => {
    await registerPair(brackwater, 'quiet');
    const paths = ['P', 'K'].map((letter) => `/v1/${letter === 'P' ? 'pumps' : 'controls'}/${maker}/${letter}-quiet`);
    const seen = async () => {
      const answers = [];
      for (const path of [...paths, ...paths.map((one) => `${one}/history`)]) {
        answers.push((await mustGoWell(tollan('GET', path))).text.replace(/"horizon":"[^"]*"/, ''));
      }
      return answers;
    };
    const before = await seen();
    const kept = [
      await move('received', pump('quiet'), '01', { from: 'Harbour Works' }),
      await move('lent', pump('quiet'), '02', { to: 'Harbour Works' }),
      await move('returned', pump('quiet'), '03'),
      await brackwater('POST', '/v1/start-ups', {
        ...{ ...pump('quiet'), reference: 'quiet', performedAt: day('04'), shop: 'north', technician: 't-17' },
        machine: 'press 4 of Harbour Works',
      }),
      await move('delivered', pump('quiet'), '05', { to: 'Harbour Works' }),
    ];
    const ids = kept.map((one) => one.body.id as string);
    await mustGoWell(
      brackwater('POST', `/v1/records/${ids.at(-1)}/corrections`, { kind: 'void', reason: 'it stayed' }),
    );
    expect(await seen()).toEqual(before);
    const own = (await mustGoWell(brackwater('GET', `${paths[0]}/history`))).body.items;
    expect(own.map((one: Json) => one.kind)).toEqual([
      ...['registration', 'movement', 'movement', 'movement', 'start-up', 'movement', 'correction'],
    ]);
    for (const id of ids) expect((await tollan('GET', `/v1/records/${id}`)).status).toBe(404);
  });

  it('is told nobody else by the answer to work on it, but that it was not where it was worked on', async () => {
    await registerPair(brackwater, 'asked');
    await mustGoWell(move('received', pump('asked'), '01', { from: 'Harbour Works' }));
    const out = await work('asked', '02', {}, tollan);
    await mustGoWell(move('delivered', pump('asked'), '03', { to: 'Harbour Works' }));
    const other = await work('asked', '04', {}, tollan);
    const said = ({ findings }: Json) => findings.filter((one: Json) => one.rule === 'not-in-custody');
    const plain = (one: Json) => said(one).map(({ clearedBy: _, text: __, ...rest }: Json) => rest);
    expect(said(out)).toHaveLength(2);
    expect(plain(out)).toEqual(plain(other));
    expect(JSON.stringify([out, other])).not.toMatch(/Harbour|north|brackwater|delivered/i);
  });
});

describe('work on a unit', () => {
  it('is held where its records have the unit at another shop, out of the house, or with somebody else; not where nobody has said', async () => {
    await registerControl(brackwater, 'held');
    expect(rulesOf(await work('held', '01'))).toEqual([]);
    await mustGoWell(move('received', control('held'), '02'));
    expect(rulesOf(await work('held', '03'))).toEqual([]);
    expect(rulesOf(await work('held', '03', { shop: 'south' }))).toEqual(['hold not-in-custody']);
    expect(rulesOf(await work('held', '03', {}, tollan))).toEqual(['hold not-in-custody']);
    await mustGoWell(move('delivered', control('held'), '04'));
    expect(rulesOf(await work('held', '05'))).toEqual(['hold not-in-custody']);
    // As it was when the work was done, whatever was recorded first.
    expect(rulesOf(await work('held', '03'))).toEqual([]);
  });

  it('is held on the unit that was elsewhere: on the pump, where that was', async () => {
    await registerControl(brackwater, 'shelf');
    await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-away`, pumpWith(null)));
    await mustGoWell(move('delivered', pump('away'), '01'));
    const frame = { reference: 'away', performedAt: day('02'), edition, shop: 'north', technician: 't-17' };
    const on = { ...control('shelf'), ...pump('away'), ...frame, on: true };
    const { id, findings } = (await mustGoWell(brackwater('POST', '/v1/mountings', on))).body;
    expect(findings[0]).toMatchObject({
      ...{ rule: 'not-in-custody', severity: 'hold', pointer: '/shop' },
      clearedBy: [
        { kind: 'custody', place: 'pump' },
        { kind: 'disposition', place: id },
      ],
    });
    expect(await held('pump', 'away')).toEqual([['not-in-custody', id]]);
    expect((await held('control', 'shelf')).flat()).not.toContain('not-in-custody');
    await mustGoWell(move('received', control('shelf'), '03'));
    expect(await held('pump', 'away')).toEqual([]);
  });

  it('is held no more once the same shop says that the unit came in, before the work though recorded late, or after it', async () => {
    for (const [number, date] of [
      ['late', '03'],
      ['since', '09'],
    ] as const) {
      await registerPair(brackwater, number);
      await mustGoWell(move('delivered', pump(number), '01'));
      const { id } = await work(number, '05');
      const both = async () => [...(await held('pump', number)), ...(await held('control', number))];
      const twice = [
        ['not-in-custody', id],
        ['not-in-custody', id],
      ];
      expect(await both()).toEqual(twice);
      await mustGoWell(move('received', pump(number), date, { shop: 'south' }));
      expect(await both()).toEqual(twice);
      await mustGoWell(move('received', pump(number), date, {}, tollan));
      expect(await both()).toEqual(twice);
      const came = (await mustGoWell(move('received', pump(number), date))).body;
      expect(await both()).toEqual([]);
      // And is held again where that turns out to be wrong.
      await mustGoWell(
        brackwater('POST', `/v1/records/${came.id}/corrections`, { kind: 'void', reason: 'another pump' }),
      );
      expect(await both()).toEqual(twice);
    }
  });

  it('is held on where the unit came in late but had left again before the work', async () => {
    await registerControl(brackwater, 'left');
    await mustGoWell(move('delivered', control('left'), '04'));
    const { id } = await work('left', '05');
    await mustGoWell(move('received', control('left'), '02'));
    expect(await held('control', 'left')).toEqual([['not-in-custody', id]]);
  });

  it('is not held where it is recorded after the movement that says that the unit came in since', async () => {
    await registerControl(brackwater, 'after');
    await mustGoWell(move('delivered', control('after'), '01'));
    await mustGoWell(move('received', control('after'), '09'));
    expect(rulesOf(await work('after', '05'))).toEqual([]);
    expect(rulesOf(await work('after', '05', { shop: 'south' }))).toEqual(['hold not-in-custody']);
  });

  it('is judged by its own records alone, also in one batch with those of whoever has the unit', async () => {
    await registerControl(brackwater, 'mixed');
    await mustGoWell(move('received', control('mixed'), '01'));
    const requests = (['brackwater', 'tollan'] as const).map((distributor) => {
      const sent = inspectionOf('mixed', { reference: 'mixed', performedAt: day('02') });
      return requestOf(service.app, { distributor }, { kind: 'inspection', body: inspectionBody.parse(sent), sent });
    });
    const outcomes = await recordAll({ ...service.app, pool: service.app.pools.recording }, requests);
    const told = outcomes.map((one) => (one.kind === 'kept' ? rulesOf(JSON.parse(one.answer)) : one));
    expect(told).toEqual([[], ['hold not-in-custody']]);
    const facts = requests.map((one) => one.fact);
    expect(await rowsOf(db, 'select distinct xmin::text from facts where id = any ($1)', [facts])).toHaveLength(1);
  });

  it('is held no more with leave by somebody else', async () => {
    await registerControl(brackwater, 'leave');
    await mustGoWell(move('delivered', control('leave'), '01'));
    const { id } = await work('leave', '05');
    const decision = {
      reference: 'leave',
      performedAt: day('06'),
      decision: 'concession',
      reason: 'done at the customer',
    };
    await mustGoWell(inspector('POST', `/v1/records/${id}/dispositions`, decision));
    expect(await held('control', 'leave')).toEqual([]);
  });

  it('is judged anew where it is corrected to another shop or day', async () => {
    await registerControl(brackwater, 'wrong');
    await mustGoWell(move('received', control('wrong'), '02'));
    const body = inspectionOf('wrong', { reference: 'wrong', performedAt: day('01') });
    await mustGoWell(move('lent', control('wrong'), '04'));
    const first = (await mustGoWell(brackwater('POST', '/v1/inspections', { ...body, performedAt: day('05') }))).body;
    expect(rulesOf(first)).toEqual(['hold not-in-custody']);
    const correct = async (id: string, more: object) =>
      (
        await mustGoWell(
          brackwater('POST', `/v1/records/${id}/corrections`, {
            ...{ kind: 'inspection', reason: 'another day', body: { ...body, ...more } },
          }),
        )
      ).body;
    const second = await correct(first.id, { performedAt: day('03') });
    expect(rulesOf(second)).toEqual([]);
    expect(rulesOf(await correct(second.id, { performedAt: day('03'), shop: 'south' }))).toEqual([
      'hold not-in-custody',
    ]);
  });

  it('is judged after what came in by the same batch', async () => {
    await registerControl(brackwater, 'batch');
    await mustGoWell(move('delivered', control('batch'), '01'));
    const upload = await uploader(service, { distributor: 'brackwater' });
    const frame = { shop: 'north', technician: 't-17' };
    const received = { what: 'received', ...control('batch'), reference: 'b-m', performedAt: day('02'), ...frame };
    const { outcomes } = await upload([
      { key: 'batch-1', kind: 'movement', body: received },
      { key: 'batch-2', kind: 'inspection', body: inspectionOf('batch', { reference: 'b-1', performedAt: day('03') }) },
      {
        ...{ key: 'batch-3', kind: 'inspection' },
        body: { ...inspectionOf('batch', { reference: 'b-2', performedAt: day('03') }), shop: 'south' },
      },
    ]);
    expect(outcomes.map((one: Json) => one.status)).toEqual([201, 201, 201]);
    expect(await held('control', 'batch')).toEqual([['not-in-custody', expect.any(String)]]);
  });
});

describe('a conversion by the book', () => {
  it('is released at the shop that has the unit', async () => {
    await registerPair(brackwater, 'book');
    await mustGoWell(move('received', pump('book'), '01'));
    const record = await conversionOf(brackwater, 'book', 'load-sense', { reference: 'book', performedAt: day('02') });
    expect((await mustGoWell(brackwater('POST', '/v1/conversions', record))).body.status).toBe('released');
  });
});
