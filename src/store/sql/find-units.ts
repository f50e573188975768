import type { UnitKind } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';

export type UnitName = {
  readonly maker: string;
  readonly unitKind: UnitKind;
  /** former: what it was called before, or the name of a unit that turned out to be this one. */
  readonly nameKind: 'serial' | 'tag' | 'former';
  readonly nameKey: string;
  readonly asWritten: string;
  readonly unit: string;
  /** What last said so. */
  readonly fact: string;
};
export type NameSought = Pick<UnitName, 'maker' | 'unitKind' | 'nameKey'>;

const select = `
  select maker, unit_kind as "unitKind", name_kind as "nameKind", name_key as "nameKey", as_written as "asWritten",
    unit_id as unit, fact
  from unit_names`;

/** The units behind these names; a name that nobody has is left out. */
export async function findUnits(tx: Tx, names: readonly NameSought[]): Promise<UnitName[]> {
  if (names.length === 0) return [];
  const { rows } = await tx.query<UnitName>({
    name: 'find-units',
    text: `${select} where name_kind <> 'free' and (maker, unit_kind, name_key) in (
      select * from unnest($1::text[], $2::text[], $3::text[]))`,
    values: [names.map((one) => one.maker), names.map((one) => one.unitKind), names.map((one) => one.nameKey)],
  });
  return rows;
}

/** What these units are called: all names, the latest serial first, then tags, then former names. */
export async function namesOfUnits(tx: Tx, units: readonly string[]): Promise<UnitName[]> {
  return await namesOf(tx, units, { name: 'names-of-units', named: '$1::uuid[]' });
}

/** And what those are called that they are mounted with now. */
export async function namesAroundUnits(tx: Tx, units: readonly string[]): Promise<UnitName[]> {
  const partners =
    'select mounted_with from unit_current where unit_id = any ($1::uuid[]) and mounted_with is not null';
  return await namesOf(tx, units, { name: 'names-around-units', named: `$1::uuid[] || array(${partners})` });
}

/** And what those are called that they were ever mounted with. Only the recorder may. */
export async function namesEverAroundUnits(tx: Tx, units: readonly string[]): Promise<UnitName[]> {
  const partners = `
    select (effect::jsonb #>> '{mounted,with}')::uuid from unit_events
    where unit_id = any ($1::uuid[]) and effect like '%"mounted"%'`;
  return await namesOf(tx, units, { name: 'names-ever-around-units', named: `$1::uuid[] || array(${partners})` });
}

/** What the units are called that these facts touched. */
export async function namesInFacts(tx: Tx, facts: readonly string[]): Promise<UnitName[]> {
  const touched = 'select unit_id from unit_dates where fact = any ($1::uuid[])';
  return await namesOf(tx, facts, { name: 'names-in-facts', named: `array(${touched})` });
}

async function namesOf(
  tx: Tx,
  ids: readonly string[],
  { name, named }: { name: string; named: string },
): Promise<UnitName[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.query<UnitName>({
    name,
    text: `${select} where name_kind <> 'free' and unit_id = any (${named})
      order by array_position(array['serial', 'tag', 'former'], name_kind), fact desc, name_key`,
    values: [ids],
  });
  return rows;
}
