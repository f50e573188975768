/** The units that records which match criteria were about, with those records. */
import { elementAlone, type ReachCriteria, seeksParts } from '../../core/reach/criteria.ts';
import { lotNamed } from '../../core/records/lot-name.ts';
import { parseTime } from '../../core/time/instant.ts';
import type { Tx } from '../transaction.ts';

/** The criteria, with ids in the place of names. */
export type ReachSought = ReachCriteria & {
  /** Records of this organisation alone; null: of all that the transaction may see. */
  readonly owner: string | null;
  /** The person, by the id that records have. */
  readonly person?: string | undefined;
  /** Pieces of the lot that are in lots of kits: whose, which kits, which piece of them. */
  readonly kits: readonly { readonly owner: string; readonly kitLot: string; readonly element: string }[];
  /** Only what was recorded until then, as it counted then. */
  readonly known?: string | undefined;
  /** By which records stations held the element then; left out: as they hold it now. */
  readonly held?: readonly { readonly unit: string; readonly fact: string }[];
};

export type Reached = {
  readonly unit: string;
  readonly owner: string;
  readonly fact: string;
  readonly kind: string;
  readonly performedFrom: string;
  readonly performedTo: string;
  /** Of the part that matched; null where the record did. */
  readonly line: number | null;
  readonly role: 'element' | 'seal' | null;
  readonly place: string | null;
  readonly item: string | null;
  readonly quantity: number | null;
  /** MAKER/NUMBER that the record names for it; null: none, or not known. */
  readonly lot: string | null;
};

/** Words about records and units, not about work. */
const notWork = ['judgement', 'disposition', 'containment-unit', 'containment-progress'];

/**
 * Of the next `most` units after one, by id: every record that matches. The text is made of what is sought, without a
 * name, so that it is planned for that: from a lot, an instrument or a person an index leads to few rows, which are read
 * once. What an element, an edition or a function reaches is much: there the units are walked in the order of their ids
 * until there are enough. Read whole and cut, a page of 50 touched 22,000, 71,000 and 47,000 rows of 20,000 records.
 */
export async function findReach(
  tx: Tx,
  sought: ReachSought,
  page: NextPage | { readonly units: readonly string[] },
): Promise<Reached[]> {
  if (!('units' in page) && !isNarrow(sought))
    return await findReach(tx, sought, { units: await nextUnits(tx, sought, page) });
  const values: unknown[] = [];
  const of = (value: unknown, type: string) => `$${values.push(value)}::${type}`;
  const text = `
    with ${withParts(sought, of)} ${'units' in page ? ofUnits(sought, page.units, of) : ofPage(sought, page, of)}
    select unit, owner, fact, kind, "performedFrom", "performedTo", line, role, place, item, quantity, lot
    from matched order by unit, fact, line nulls last, place`;
  const { rows } = await tx.query<Reached>(text, values);
  return rows;
}

type Of = (value: unknown, type: string) => string;
export type NextPage = { readonly after: string | null; readonly most: number };
const noUnit = '00000000-0000-0000-0000-000000000000';
/** What has to be true of a unit, of the column that its id is in. */
type Which = (unit: string) => string;

function ofUnits(sought: ReachSought, units: readonly string[], of: Of): string {
  const given = of(units, 'uuid[]');
  return `matched as (${branches(sought, (unit) => `${unit} = any (${given})`, of).join(' union all ')})`;
}

function ofPage(sought: ReachSought, { after, most }: NextPage, of: Of): string {
  const begin = of(after ?? noUnit, 'uuid');
  return `
    every as (${branches(sought, (unit) => `${unit} > ${begin}`, of).join(' union all ')}),
    matched as (
      select * from (select *, dense_rank() over (order by unit) as nth from every) as ranked
      where nth <= ${of(most, 'int')})`;
}

/** The units alone, walked; what matches of them is read apart, when it is known how many they are: in one it was planned for all. */
async function nextUnits(tx: Tx, sought: ReachSought, { after, most }: NextPage): Promise<string[]> {
  const values: unknown[] = [];
  const of = (value: unknown, type: string) => `$${values.push(value)}::${type}`;
  const ofOne = branches(sought, (unit) => `${unit} = walked.unit_id`, of).join(' union all ');
  const { rows } = await tx.query<{ unit: string }>(
    `select walked.unit_id as unit from unit_current as walked
     cross join lateral (select from (${ofOne}) as any_of limit 1) as found
     where walked.unit_id > ${of(after ?? noUnit, 'uuid')} order by walked.unit_id limit ${of(most, 'int')}`,
    values,
  );
  return rows.map(({ unit }) => unit);
}

/** Whether an index leads to what is sought: also to the records of one distributor, which may be few among those of all. */
function isNarrow({ lot, element, part, instrument, technician, shop, owner }: ReachSought): boolean {
  const named = [lot, part, instrument, technician, shop].some((one) => one !== undefined);
  return named || (owner !== null && element === undefined);
}

function branches(sought: ReachSought, which: Which, of: Of): string[] {
  const element = elementAlone(sought);
  return [
    seeksParts(sought) ? byParts(sought, which, of) : byRecord(sought, which, of),
    ...(element === null ? [] : [byContent(sought, element, which, of)]),
  ];
}

const record = `facts.owner, facts.id as fact, facts.kind, facts.performed_from as "performedFrom", facts.performed_to as "performedTo"`;

function byRecord(sought: ReachSought, which: Which, of: Of): string {
  return `
    select unit_dates.unit_id as unit, ${record}, null::int as line, null::text as role, null::text as place,
      null::text as item, null::int as quantity, null::text as lot
    from facts join unit_dates on unit_dates.fact = facts.id
    where ${which('unit_dates.unit_id')} and ${ofRecord(sought, of)}`;
}

/** A record puts in several parts: it is looked at once. For each part by itself that took four times as long. */
function byParts(sought: ReachSought, which: Which, of: Of): string {
  const { lot, element, part } = sought;
  const conditions = [
    lot !== undefined && ofLot(lotNamed(lot), sought.kits, of),
    element !== undefined && `part_use.item = ${of(element, 'text')}`,
    part !== undefined &&
      `exists (select from of_part where of_part.owner = part_use.owner and of_part.maker = part_use.lot_maker
        and of_part.number = part_use.lot_number)`,
  ].filter((one) => one !== false);
  return `(
    with uses as materialized (
      select * from part_uses as part_use where ${which('part_use.unit_id')} and ${conditions.join(' and ')}),
    records as materialized (
      select ${record}
      from (select distinct owner, fact from uses) as told join facts on facts.owner = told.owner and facts.id = told.fact
      where ${ofRecord(sought, of)})
    select uses.unit_id as unit, records.*, uses.line, uses.role, uses.place, uses.item, uses.quantity,
      uses.lot_maker || '/' || uses.lot_number as lot
    from records join uses on uses.owner = records.owner and uses.fact = records.fact)`;
}

/** What stations hold by a record that put nothing from a lot there. */
function byContent(sought: ReachSought, element: string, which: Which, of: Of): string {
  const held = sought.held === undefined ? heldNow(element, which, of) : heldThen(sought.held, of);
  return `
    select held.unit, ${record}, null::int as line, null::text as role, null::text as place,
      null::text as item, null::int as quantity, null::text as lot
    from ${held} join facts on facts.id = held.fact
    where ${which('held.unit')} and ${ofRecord(sought, of)}
      and not exists (
        select from part_uses as part_use where part_use.owner = facts.owner and part_use.fact = facts.id
          and part_use.unit_id = held.unit and part_use.item = ${of(element, 'text')})`;
}

function heldNow(element: string, which: Which, of: Of): string {
  return `(
    select distinct unit_current.unit_id as unit, (content ->> 'record')::uuid as fact
    from unit_current cross join lateral jsonb_each(state::jsonb -> 'stations') as station (name, content)
    where ${which('unit_current.unit_id')} and strpos(state, ${of(saying(element), 'text')}) > 0
      and content -> 'elements' @> jsonb_build_array(jsonb_build_object('element', ${of(element, 'text')}))) as held`;
}

function heldThen(held: readonly { readonly unit: string; readonly fact: string }[], of: Of): string {
  const units = of(
    held.map((one) => one.unit),
    'uuid[]',
  );
  const facts = of(
    held.map((one) => one.fact),
    'uuid[]',
  );
  return `(select distinct unit, fact from unnest(${units}, ${facts}) as named (unit, fact)) as held`;
}

/** What a state or an effect, as canonical JSON, has in it where it says something of the element. */
const saying = (element: string) => `"element":"${element}"`;

/** The next units by id, and whether anything that was ever recorded of them says something of the element. */
export async function unitsSaying(
  tx: Tx,
  element: string,
  { after, most }: NextPage,
): Promise<{ readonly unit: string; readonly says: boolean }[]> {
  const { rows } = await tx.query<{ unit: string; says: boolean }>({
    name: 'units-saying',
    text: `
      select unit_id as unit, exists (
        select from unit_events where unit_events.unit_id = unit_states.unit_id and strpos(effect, $2) > 0) as says
      from unit_states where unit_id > $1::uuid order by unit_id limit $3`,
    values: [after ?? noUnit, saying(element), most],
  });
  return rows;
}

function ofLot({ maker, number }: { maker: string; number: string }, kits: ReachSought['kits'], of: Of): string {
  const itself = `(part_use.lot_maker = ${of(maker, 'text')} and part_use.lot_number = ${of(number, 'text')})`;
  if (kits.length === 0) return itself;
  const named = kits.map((one) => ({ ...one, ...lotNamed(one.kitLot) }));
  return `(${itself} or (part_use.lot_maker, part_use.lot_number, part_use.owner, part_use.item) in (
    select * from unnest(${of(
      named.map((one) => one.maker),
      'text[]',
    )}, ${of(
      named.map((one) => one.number),
      'text[]',
    )}, ${of(
      named.map((one) => one.owner),
      'uuid[]',
    )}, ${of(
      named.map((one) => one.element),
      'text[]',
    )})))`;
}

/** What each lot is of is what its distributor says of it. */
function withParts({ part, known }: ReachSought, of: Of): string {
  if (part === undefined) return '';
  const until = known === undefined ? '' : `and recorded_at <= ${of(known, 'timestamptz')}`;
  return `
    of_part as materialized (
      select owner, maker, number
      from (
        select distinct on (owner, maker, statement::jsonb #>> '{lot,number}') owner, maker,
          statement::jsonb #>> '{lot,number}' as number, statement::jsonb ->> 'part' as part
        from facts where kind = 'lot' ${until}
        order by owner, maker, statement::jsonb #>> '{lot,number}', (judgement::jsonb ->> 'version')::int desc
      ) as stated
      where part = ${of(part, 'text')}),`;
}

/** Of `facts`: what a correction has replaced, and a correction that only takes a record away, did nothing. */
function ofRecord(sought: ReachSought, of: Of): string {
  const { owner, maker, instrument, person, shop, edition, from, to, known } = sought;
  const until = (table: string) =>
    known === undefined ? '' : `and ${table}.recorded_at <= ${of(known, 'timestamptz')}`;
  const conditions = [
    `facts.kind <> all (${of(notWork, 'text[]')})`,
    `not exists (
      select from facts as correction
      where correction.owner = facts.owner and correction.concerns = facts.id and correction.kind = 'correction'
        ${until('correction')})`,
    `(facts.kind <> 'correction' or facts.statement::jsonb ->> 'kind' <> 'void')`,
    known !== undefined && `facts.recorded_at <= ${of(known, 'timestamptz')}`,
    owner !== null && `facts.owner = ${of(owner, 'uuid')}`,
    maker !== undefined && `facts.maker = ${of(maker, 'text')}`,
    instrument !== undefined && named('instrument', instrument, sought, of),
    person !== undefined && named('technician', person, sought, of),
    shop !== undefined && named('shop', shop, sought, of),
    edition !== undefined && `facts.edition = ${of(edition, 'text')}`,
    sought.function !== undefined && `facts.judgement::jsonb ->> 'function' = ${of(sought.function, 'text')}`,
    from !== undefined && `facts.performed_to >= ${of(parseTime(from).from, 'timestamptz')}`,
    to !== undefined && `facts.performed_from < ${of(parseTime(to).from, 'timestamptz')}`,
  ];
  return conditions.filter((one) => one !== false).join(' and ');
}

/** Registrations are few beside all else, and in no table of what is named. */
function named(what: string, key: string, { owner, maker }: ReachSought, of: Of): string {
  const narrower = [
    owner !== null && `owner = ${of(owner, 'uuid')}`,
    maker !== undefined && `maker = ${of(maker, 'text')}`,
  ].filter((one) => one !== false);
  return `(facts.owner, facts.id) in (
    select owner, fact from mentions
    where ${[`what = ${of(what, 'text')}`, `key = ${of(key, 'text')}`, ...narrower].join(' and ')}
    union all
    select owner, id from facts
    where ${["kind = 'registration'", `strpos(statement, ${of(`"${what}":"${key}"`, 'text')}) > 0`, ...narrower].join(' and ')})`;
}
