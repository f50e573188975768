/** Records that come late are placed where their work was done; what was restated after it stays as it is. */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, inspectionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const historyOf = async (number: string, query = '') =>
  (await mustGoWell(brackwater('GET', `/v1/controls/ardenholm/K-${number}/history${query}`))).body;
const held = (content: { elements: { element: string }[] }) => content.elements.map(({ element }) => element);
const seatAt = async (number: string, day: string) => {
  const { state } = await historyOf(number, `?performed=2026-${day}T12:00:00Z`);
  return [state.function, ...held(state.fit['bleed-seat']), ...held(state.fit['sense-bore'])];
};

/** Converts by the job sheet as it is now, as if the work had been done on that day. */
async function convert(number: string, to: string, day: string): Promise<Record<string, unknown>> {
  const frame = { reference: `${number}-${day}`, performedAt: `2026-${day}T08:00:00Z` };
  return await conversionOf(brackwater, number, to, frame);
}

describe('a conversion dated between two that are recorded', () => {
  // In the order of recording: bled → unbled in April, then remote pressure in June; then what happened in May.
  let late: Record<string, unknown> = {};
  beforeAll(async () => {
    await registerPair(brackwater, 'late');
    await mustGoWell(brackwater('POST', '/v1/conversions', await convert('late', 'load-sense', '04-01')));
    // The May work, made from the sheet as it was then; it puts the bleed back.
    late = await convert('late', 'load-sense-bled', '05-01');
    await mustGoWell(brackwater('POST', '/v1/conversions', await convert('late', 'remote-pressure', '06-01')));
  });

  it('is judged by what was in the control then, and placed there', async () => {
    expect(await seatAt('late', '05-02')).toEqual(['load-sense', 'plug-m5', 'spool-sense']);
    const answer = await mustGoWell(brackwater('POST', '/v1/conversions', late));
    expect(answer.body).toMatchObject({ status: 'released', function: 'load-sense-bled' });
    // What it leaves in the bleed seat June did not find there: June is judged again, and held until somebody looks.
    const { items: judged } = (await mustGoWell(brackwater('GET', `/v1/judgements?cause=${answer.body.id}`))).body;
    expect(judged).toMatchObject([{ reference: 'late-06-01', status: { was: 'released', is: 'held' } }]);
    const { findings } = (await mustGoWell(brackwater('GET', '/v1/controls/ardenholm/K-late'))).body.control;
    expect(findings).toContainEqual(
      expect.objectContaining({ rule: 'found-needed', severity: 'hold', fact: judged[0].record }),
    );
    const { items } = await historyOf('late');
    expect(items.map((one: { performed: { to: string } }) => one.performed.to.slice(0, 7))).toEqual([
      ...['2026-03', '2026-04', '2026-05', '2026-06', expect.any(String)],
    ]);
    expect(items.map((one: { cursor: string }) => one.cursor)).toEqual(['1', '2', '4', '3', '5']);
  });

  it('changes the state from then until what was restated after it', async () => {
    expect(await seatAt('late', '04-02')).toEqual(['load-sense', 'plug-m5', 'spool-sense']);
    expect(await seatAt('late', '05-02')).toEqual(['load-sense-bled', 'orifice-0.6', 'spool-sense']);
    // June changed the spool and the function, and didn't touch the bleed seat, into which May had put the orifice.
    expect(await seatAt('late', '06-02')).toEqual(['remote-pressure', 'orifice-0.6', 'spool-remote']);
    const { state } = await historyOf('late', '?performed=2026-04-20T00:00:00Z');
    expect(state.changedUnrecorded).toEqual([]);
  });

  it('leaves answers about what was known before it as they were', async () => {
    const { items } = await historyOf('late');
    const june = items.find((one: { cursor: string }) => one.cursor === '3').recordedAt;
    const then = await historyOf('late', `?performed=2026-05-02T12:00:00Z&known=${june}`);
    // Asked so soon that the horizon lies before it: then that is what is answered for, and said.
    expect(then.known <= june).toBe(true);
    expect(then.state.function).not.toBe('load-sense-bled');
  });

  it('where the later record restated every station that the late one changed, leaves the later state alone', async () => {
    await registerPair(brackwater, 'restated', 'load-sense');
    const late = await convert('restated', 'load-sense-bled', '05-01');
    const { found: _, ...seen } = inspectionOf('restated', {
      reference: 'restated',
      performedAt: '2026-06-01T08:00:00Z',
    });
    const stations = { 'bleed-seat': [{ element: 'plug-m5' }] };
    await mustGoWell(tollan('POST', '/v1/inspections', { ...seen, found: { stations, function: 'load-sense' } }));
    const before = (await mustGoWell(brackwater('GET', '/v1/controls/ardenholm/K-restated'))).body.control;
    await mustGoWell(brackwater('POST', '/v1/conversions', late));
    const after = (await mustGoWell(brackwater('GET', '/v1/controls/ardenholm/K-restated'))).body.control;
    // The same plug, seen in June; in between another part sat there, so it has been in only since June.
    const held = (fit: Record<string, object>) =>
      Object.entries(fit).map(([station, content]) => [station, { ...content, record: '' }]);
    expect(held(after.fit)).toEqual(held(before.fit));
    expect(await seatAt('restated', '05-02')).toEqual(['load-sense-bled', 'orifice-0.6', 'spool-sense']);
    const { state } = await historyOf('restated', '?performed=2026-05-02T12:00:00Z');
    expect(state.changedUnrecorded).toMatchObject([{ station: 'bleed-seat', before: '2026-06-01T08:00:00.000000Z' }]);
  });

  it('that fits what was in the control later, but not then, is refused', async () => {
    await registerPair(brackwater, 'early');
    await mustGoWell(brackwater('POST', '/v1/conversions', await convert('early', 'load-sense', '06-01')));
    const early = await convert('early', 'remote-pressure', '05-01');
    const answer = await brackwater('POST', '/v1/conversions', early);
    expect(answer.status).toBe(409);
    expect(answer.body.recorded.function).toBe('load-sense-bled');
  });
});

describe('a record by its id', () => {
  it('is the same record however the hexadecimal digits are written', async () => {
    await registerPair(brackwater, 'case');
    const stations = { 'bleed-seat': [{ element: 'plug-m5' }] };
    const body = {
      ...inspectionOf('case', { reference: 'case', performedAt: '2026-06-01T08:00:00Z' }),
      found: { stations },
    };
    const { id } = (await mustGoWell(brackwater('POST', '/v1/inspections', body))).body;
    const record = await mustGoWell(brackwater('GET', `/v1/records/${id}`));
    expect(record.body.status).toBe('held');
    expect((await mustGoWell(brackwater('GET', `/v1/records/${id.toUpperCase()}`))).text).toBe(record.text);
    const disposition = {
      reference: 'case',
      performedAt: '2026-06-02T08:00:00Z',
      decision: 'concession',
      reason: 'seen',
    };
    const decided = await brackwater('POST', `/v1/records/${id.toUpperCase()}/dispositions`, disposition);
    expect([decided.status, decided.body.record]).toEqual([201, id]);
    const after = {
      ...inspectionOf('case', { reference: 'after', performedAt: '2026-06-01T08:00:00Z' }),
      after: id.toUpperCase(),
    };
    expect((await brackwater('POST', '/v1/inspections?check=only', after)).status).toBe(200);
  });
});
