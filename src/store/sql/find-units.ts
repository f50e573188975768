import type { UnitKind } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';
import { byIds, named, valuesOf, type WhichUnits } from './which-units.ts';

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
    text: `${select} where ${named}`,
    values: valuesOf(names),
  });
  return rows;
}

/** What these units are called: all names, the latest serial first, then tags, then former names. */
export async function namesOfUnits(tx: Tx, units: readonly string[]): Promise<UnitName[]> {
  return units.length === 0 ? [] : await namesOf(tx, byIds(units));
}

export async function namesOf(tx: Tx, { as, ids, values }: WhichUnits): Promise<UnitName[]> {
  return await namesIn(tx, { name: `names-${as}`, ids, values });
}

/** And what those are called that they are mounted with now. */
export async function namesAround(tx: Tx, which: WhichUnits): Promise<UnitName[]> {
  return await namesIn(tx, { name: `names-around-${which.as}`, ids: withPartners(which), values: which.values });
}

/** By unit the first of its names; of these units, or also of those that they are mounted with now. */
export async function firstNames(tx: Tx, which: WhichUnits, among: 'them' | 'around'): Promise<Map<string, string>> {
  const { rows } = await tx.query<{ unit: string; name: string }>({
    name: `first-names-${among}-${which.as}`,
    text: `
      select distinct on (unit_id) unit_id as unit, as_written as name from unit_names
      where name_kind <> 'free' and unit_id = any (${among === 'them' ? which.ids : withPartners(which)})
      order by unit_id, ${latestFirst}`,
    values: [...which.values],
  });
  return new Map(rows.map(({ unit, name }) => [unit, name]));
}

function withPartners({ ids }: WhichUnits): string {
  return `${ids} || array(select mounted_with from unit_current where unit_id = any (${ids}) and mounted_with is not null)`;
}

/** And what those are called that they were ever mounted with. Only the recorder may. */
export async function namesEverAround(tx: Tx, { as, ids, values }: WhichUnits): Promise<UnitName[]> {
  const partners = `
    select (effect::jsonb #>> '{mounted,with}')::uuid from unit_events
    where unit_id = any (${ids}) and effect like '%"mounted"%'`;
  return await namesIn(tx, { name: `names-ever-around-${as}`, ids: `${ids} || array(${partners})`, values });
}

const latestFirst = `array_position(array['serial', 'tag', 'former'], name_kind), fact desc, name_key`;

async function namesIn(
  tx: Tx,
  { name, ids, values }: { name: string; ids: string; values: readonly unknown[] },
): Promise<UnitName[]> {
  const { rows } = await tx.query<UnitName>({
    name,
    text: `${select} where name_kind <> 'free' and unit_id = any (${ids})
      order by ${latestFirst}`,
    values: [...values],
  });
  return rows;
}
