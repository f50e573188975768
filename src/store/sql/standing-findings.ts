/** The findings that stand now, as SQL: what is listed and what is counted is the same. */
import type { StandingFinding } from '../../core/history/fold.ts';
import { canonical } from '../../core/log/canonical.ts';
import { containedDue } from './contained-due.ts';
import { shopStated } from './shop-stated.ts';
import { standsAt } from './stands-now.ts';
import { findingsOf } from './unit-findings.ts';

/** As it was known at a time, which is when ages are reckoned: units of which something was recorded since, as they were. */
export type FindingsThen = {
  readonly now: string;
  readonly touched: readonly {
    readonly unit: string;
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
 * Queries to begin a statement with, of which `found` is to be selected from. From what stands open, in the order of the
 * records: a page reads little more than it lists, and what others have between. From the states of all units that are not
 * released it read 4,000 rows for 50, of 20,000 records, and as many where the records could be joined in any order (which
 * `offset 0` prevents): few findings were expected, and all of the owner's records read. Only editions that say how long a due may take are looked into. What is due by a
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
    `severity = ${of(severity, 'text')}`,
    handedOver === true ? `finding ? 'handedOver'` : `not finding ? 'handedOver'`,
    standsAt(now),
    rule !== undefined && `finding ->> 'rule' = ${of(rule, 'text')}`,
  ];
  const whose =
    owner !== null &&
    `(facts.owner = ${of(owner, 'uuid')} or ${isContained(of(sought.containing, 'uuid[]'), of(owner, 'uuid'))})`;
  const ofRecord = [
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
    ), ${containedDue(isDue ? `strpos(statement, '"severity":"inspect"') > 0` : 'false')}, standing as (
      select unit_id, fact, finding, digest
      from (select unit_id, fact, severity, finding::jsonb as finding, md5(finding) as digest from ${asKnown === undefined ? 'unit_findings' : findingsThen(asKnown, of)}) as open
      where ${all(ofFinding)}
    ), found as (
      select facts.owner, fact, unit_id as unit, digest, finding, ${shopStated} as shop,
        floor(extract(epoch from ${now} - facts.performed_to) / 86400)::int as age,
        ${dueBy} as due_by, ${isOverdue} as overdue
      from standing
      cross join lateral (select * from facts where facts.id = standing.fact and ${all([whose])} offset 0) as facts
      left join period on period.maker = facts.maker and period.edition = facts.edition
      left join contained_due on contained_due.owner = facts.owner and contained_due.containment = facts.concerns
        and contained_due.unit = standing.unit_id
      where ${all(ofRecord)}
    )`;
}

/** As they are kept, but for those of units that were touched since. */
function findingsThen({ touched }: FindingsThen, of: (value: unknown, type: string) => string): string {
  const rows = touched.map(({ unit, open }) => ({ unit_id: unit, state: canonical({ open }) }));
  const folded = `jsonb_to_recordset(${of(JSON.stringify(rows), 'jsonb')}) as folded (unit_id uuid, state text)`;
  const units = of(
    touched.map(({ unit }) => unit),
    'uuid[]',
  );
  return `(
    select unit_id, fact, severity, finding from unit_findings where unit_id not in (select unnest(${units}))
    union all select unit_id, fact, severity, finding from (${findingsOf(folded)}) as folded) as findings`;
}

/** Said of the unit by an organisation that contains, to a distributor that has recorded something of it. */
function isContained(containing: string, owner: string): string {
  return `facts.owner = any (${containing}) and facts.kind like 'containment-%' and exists (
    select from unit_dates join facts as own on own.owner = ${owner} and own.id = unit_dates.fact and own.kind not like 'containment%'
    where unit_dates.unit_id = standing.unit_id)`;
}
