/** What a unit is called: its serial as written, the tag it got, or nothing, in every answer alike. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { inspectionOf, openShops } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const path = '/v1/pumps/ardenholm/P-6';
const maker = 'ardenholm';
const byPump = (reference: string, performedAt: string) => {
  const { control: _, ...rest } = inspectionOf('6', { reference, performedAt });
  return { pump: { maker, serial: 'P-6' }, ...rest };
};
const inRead = async () => (await mustGoWell(brackwater('GET', path))).body.control?.name;

describe('a control without a serial', () => {
  it('has no name until it gets a tag, in what is recorded, refused and read', async () => {
    const registered = await mustGoWell(brackwater('PUT', path, pumpWith({ function: 'load-sense' })));
    expect(registered.body.control.name).toBe(null);
    const looked = byPump('look', '2026-04-01T08:00:00Z');
    const recorded = await mustGoWell(brackwater('POST', '/v1/inspections', looked));
    expect([recorded.body.control.name, recorded.body.pump.name, await inRead()]).toEqual([null, 'P-6', null]);
    const again = await brackwater('POST', '/v1/inspections', looked);
    expect([again.status, again.body.recorded.control, again.body.recorded.pump]).toEqual([409, null, 'P-6']);
  });

  it('is called something in sentences all the same: people must know which control is meant', async () => {
    const found = { function: 'pressure-limit' };
    const body = { ...byPump('otherwise', '2026-04-02T08:00:00Z'), found };
    const refused = await brackwater('POST', '/v1/inspections', body);
    expect([refused.status, refused.body.recorded.control]).toEqual([409, null]);
    expect(refused.body.findings[0].because).toContain('The records say that the control of pump P-6 is load-sense.');
  });

  it('is called by its tag from the record on that gives it one', async () => {
    const { found: _, note: __, ...frame } = byPump('off', '2026-05-01T08:00:00Z');
    const off = { ...frame, on: false };
    const { body } = await mustGoWell(brackwater('POST', '/v1/mountings', { ...off, tag: 'BR 6' }));
    expect(body.control.name).toBe('BR 6');
    const read = await mustGoWell(brackwater('GET', `/v1/controls/${maker}/BR 6`.replace(' ', '%20')));
    expect([read.body.control.name, read.body.control.unit]).toEqual(['BR 6', body.control.unit]);
  });
});
