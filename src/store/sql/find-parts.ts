/** Where parts went that are told apart: by their serial, or by the station that they came out of. */

import type { Tx } from '../transaction.ts';
import { stillCounts } from './still-counts.ts';

export type SerialSought = { readonly owner: string; readonly serialMaker: string; readonly serialKey: string };
export type SerialUse = SerialSought & { readonly fact: string; readonly unit: string; readonly place: string };

/** Every record of these owners that fitted a part of such a serial. */
export async function findSerials(tx: Tx, sought: readonly SerialSought[]): Promise<SerialUse[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<SerialUse>({
    name: 'find-serials',
    text: `
      select owner, serial_maker as "serialMaker", serial_key as "serialKey", fact, unit_id as unit, place
      from part_uses as part_use
      where (owner, serial_maker, serial_key) in (select * from unnest($1::uuid[], $2::text[], $3::text[]))
        and serial_key is not null and ${stillCounts}
      order by fact, line`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.serialMaker), sought.map((one) => one.serialKey)],
  });
  return rows;
}

export type PlaceSought = { readonly owner: string; readonly record: string; readonly place: string };
export type PutThere = {
  readonly owner: string;
  readonly fact: string;
  readonly place: string;
  readonly item: string;
  readonly lot: string;
};

/** What these owners ever put, from a lot, into such a station of the units of such a record. */
export async function findPutThere(tx: Tx, sought: readonly PlaceSought[]): Promise<PutThere[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<PutThere>({
    name: 'find-put-there',
    text: `
      select distinct part_use.owner, part_use.fact, part_use.place, part_use.item,
        part_use.lot_maker || '/' || part_use.lot_number as lot
      from unnest($1::uuid[], $2::uuid[], $3::text[]) as sought (owner, record, place)
      join unit_events as event on event.fact = sought.record
      join part_uses as part_use
        on part_use.owner = sought.owner and part_use.unit_id = event.unit_id and part_use.place = sought.place
      where part_use.role = 'element' and part_use.lot_number is not null and ${stillCounts}`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.record), sought.map((one) => one.place)],
  });
  return rows;
}

export type Restocked = {
  readonly owner: string;
  readonly record: string;
  readonly station: string;
  readonly item: string;
  readonly quantity: number;
};

/** What was stocked again of what these records took out. */
export async function readRestocked(tx: Tx, sought: readonly PlaceSought[]): Promise<Restocked[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<Restocked>({
    name: 'read-restocked',
    text: `
      select owner, origin as record, station, item, sum(quantity)::int as quantity
      from intakes
      where (owner, origin) in (select * from unnest($1::uuid[], $2::uuid[])) and origin is not null
      group by owner, origin, station, item`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.record)],
  });
  return rows;
}
