/** Values of the circuit: remembered of a pair, held against settings, and what a start-up with them holds. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { onControl as control, edition, openShops, onPump as pump, registerPair, unitFor } from '../support/shop.ts';

const service = await testService(await testDatabase());
const { brackwater } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

const day = (date: string) => `2026-04-${date}T08:00:00Z`;
const unitOf = (kind: 'pump' | 'control', number: string): Promise<Json> => unitFor(brackwater, kind, number);
let count = 0;
function say(path: string, date: string, rest: object) {
  count += 1;
  const frame = { reference: `C-${count}`, performedAt: day(date), shop: 'north', technician: 't-17' };
  return brackwater('POST', `/v1/${path}`, { ...frame, ...rest });
}

describe('the circuit of a pair', () => {
  const bar = (value: string) => ({ value, unit: 'bar' });
  const starts = (number: string, date: string, circuit: object) =>
    say('start-ups', date, { ...pump(number), machine: 'press 4', circuit });
  const sets = (number: string, date: string, limit: string, more: object = {}) =>
    say('adjustments', date, {
      ...{ ...control(number), edition, ...more },
      settings: [{ setting: 'pressure-limit', reading: bar(limit), instrument: 'pg-1' }],
    });
  const broken = async (number: string) =>
    (await unitOf('control', number)).findings
      .filter((one: Json) => one.rule === 'relation-broken')
      .map((one: Json) => [one.severity, one.fact]);
  const brokenIn = ({ body }: Awaited<ReturnType<Caller>>) =>
    body.findings.filter((one: Json) => one.rule === 'relation-broken').map((one: Json) => one.found);

  it('is remembered from a start-up, judges later settings, and is forgotten when the two are parted', async () => {
    await registerPair(brackwater, 'circuit', 'load-sense');
    await mustGoWell(sets('circuit', '02', '210'));
    const first = await mustGoWell(starts('circuit', '03', { 'system-relief': bar('250') }));
    expect(brokenIn(first)).toEqual([]);
    expect((await unitOf('control', 'circuit')).circuit).toEqual({
      'system-relief': { ...bar('250'), record: first.body.id },
    });
    // 250 − 231 − 20 = −1 bar.
    const over = await mustGoWell(sets('circuit', '04', '231'));
    expect(brokenIn(over)).toEqual(['-1.0 bar']);
    expect(await broken('circuit')).toEqual([['hold', over.body.id]]);
    expect(brokenIn(await mustGoWell(sets('circuit', '05', '230')))).toEqual([]);
    expect(await broken('circuit')).toEqual([]);
    await mustGoWell(say('mountings', '06', { ...control('circuit'), ...pump('circuit'), edition, on: false }));
    expect(await unitOf('control', 'circuit')).not.toHaveProperty('circuit');
  });

  it('that breaks a relation at a start-up holds the unit, until another value or a concession', async () => {
    await registerPair(brackwater, 'low', 'load-sense');
    await mustGoWell(sets('low', '02', '210'));
    const low = await mustGoWell(starts('low', '03', { 'system-relief': bar('229') }));
    expect(brokenIn(low)).toEqual(['-1.0 bar']);
    expect(await broken('low')).toEqual([['hold', low.body.id]]);
    const held = await mustGoWell(brackwater('GET', '/v1/held?first=100'));
    expect(held.body.items.find((one: Json) => one.record === low.body.id)).toMatchObject({
      kind: 'start-up',
      rule: 'relation-broken',
    });
    expect((await mustGoWell(brackwater('GET', `/v1/records/${low.body.id}`))).body.status).toBe('held');
    await mustGoWell(starts('low', '04', { 'system-relief': bar('230') }));
    expect(await broken('low')).toEqual([]);
    const again = await mustGoWell(starts('low', '05', { 'system-relief': bar('200') }));
    await mustGoWell(
      (await service.as({ distributor: 'brackwater', scopes: ['disposition:write'] }))(
        'POST',
        `/v1/records/${again.body.id}/dispositions`,
        {
          reference: 'D-low',
          performedAt: day('06'),
          decision: 'concession',
          reason: 'tried without load',
        },
      ),
    );
    expect(await broken('low')).toEqual([]);
  });

  it('is as a correction of the start-up says', async () => {
    await registerPair(brackwater, 'wrong', 'load-sense');
    await mustGoWell(sets('wrong', '02', '210'));
    const low = await mustGoWell(starts('wrong', '03', { 'system-relief': bar('25') }));
    expect(await broken('wrong')).toEqual([['hold', low.body.id]]);
    const { kind, reason } = { kind: 'start-up', reason: 'a digit left out' };
    const reference = `C-${count}`;
    const body = {
      ...{ reference, performedAt: day('03'), shop: 'north', technician: 't-17', ...pump('wrong') },
      ...{ machine: 'press 4', circuit: { 'system-relief': bar('250') } },
    };
    await mustGoWell(brackwater('POST', `/v1/records/${low.body.id}/corrections`, { kind, reason, body }));
    expect(await broken('wrong')).toEqual([]);
    expect((await unitOf('control', 'wrong')).circuit['system-relief']).toMatchObject(bar('250'));
  });
});
