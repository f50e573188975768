/** Containments, and what was said of them since: from facts alone, which are few beside all else. */
import type { Tx } from '../transaction.ts';
import { type FactRow, factColumns } from './read-facts.ts';

const ofContainment = (alias: string) => `${alias}.owner = facts.owner and ${alias}.concerns = facts.id`;

/** Those that nobody has lifted, of the organisations of the transaction. */
export async function activeContainments(tx: Tx): Promise<FactRow[]> {
  const { rows } = await tx.query<FactRow>({
    name: 'active-containments',
    text: `
      select ${factColumns} from facts
      where kind = 'containment' and not exists (
        select from facts as lift where ${ofContainment('lift')} and lift.kind = 'containment-lift')
      order by id`,
  });
  return rows;
}

/** Those that were lifted and still have units in them. */
export async function liftedContainments(tx: Tx): Promise<FactRow[]> {
  const { rows } = await tx.query<FactRow>({
    name: 'lifted-containments',
    text: `
      select ${factColumns} from facts
      where kind = 'containment'
        and exists (select from facts as lift where ${ofContainment('lift')} and lift.kind = 'containment-lift')
        and (select count(*) from facts as came where ${ofContainment('came')} and came.kind = 'containment-unit') <>
          2 * (select count(*) from facts as came where ${ofContainment('came')} and came.kind = 'containment-unit'
            and came.statement::jsonb ->> 'is' = 'in')
      order by id`,
  });
  return rows;
}

/** A unit that came under a containment, or out of it, or what was done about it; in the order of recording. */
export type Entered = {
  readonly containment: string;
  readonly unit: string;
  readonly fact: string;
  readonly kind: 'containment-unit' | 'containment-progress';
  readonly owner: string;
  readonly recordedAt: string;
  readonly is: 'in' | 'out' | null;
  readonly step: string | null;
  readonly record: string | null;
};

/** Of all that the transaction may see; with `units` of these alone. */
export async function enteredIn(
  tx: Tx,
  containments: readonly string[],
  units: readonly string[] | null = null,
): Promise<Entered[]> {
  if (containments.length === 0) return [];
  const { rows } = await tx.query<Entered>({
    name: 'entered-in',
    text: `
      select concerns as containment, statement::jsonb ->> 'unit' as unit, id as fact, kind, owner,
        recorded_at as "recordedAt", statement::jsonb ->> 'is' as is, statement::jsonb ->> 'step' as step,
        statement::jsonb ->> 'record' as record
      from facts
      where kind in ('containment-unit', 'containment-progress') and concerns = any ($1::uuid[])
        and ($2::text[] is null or statement::jsonb ->> 'unit' = any ($2::text[]))
      order by recorded_at, id`,
    values: [containments, units],
  });
  return rows;
}

/** How they were lifted. */
export async function liftsOf(tx: Tx, containments: readonly string[]): Promise<FactRow[]> {
  if (containments.length === 0) return [];
  const { rows } = await tx.query<FactRow>({
    name: 'lifts-of-containments',
    text: `
      select ${factColumns} from facts
      where kind = 'containment-lift' and concerns = any ($1::uuid[]) order by id`,
    values: [containments],
  });
  return rows;
}

/** The next containments after an id that the transaction may see. */
export async function listContainments(
  tx: Tx,
  page: { readonly after: string | null; readonly most: number },
  only: readonly string[] | null,
): Promise<FactRow[]> {
  const { rows } = await tx.query<FactRow>({
    name: 'list-containments',
    text: `
      select ${factColumns} from facts
      where kind = 'containment' and ($1::uuid is null or id > $1) and ($2::uuid[] is null or id = any ($2))
      order by id limit $3`,
    values: [page.after, only, page.most],
  });
  return rows;
}

/** Of these units, those that a record of this organisation was about. Only the recorder may. */
export async function workedOn(tx: Tx, owner: string, units: readonly string[]): Promise<string[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<{ unit: string }>({
    name: 'worked-on',
    text: `
      select distinct event.unit_id as unit from unit_events as event
      join facts on facts.owner = $1::uuid and facts.id = event.fact and facts.kind not like 'containment%'
      where event.unit_id = any ($2::uuid[])`,
    values: [owner, units],
  });
  return rows.map((row) => row.unit);
}

/** The makers of the directory. */
export async function makersKnown(tx: Tx): Promise<{ readonly id: string; readonly slug: string }[]> {
  const { rows } = await tx.query<{ id: string; slug: string }>({
    name: 'makers-known',
    text: `select id, slug from organisations where kind = 'maker'`,
  });
  return rows;
}

/** A distributor's own, and those that ever reached a unit that it worked on. */
export async function containmentsTouching(tx: Tx, owner: string): Promise<string[]> {
  const { rows } = await tx.query<{ id: string }>({
    name: 'containments-touching',
    text: `
      select id from facts where owner = $1::uuid and kind = 'containment'
      union
      select came.concerns from facts as came
      where came.kind = 'containment-unit' and exists (
        select from unit_events as event
        join facts as own on own.owner = $1::uuid and own.id = event.fact and own.kind not like 'containment%'
        where event.unit_id = (came.statement::jsonb ->> 'unit')::uuid)`,
    values: [owner],
  });
  return rows.map((row) => row.id);
}
