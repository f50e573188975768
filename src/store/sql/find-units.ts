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
  if (units.length === 0) return [];
  const { rows } = await tx.query<UnitName>({
    name: 'names-of-units',
    text: `${select} where name_kind <> 'free' and unit_id = any ($1::uuid[])
      order by array_position(array['serial', 'tag', 'former'], name_kind), fact desc, name_key`,
    values: [units],
  });
  return rows;
}
