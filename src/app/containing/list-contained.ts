/** The units under containments that nobody has lifted, with how each stands; for askers whose scopes were looked at. */
import { duesOfContained } from '../../store/sql/contained-due.ts';
import { activeContainments, enteredIn, workedOn } from '../../store/sql/containments.ts';
import { readClock } from '../../store/sql/lock-heads.ts';
import { shopsOfFacts } from '../../store/sql/shops-of-facts.ts';
import { withTransaction } from '../../store/transaction.ts';
import type { Asker } from '../asker.ts';
import type { App } from '../context.ts';
import { isAnalyst, readingContext } from '../read-unit.ts';
import { reachedAtIssue } from './contain.ts';
import {
  type ContainmentView,
  type Sight,
  sightOf,
  standingOf,
  type UnitStanding,
  viewsOf,
} from './read-containments.ts';

/** What is left out is not asked for. */
export type ContainedSought = {
  readonly containment?: string;
  readonly severity?: ContainmentView['severity'];
  /** Of the record that the unit was reached by. */
  readonly distributor?: string;
  readonly shop?: string;
  readonly step?: string;
  readonly done?: boolean;
  readonly overdue?: boolean;
};

export type Contained = UnitStanding & {
  readonly containment: ContainmentView;
  readonly unit: string;
  /** That it was reached by. */
  readonly record: string | null;
  /** Whose that is, and of which shop; null where the asker may not see it. */
  readonly distributor: string | null;
  readonly shop: string | null;
};

/**
 * By containment and unit, in the order of their ids. To the maker's people all of their make's, to a distributor those that
 * it has recorded something of, and all of its own containments. Read whole: each is a fact beside its containment.
 */
export async function listContained(app: App, asker: Asker, sought: ContainedSought): Promise<Contained[]> {
  const units = await standing(app, asker, await sightOf(app, asker), sought);
  const shops = await withTransaction(app.pools.reading, readingContext(asker), (tx) =>
    shopsOfFacts(tx, [...new Set(units.flatMap(({ record }) => record ?? []))]),
  );
  const byRecord = new Map(shops.map((one) => [one.fact, one]));
  return units
    .map((one) => {
      const { distributor = null, shop = null } = byRecord.get(one.record ?? '') ?? {};
      return { ...one, distributor, shop };
    })
    .filter((one) => isSought(one, sought));
}

async function standing(app: App, asker: Asker, { own, context }: Sight, sought: ContainedSought) {
  return await withTransaction(app.pools.reading, context, async (tx) => {
    const active = await activeContainments(tx);
    const views = new Map((await viewsOf(tx, own, active)).map((view) => [view.containment, view]));
    const ids = active.map((one) => one.id);
    const entered = Map.groupBy(await enteredIn(tx, ids), (one) => one.containment);
    const [dues, now] = [await duesOfContained(tx, ids), await readClock(tx)];
    const all = active.flatMap((fact) => {
      const view = views.get(fact.id);
      if (view === undefined || !isOf(view, sought)) return [];
      const atIssue = new Map(reachedAtIssue(fact));
      return [...standingOf(fact, entered.get(fact.id) ?? [], dues, now)].map(([unit, stands]) => ({
        ...{ owner: fact.owner, containment: view, unit, ...stands },
        record: stands.added?.record ?? atIssue.get(unit) ?? null,
      }));
    });
    const seen = isAnalyst(asker) ? null : new Set(await workedOn(tx, own, [...new Set(all.map(({ unit }) => unit))]));
    return all
      .filter((one) => seen === null || one.owner === own || seen.has(one.unit))
      .sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
  });
}

export function keyOf({ containment, unit }: Pick<Contained, 'containment' | 'unit'>): string {
  return `${containment.containment}.${unit}`;
}

function isOf(view: ContainmentView, { containment, severity }: ContainedSought): boolean {
  return (
    (containment === undefined || view.containment === containment) &&
    (severity === undefined || view.severity === severity)
  );
}

function isSought(one: Contained, { distributor, shop, step, done, overdue }: ContainedSought): boolean {
  return (
    (distributor === undefined || one.distributor === distributor) &&
    (shop === undefined || one.shop === shop) &&
    (step === undefined || one.progress?.step === step) &&
    (done === undefined || one.done === done) &&
    (overdue === undefined || one.overdue === overdue)
  );
}
