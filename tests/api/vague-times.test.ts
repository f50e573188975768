/** Work known to the day or month: placed as such, and what nobody can tell is said to be unknown. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, inspectionOf, openShops, registerControl, unitFor } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

let count = 0;
const onDay = (date: string) => ({ at: `2026-${date}T00:00:00Z`, precision: 'day' });
const inMonth = (date: string) => ({ at: `2026-${date}T00:00:00Z`, precision: 'month' });
const element = { 'load-sense': 'plug-m5', 'load-sense-bled': 'orifice-0.6' } as Record<string, string>;
/** A kept look at a control that found this function, with its bleed seat. */
async function look(
  number: string,
  performedAt: unknown,
  fun: string,
  rest: object = {},
  shop = brackwater,
): Promise<Json> {
  const stations = { 'bleed-seat': [{ element: element[fun] }] };
  const body = { ...inspectionOf(number, { reference: `R-${++count}`, performedAt: '' }), performedAt };
  const kept = await mustGoWell(
    shop('POST', '/v1/inspections', { ...body, found: { stations, function: fun }, ...rest }),
  );
  return kept.body;
}
const converted = async (number: string, to: string, performedAt: unknown, rest: object = {}): Promise<Json> => {
  const body = await conversionOf(brackwater, number, to, { reference: `R-${++count}`, performedAt: '' });
  return (await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, performedAt, ...rest }))).body;
};
const rulesOf = ({ findings }: Json) => findings.map((one: Json) => one.rule);
const functionAt = async (number: string, at: string) =>
  (await mustGoWell(brackwater('GET', `/v1/controls/ardenholm/K-${number}/history?performed=2026-${at}Z`))).body.state
    .function;

describe('a time known to the day or the month', () => {
  it('counts as over when that is over', async () => {
    await registerControl(brackwater, 'day');
    await converted('day', 'load-sense', onDay('05-10'));
    expect(await functionAt('day', '05-10T12:00:00')).toBe('load-sense-bled');
    expect(await functionAt('day', '05-11T00:00:00')).toBe('load-sense');
    await converted('day', 'load-sense-bled', inMonth('06-10'));
    expect(await functionAt('day', '06-30T12:00:00')).toBe('load-sense');
    expect(await functionAt('day', '07-01T00:00:00')).toBe('load-sense-bled');
  });

  it('that comes late stands at the end of its day, before and after what is known exactly', async () => {
    await registerControl(brackwater, 'among');
    const june = await converted('among', 'load-sense', '2026-06-01T08:00:00Z');
    const may = await look('among', onDay('05-31'), 'load-sense-bled');
    expect([june.status, may.status]).toEqual(['incomplete', 'released']);
    expect((await look('among', onDay('06-01'), 'load-sense')).status).toBe('released');
  });
});

describe('two records of one day', () => {
  it('that follow from each other by what they found need no "after"', async () => {
    await registerControl(brackwater, 'plain');
    expect(rulesOf(await converted('plain', 'load-sense', onDay('05-10')))).not.toContain('order-unknown');
    expect(rulesOf(await converted('plain', 'load-sense-bled', onDay('05-10')))).not.toContain('order-unknown');
  });

  it('that leave different things in an unknown order hold the unit, with both orders named; with "after" it is decided', async () => {
    await registerControl(brackwater, 'unknown');
    const first = await converted('unknown', 'load-sense', onDay('05-10'));
    const {
      found: _,
      removed: __,
      ...body
    } = await conversionOf(brackwater, 'unknown', 'load-sense-bled', {
      ...{ reference: 'unknown', performedAt: '' },
    });
    // What came out is not known by name, so it follows from neither.
    const vague = {
      ...{ ...body, performedAt: onDay('05-10'), found: { stations: { 'bleed-seat': { unknown: 'not looked at' } } } },
      removed: [{ station: 'bleed-seat', element: { unknown: 'thrown away' } }],
      fitted: [{ station: 'bleed-seat', element: 'orifice-0.8', lot: 'L-1' }],
    };
    const answer = await mustGoWell(brackwater('POST', '/v1/conversions?check=only', vague));
    const held = answer.body.findings.filter((one: Json) => one.rule === 'order-unknown');
    expect(held).toMatchObject([{ severity: 'hold', found: 'orifice-0.8' }]);
    expect(held[0].because).toContain(first.id);
    expect(held[0].because).toContain('plug-m5');
    const after = { ...vague, after: first.id };
    expect(rulesOf((await mustGoWell(brackwater('POST', '/v1/conversions?check=only', after))).body)).not.toContain(
      'order-unknown',
    );
    const kept = (await mustGoWell(brackwater('POST', '/v1/conversions', vague))).body;
    expect((await unitFor(brackwater, 'control', 'unknown')).status).toBe('held');
    const reason = 'the fitter remembers';
    const correction = { kind: 'conversion', reason, body: after };
    await mustGoWell(brackwater('POST', `/v1/records/${kept.id}/corrections`, correction));
    const { findings } = await unitFor(brackwater, 'control', 'unknown');
    expect(findings.map((one: Json) => one.rule)).not.toContain('order-unknown');
  });

  it('keep their order when one of them is corrected, or judged again', async () => {
    await registerControl(brackwater, 'kept');
    const first = await converted('kept', 'load-sense', onDay('05-10'));
    await converted('kept', 'load-sense-bled', onDay('05-10'));
    expect((await unitFor(brackwater, 'control', 'kept')).function).toBe('load-sense-bled');
    const { statement } = (await mustGoWell(brackwater('GET', `/v1/records/${first.id}`))).body;
    const body = {
      ...statement,
      technician: 't-17',
      torques: statement.torques.map((one: Json) => ({ ...one, by: undefined })),
    };
    await mustGoWell(
      brackwater('POST', `/v1/records/${first.id}/corrections`, { kind: 'conversion', reason: 'r', body }),
    );
    expect((await unitFor(brackwater, 'control', 'kept')).function).toBe('load-sense-bled');
    await look('kept', '2026-04-01T08:00:00Z', 'load-sense-bled', {}, tollan);
    const { function: fun, findings } = await unitFor(brackwater, 'control', 'kept');
    expect([fun, findings.filter((one: Json) => one.severity === 'hold')]).toEqual(['load-sense-bled', []]);
  });
});
