/**
 * Both directions agree: a unit is in the reach of a lot exactly if on some day the lot is in the trace of the unit. That
 * a recall and a trace must find each other is common practice (ISO 9000:2015, 3.6.13 defines traceability), no published
 * check.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { maker } from '../support/shop.ts';
import { recordVariedHistory } from '../support/varied-history.ts';

const db = await testDatabase();
const service = await testService(db);
type Json = Awaited<ReturnType<Caller>>['body'];
let analyst: Caller;
/** Of every unit that has a name, the lots that its traces on all of its days name. */
let traced: Map<string, Set<string>>;

beforeAll(async () => {
  await recordVariedHistory(service);
  analyst = await service.as({ maker, scopes: ['warranty:read'] });
  const units = await rowsOf<{ unit: string; kind: string; name: string }>(
    db,
    `select distinct on (unit_id) unit_id as unit, unit_kind as kind, as_written as name from unit_names
     where maker = $1 and name_kind in ('serial', 'tag') order by unit_id, name_key`,
    [maker],
  );
  traced = new Map();
  for (const { unit, kind, name } of units)
    traced.set(unit, await lotsOf(unit, `/v1/${kind}s/${maker}/${encodeURIComponent(name)}`));
}, 120_000);

/** On the day of each of its records. What sits at a station of the pump, or seals a joint of it, is the pump's. */
async function lotsOf(unit: string, path: string): Promise<Set<string>> {
  const { items } = (await mustGoWell(analyst('GET', `${path}/history?first=200`))).body;
  const lots = new Set<string>();
  for (const { performed } of items) {
    const told = (await mustGoWell(analyst('GET', `${path}/trace?performed=${performed.to}`))).body;
    const isPump = told.pump?.unit === unit;
    const pieces = told.stations.filter((one: Json) => one.unit === unit).flatMap((one: Json) => one.origin.pieces);
    const seals = told.seals.filter((one: Json) => one.joint.startsWith('pump/') === isPump);
    for (const { lot } of [...pieces, ...seals]) if (typeof lot === 'string') lots.add(lot);
  }
  return lots;
}

async function reached(lot: string): Promise<Set<string>> {
  const { items } = (await mustGoWell(analyst('GET', `/v1/reach?lot=${lot}&first=200`))).body;
  return new Set(items.map((one: Json) => one.unit));
}

describe('a unit is in the reach of a lot', () => {
  it('exactly if the lot is in the trace of the unit on some day', async () => {
    const lots = [...new Set([...traced.values()].flatMap((one) => [...one]))].sort();
    expect(lots.length).toBeGreaterThan(1);
    const direct = await rowsOf<{ lot: string }>(
      db,
      `select distinct lot_maker || '/' || lot_number as lot from part_uses where lot_number is not null`,
    );
    for (const lot of new Set([...lots, ...direct.map((one) => one.lot)])) {
      const those = await reached(lot);
      const named = [...traced].filter(([unit]) => those.has(unit)).map(([unit]) => unit);
      const inTrace = [...traced].filter(([, all]) => all.has(lot)).map(([unit]) => unit);
      expect([lot, named.sort()]).toEqual([lot, inTrace.sort()]);
    }
  });
});
