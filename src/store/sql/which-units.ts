/** Which units a statement is about: by their ids, by their names, or by facts that touched them. */
import type { NameSought } from './find-units.ts';

export type WhichUnits = {
  /** Makes the name of a statement its own. */
  readonly as: string;
  /** SQL of their ids, an array; `$1` and on are the values. */
  readonly ids: string;
  readonly values: readonly unknown[];
};

export function byIds(units: readonly string[]): WhichUnits {
  return { as: 'by-ids', ids: '$1::uuid[]', values: [units] };
}

/** What names nobody leads nowhere. */
export function byNames(names: readonly NameSought[]): WhichUnits {
  return { as: 'by-names', ids: `array(select unit_id from unit_names where ${named})`, values: valuesOf(names) };
}

export const named = `name_kind <> 'free' and (maker, unit_kind, name_key) in (
  select * from unnest($1::text[], $2::text[], $3::text[]))`;

export function valuesOf(names: readonly NameSought[]): string[][] {
  return [names.map((one) => one.maker), names.map((one) => one.unitKind), names.map((one) => one.nameKey)];
}

/** Of records (`$1`) the judgements that were given on them since, as far as the transaction may see. */
export const judgementsOf = `
  select record.id as record, since.id as fact
  from facts as record
  join facts as since on since.owner = record.owner and since.concerns = record.id and since.kind = 'judgement'
  where record.id = any ($1::uuid[])`;

/** For readers too: those that they touched, and those that they turned out to have touched. */
export function inFacts(facts: readonly string[]): WhichUnits {
  const ids = `array(
    select unit_id from unit_dates
    where fact = any (array(select unnest($1::uuid[]) union all select fact from (${judgementsOf}) as again)))`;
  return { as: 'in-facts', ids, values: [facts] };
}
