/** The findings that stand now, as SQL: what is listed and what is counted is the same. */
import type { StandingFinding, Status } from '../../core/history/fold.ts';
import { containedDue } from './contained-due.ts';
import { shopStated } from './shop-stated.ts';
import { standsAt } from './stands-now.ts';

/** As it was known at a time, which is when ages are reckoned: units of which something was recorded since, as they were. */
export type FindingsThen = {
  readonly now: string;
  readonly touched: readonly {
    readonly unit: string;
    readonly status: Status;
    readonly open: readonly StandingFinding[];
  }[];
};

/** What is left out is not asked for. Times are half-open: from counts, to does not. */
export type FindingsSought = {
  readonly severity: 'hold' | 'due';
  /** Of a distributor's own records; null: of all that the transaction may see. */
  readonly owner: string | null;
  /** Beside those, what containments of these organisations hold of the units that the owner has recorded something of. */
  readonly containing: readonly string[];
  readonly rule?: string;
  /** Of the record that opened it. */
  readonly shop?: string;
  readonly kind?: string;
  /** By the end of the work's interval. */
  readonly performedFrom?: string;
  readonly performedTo?: string;
  /** Whose work ended at least so many days ago, by the database's clock. */
  readonly olderThanDays?: number;
  /** Only what somebody else has taken over; else only what nobody has. */
  readonly handedOver?: boolean;
  /** How long after the work a due is overdue where the edition doesn't say: a period such as P30D. */
  readonly overdueAfter?: string;
  readonly overdue?: boolean;
  /** Left out: as it is now. Only the recorder may ask for another time. */
  readonly asKnown?: FindingsThen;
};

/** Common practice, no published source: a month to bring what is still to come. */
export const usualPeriod = 'P30D';

/**
 * Two queries to begin a statement with, of which `found` is to be selected from. From the units that are not released,
 * which are few, and not from the records. Only editions that say how long a due may take are looked into. What is due by a
 * containment is overdue as that says, and never where it doesn't.
 */
export function withStanding(sought: FindingsSought, of: (value: unknown, type: string) => string): string {
  const { severity, owner, rule, shop, kind, performedFrom, performedTo, olderThanDays, handedOver, overdue, asKnown } =
    sought;
  const now = asKnown === undefined ? 'transaction_timestamp()' : of(asKnown.now, 'timestamptz');
  const within = `coalesce(period.within, ${of(sought.overdueAfter ?? usualPeriod, 'text')}::interval)`;
  const isDue = severity === 'due';
  const dueBy = `case when ${isDue} and facts.kind like 'containment-%' then contained_due.due_by
    else (facts.performed_to at time zone 'UTC' + ${within}) at time zone 'UTC' end`;
  const isOverdue = `coalesce(${dueBy} <= ${now}, false)`;
  const ofFinding = [
    handedOver === true
      ? `state like '%"handedOver":"%' and finding ? 'handedOver'`
      : `status <> 'released' and not finding ? 'handedOver'`,
    `finding ->> 'severity' = ${of(severity, 'text')}`,
    standsAt(now),
    rule !== undefined && `finding ->> 'rule' = ${of(rule, 'text')}`,
  ];
  const ofRecord = [
    owner !== null &&
      `(facts.owner = ${of(owner, 'uuid')} or ${isContained(of(sought.containing, 'uuid[]'), of(owner, 'uuid'))})`,
    shop !== undefined && `${shopStated} = ${of(shop, 'text')}`,
    kind !== undefined && `facts.kind = ${of(kind, 'text')}`,
    performedFrom !== undefined && `facts.performed_to >= ${of(performedFrom, 'timestamptz')}`,
    performedTo !== undefined && `facts.performed_to < ${of(performedTo, 'timestamptz')}`,
    olderThanDays !== undefined && `facts.performed_to <= ${now} - make_interval(days => ${of(olderThanDays, 'int')})`,
    overdue !== undefined && `${isOverdue} = ${of(overdue, 'boolean')}`,
  ];
  const all = (conditions: readonly (string | false)[]) =>
    ['true', ...conditions.filter((one) => one !== false)].join(' and ');
  return `
    with period as materialized (
      select maker, edition, (content::jsonb #>> '{demands,dueWithin}')::interval as within
      from editions where content like '%"dueWithin"%'
    ), ${containedDue(isDue ? `strpos(statement, '"severity":"inspect"') > 0` : 'false')}, standing as materialized (
      select distinct unit_id, (finding ->> 'fact')::uuid as fact, finding, md5(finding::text) as digest
      from ${asKnown === undefined ? 'unit_current' : statesThen(asKnown, of)} cross join lateral jsonb_array_elements(state::jsonb -> 'open') as finding
      where ${all(ofFinding)}
    ), found as (
      select facts.owner, fact, unit_id as unit, digest, finding, ${shopStated} as shop,
        floor(extract(epoch from ${now} - facts.performed_to) / 86400)::int as age,
        ${dueBy} as due_by, ${isOverdue} as overdue
      from standing
      join facts on facts.id = standing.fact
      left join period on period.maker = facts.maker and period.edition = facts.edition
      left join contained_due on contained_due.owner = facts.owner and contained_due.containment = facts.concerns
        and contained_due.unit = standing.unit_id
      where ${all(ofRecord)}
    )`;
}

/** States as they are kept, but for those that were touched since. */
function statesThen({ touched }: FindingsThen, of: (value: unknown, type: string) => string): string {
  const rows = touched.map(({ unit, status, open }) => ({ unit_id: unit, status, state: JSON.stringify({ open }) }));
  const folded = `jsonb_to_recordset(${of(JSON.stringify(rows), 'jsonb')}) as folded (unit_id uuid, status text, state text)`;
  const units = of(
    touched.map(({ unit }) => unit),
    'uuid[]',
  );
  return `(
    select unit_id, status, state from unit_states where unit_id not in (select unnest(${units}))
    union all select unit_id, status, state from ${folded}) as states`;
}

/** Said of the unit by an organisation that contains, to a distributor that has recorded something of it. */
function isContained(containing: string, owner: string): string {
  return `facts.owner = any (${containing}) and facts.kind like 'containment-%' and exists (
    select from unit_dates join facts as own on own.owner = ${owner} and own.id = unit_dates.fact and own.kind not like 'containment%'
    where unit_dates.unit_id = standing.unit_id)`;
}
