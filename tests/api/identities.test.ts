/** Which unit is which: what a name leads to afterwards, and what became of the units. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { controlBody, conversionOf, inspectionOf, openShops, registerControl, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
type Json = Awaited<ReturnType<typeof brackwater>>['body'];

const control = (serial: string) => ({ control: { maker: 'ardenholm', serial } });
const pump = (serial: string) => ({ pump: { maker: 'ardenholm', serial } });
const read = async (kind: string, name: string) => await brackwater('GET', `/v1/${kind}s/ardenholm/${name}`);
const unitOf = async (kind: string, name: string) => (await mustGoWell(read(kind, name))).body[kind] as Json;
let count = 0;
function say(what: string, rest: Json, shop = brackwater) {
  count += 1;
  const frame = { reference: `I-${count}`, performedAt: '2026-07-01T08:00:00Z', shop: 'north', technician: 't-17' };
  return shop('POST', '/v1/identities', { what, ...frame, reason: 'seen at the bench', ...rest });
}
const rulesOf = async (answer: ReturnType<typeof say>) => {
  const { status, body } = await answer;
  return [status, ...(body.findings ?? []).map((one: Json) => `${one.rule} ${one.pointer}`)];
};

describe('a unit with a new plate', () => {
  it('is found by both serials, and called by the new one', async () => {
    await registerPair(brackwater, 'plate');
    await mustGoWell(say('re-plated', { ...control('K-plate'), serial: 'K-plate-2' }));
    const [byOld, byNew] = [await unitOf('control', 'K-plate'), await unitOf('control', 'K-plate-2')];
    expect(byNew).toEqual(byOld);
    expect(byNew.name).toBe('K-plate-2');
  });

  it('cannot have a serial that another unit has', async () => {
    await registerPair(brackwater, 'has');
    expect(await rulesOf(say('re-plated', { ...pump('P-has'), serial: 'P-plate' }))).toEqual([
      409,
      'name-taken /serial',
    ]);
  });
});

describe('a control without a serial', () => {
  it('gets another tag, and is found by both', async () => {
    await registerControl(brackwater, 'tagged');
    await mustGoWell(say('retagged', { ...control('K-tagged'), tag: 'T-1' }));
    await mustGoWell(say('retagged', { control: { maker: 'ardenholm', tag: 'T-1' }, tag: 'T-2' }));
    const unit = (await unitOf('control', 'K-tagged')).unit;
    expect([(await unitOf('control', 'T-1')).unit, (await unitOf('control', 'T-2')).unit]).toEqual([unit, unit]);
  });
});

describe('a wrong plate', () => {
  it('leads to that unit no more, and its serial is free for the unit that it belongs to', async () => {
    await registerPair(brackwater, 'wrong');
    const { unit } = await unitOf('pump', 'P-wrong');
    expect(await rulesOf(say('wrong-plate', { ...pump('P-wrong') }))).toEqual([409, 'tag-needed /serial']);
    await mustGoWell(say('wrong-plate', { ...pump('P-wrong'), serial: 'P-right' }));
    expect((await read('pump', 'P-wrong')).status).toBe(404);
    expect((await unitOf('pump', 'P-right')).unit).toBe(unit);
    // Whoever finds the pump that the plate belongs to registers it.
    await mustGoWell(
      tollan('PUT', '/v1/pumps/ardenholm/P-wrong', { ...pumpWith(null), performedAt: '2026-07-02T08:00:00Z' }),
    );
    expect((await unitOf('pump', 'P-wrong')).unit).not.toBe(unit);
  });
});

describe('an exchanged control', () => {
  it('is on the pump from then on and held until a look; the one before is on none', async () => {
    await registerPair(brackwater, 'one');
    await registerPair(brackwater, 'two');
    expect(await rulesOf(say('exchanged', { ...pump('P-one'), ...control('K-one') }))).toEqual([
      409,
      'not-exchanged /control',
    ]);
    const { id } = (await mustGoWell(say('exchanged', { ...pump('P-one'), ...control('K-two') }))).body;
    expect((await unitOf('pump', 'P-one')).mounted.name).toBe('K-two');
    expect((await unitOf('control', 'K-one')).mounted).toBe(null);
    expect((await unitOf('pump', 'P-two')).mounted).toBe(null);
    const found = await unitOf('control', 'K-two');
    expect(found).toMatchObject({ status: 'held', mounted: { name: 'P-one' }, settings: {} });
    expect(found.findings).toMatchObject([{ rule: 'exchanged-unrecorded', fact: id }]);
    const look = inspectionOf('two', { reference: 'two-look', performedAt: '2026-07-02T08:00:00Z' });
    await mustGoWell(tollan('POST', '/v1/inspections', { ...look, found: { function: 'load-sense-bled' } }));
    expect((await unitOf('control', 'K-two')).status).toBe('released');
  });
});

describe('two units that are one', () => {
  it('go on as one, found by both names, with what was recorded of later work and with what holds either', async () => {
    await registerControl(brackwater, 'first');
    await registerControl(tollan, 'second', 'load-sense');
    const frame = { reference: 'second', performedAt: '2026-06-01T08:00:00Z' };
    const conversion = { ...(await conversionOf(tollan, 'second', 'load-sense-bled', frame)) } as Json;
    const [torque, ...torques] = conversion.torques;
    const loose = { ...conversion, torques: [{ ...torque, reading: { value: '1', unit: 'N.m' } }, ...torques] };
    await mustGoWell(tollan('POST', '/v1/conversions', loose));
    const before = await unitOf('control', 'K-second');
    expect(before.status).toBe('held');
    await mustGoWell(say('merged', { ...control('K-first'), with: { maker: 'ardenholm', serial: 'K-second' } }));
    const one = await unitOf('control', 'K-second');
    expect(one).toEqual(await unitOf('control', 'K-first'));
    expect(one).toMatchObject({ name: 'K-first', status: 'held', function: 'load-sense-bled', mergedInto: null });
    const contents = ({ fit }: Json) => Object.entries(fit).map(([id, content]) => [id, (content as Json).elements]);
    expect(contents(one).sort()).toEqual(contents(before).sort());
    expect(
      await rulesOf(say('merged', { ...control('K-first'), with: { maker: 'ardenholm', serial: 'K-second' } })),
    ).toEqual([409, 'not-one-unit /with']);
  });

  it('are not of two bodies, and not with two counterparts', async () => {
    await registerPair(brackwater, 'p');
    await registerPair(brackwater, 'q');
    expect(await rulesOf(say('merged', { ...pump('P-p'), with: { maker: 'ardenholm', serial: 'P-q' } }))).toEqual([
      409,
      'not-one-unit /with',
    ]);
    const wedge = { ...controlBody('load-sense'), body: 'curlew-wedge', function: null, stations: {}, choices: {} };
    const other = await brackwater('PUT', '/v1/controls/ardenholm/K-wedge', { ...wedge, for: undefined });
    expect(other.status).toBe(201);
    expect(
      await rulesOf(say('merged', { ...control('K-p'), with: { maker: 'ardenholm', serial: 'K-wedge' } })),
    ).toEqual([409, 'not-one-unit /with']);
  });
});

describe('what is said of units', () => {
  it('names people and shops that are known, a reference of its own, a time that was, and units that are there', async () => {
    await registerControl(brackwater, 'said');
    const retag = (rest: Json) => rulesOf(say('retagged', { ...control('K-said'), tag: 'T-said', ...rest }));
    expect(await retag({ shop: 'elsewhere', technician: 'nobody' })).toEqual([
      409,
      'unknown-id /shop',
      'unknown-id /technician',
    ]);
    expect(await retag({ performedAt: '2099-01-01T00:00:00Z' })).toEqual([409, 'performed-in-future /performedAt']);
    expect(await retag({ reference: 'I-1' })).toEqual([409, 'reference-used /reference']);
    expect(await retag(control('K-nowhere'))).toEqual([409, 'unknown-id /control']);
    expect((await say('re-plated', { serial: 'X' })).status).toBe(400);
  });
});
