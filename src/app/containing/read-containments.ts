/** Containments as they stand: what they reach, what came in since and why, what was done about each unit, what is overdue. */
import { isDone } from '../../core/containment/effects.ts';
import type { ContainmentBody, ProgressBody } from '../../core/records/containment-bodies.ts';
import { Problem } from '../../errors.ts';
import { duesOfContained } from '../../store/sql/contained-due.ts';
import {
  containmentsTouching,
  type Entered,
  enteredIn,
  liftsOf,
  listContainments,
  workedOn,
} from '../../store/sql/containments.ts';
import { findReach } from '../../store/sql/find-reach.ts';
import { readClock } from '../../store/sql/lock-heads.ts';
import { namesOfOrganisations } from '../../store/sql/names-of-organisations.ts';
import { type FactRow, readFacts } from '../../store/sql/read-facts.ts';
import { type TransactionContext, type Tx, withTransaction } from '../../store/transaction.ts';
import type { Asker } from '../asker.ts';
import type { App } from '../context.ts';
import { statedIn } from '../decisions/decide-containment.ts';
import { resolve } from '../find-reach.ts';
import { isUuid } from '../list-records.ts';
import { cut, everyPage, type Page, type PageAsked, unknownCursor } from '../page.ts';
import { isAnalyst, readingContext, requireReading } from '../read-unit.ts';
import { viewReach } from '../view-reach.ts';
import { requireParty } from './ask-containment.ts';
import { organisationsThatContain, reachedAtIssue } from './contain.ts';
import { issuerOf } from './reach-of.ts';

/** The maker's people see all of their make's; a distributor its own, and those that reach a unit that it worked on. */
export async function readContainments(app: App, asker: Asker, { first, after }: PageAsked) {
  const { own, context } = await seeing(app, asker);
  if (after !== null && !isUuid(after)) throw unknownCursor();
  return await withTransaction(app.pools.reading, context, async (tx) => {
    const only = isAnalyst(asker) ? null : await containmentsTouching(tx, own);
    if (after !== null && (await listContainments(tx, { after: null, most: 1 }, [after])).length === 0)
      throw unknownCursor();
    const facts = await listContainments(tx, { after, most: first + 1 }, only);
    return cut(await viewsOf(tx, own, facts), first, (one) => one.containment);
  });
}

export async function readContainment(app: App, asker: Asker, id: string) {
  const { own, context } = await seeing(app, asker);
  return await withTransaction(app.pools.reading, context, async (tx) => {
    const fact = await requireContainment(tx, asker, own, id);
    const [view] = await viewsOf(tx, own, [fact]);
    if (view === undefined) throw notFound(id);
    return view;
  });
}

export type UnitView = Awaited<ReturnType<typeof viewReach>>[number] & UnitStanding;

/** By unit, in the order of their ids. `overdue`: only what is. */
export async function reachOfContainment(
  app: App,
  asker: Asker,
  id: string,
  { first, after, overdue }: PageAsked & { readonly overdue: boolean },
): Promise<Page<UnitView>> {
  const { own, context } = await seeing(app, asker);
  const { fact, standing } = await withTransaction(app.pools.reading, context, async (tx) => {
    const found = await requireContainment(tx, asker, own, id);
    const dues = await duesOfContained(tx, [id]);
    const all = standingOf(found, await enteredIn(tx, [id]), dues, await readClock(tx));
    const units = [...all.keys()];
    const isForAll = isAnalyst(asker) || found.owner === own;
    const seen = new Set(isForAll ? units : await workedOn(tx, own, units));
    return { fact: found, standing: [...all].filter(([unit]) => seen.has(unit)) };
  });
  const sorted = standing.filter(([, one]) => !overdue || one.overdue).toSorted(([a], [b]) => (a < b ? -1 : 1));
  if (after !== null && !standing.some(([unit]) => unit === after)) throw unknownCursor();
  const page = cut(
    sorted.filter(([unit]) => after === null || unit > after).slice(0, first + 1),
    first,
    ([unit]) => unit,
  );
  const { criteria } = statedIn(fact);
  const units = page.items.map(([unit]) => unit);
  const views = await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const rows = await findReach(tx, await resolve(tx, issuerOf(fact), criteria), { units });
    const byUnit = Map.groupBy(rows, (row) => row.unit);
    const matched = units.map((unit) => ({ unit, matched: byUnit.get(unit) ?? [] }));
    return await viewReach(tx, asker, criteria, matched);
  });
  return { ...page, items: views.map((view, at) => ({ ...view, ...(page.items[at] as [string, UnitStanding])[1] })) };
}

/** All of them, page by page. @throws Problem at once */
export async function everyUnitContained(
  app: App,
  asker: Asker,
  id: string,
  overdue: boolean,
): Promise<AsyncGenerator<readonly UnitView[], void, undefined>> {
  const next = async (after: string | null) =>
    await reachOfContainment(app, asker, id, { first: pageSize, after, overdue });
  return everyPage(await next(null), next);
}

const pageSize = 200;

export type UnitStanding = {
  /** Whether it was reached when the containment was issued. */
  readonly atIssue: boolean;
  /** The record that brought it in since, and when that was known; null: it was in at issue. */
  readonly added: { readonly record: string; readonly recordedAt: string } | null;
  /** The step that was told last, and when. */
  readonly progress: { readonly step: ProgressBody['step']; readonly recordedAt: string } | null;
  readonly done: boolean;
  readonly dueBy: string | null;
  readonly overdue: boolean;
};

/** @param dues by containment and unit, as `duesOfContained` tells them */
export function standingOf(
  fact: FactRow,
  entered: readonly Entered[],
  dues: ReadonlyMap<string, string>,
  now: string,
): Map<string, UnitStanding> {
  const { severity } = statedIn(fact);
  const frozen = new Set(reachedAtIssue(fact).map(([unit]) => unit));
  const byUnit = Map.groupBy(entered, (one) => one.unit);
  const units = [...new Set([...frozen, ...byUnit.keys()])];
  return new Map(
    units.map((unit) => {
      const said = byUnit.get(unit) ?? [];
      const came = said.find((one) => one.is === 'in');
      const last = said.findLast((one) => one.kind === 'containment-progress');
      const step = (last?.step ?? null) as ProgressBody['step'] | null;
      const done = said.some((one) => one.is === 'out') || (step !== null && isDone(step, severity));
      const dueBy = dues.get(`${fact.id}.${unit}`) ?? null;
      const standing: UnitStanding = {
        atIssue: frozen.has(unit),
        added: frozen.has(unit) || came?.record == null ? null : { record: came.record, recordedAt: came.recordedAt },
        progress: last === undefined || step === null ? null : { step, recordedAt: last.recordedAt },
        ...{ done, dueBy, overdue: !done && dueBy !== null && dueBy <= now },
      };
      return [unit, standing];
    }),
  );
}

export type ContainmentView = Awaited<ReturnType<typeof viewsOf>>[number];

/** Who lifted it is for the people of its issuer; what it seeks too, because it may name what is another's. */
export async function viewsOf(tx: Tx, own: string, facts: readonly FactRow[]) {
  const lifts = new Map(
    (
      await liftsOf(
        tx,
        facts.map((one) => one.id),
      )
    ).map((one) => [one.concerns, one]),
  );
  const slugs = await namesOfOrganisations(tx, [...new Set(facts.map((one) => one.owner))]);
  return facts.map((fact) => {
    const stated: ContainmentBody = statedIn(fact);
    const lift = lifts.get(fact.id);
    const isOwn = fact.owner === own;
    return {
      containment: fact.id,
      issuedBy: slugs.get(fact.owner) ?? '',
      issuedAt: fact.recordedAt,
      reference: stated.reference.trim(),
      severity: stated.severity,
      reason: stated.reason.trim(),
      instruction: stated.instruction.trim(),
      dueWithin: stated.dueWithin ?? null,
      criteria: isOwn ? stated.criteria : null,
      reachedAtIssue: isOwn ? reachedAtIssue(fact).length : null,
      lifted:
        lift === undefined
          ? null
          : {
              at: lift.recordedAt,
              reason: (JSON.parse(lift.statement) as { reason: string }).reason.trim(),
              by: isOwn ? subjectOf(lift) : null,
            },
    };
  });
}

function subjectOf({ origin }: FactRow): string {
  return (JSON.parse(origin) as { recordedBy: { subject: string } }).recordedBy.subject;
}

async function requireContainment(tx: Tx, asker: Asker, own: string, id: string): Promise<FactRow> {
  const [fact] = (await readFacts(tx, [id])).filter((one) => one.kind === 'containment');
  if (fact === undefined) throw notFound(id);
  const isForAsker = isAnalyst(asker) || fact.owner === own || (await containmentsTouching(tx, own)).includes(id);
  if (!isForAsker) throw notFound(id);
  return fact;
}

/** A distributor reads beside its own what makers have issued, as far as it touches units that it worked on. */
async function seeing(app: App, asker: Asker): Promise<Sight> {
  requireReading(asker);
  return await sightOf(app, asker);
}

export type Sight = { readonly own: string; readonly context: TransactionContext };

/** For an asker whose scopes were looked at. */
export async function sightOf(app: App, asker: Asker): Promise<Sight> {
  const own = requireParty(asker);
  if (isAnalyst(asker)) return { own, context: readingContext(asker) };
  return { own, context: { role: 'recorder', orgs: await organisationsThatContain(app, [own]), readOnly: true } };
}

function notFound(id: string): Problem {
  return new Problem('not-found', `There is no containment ${id}.`);
}
