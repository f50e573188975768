/**
 * Units come under a containment one by one, each by a fact of its own: those that it reached when it was issued, and
 * whatever record brings in later, with that record. It is done after the record is kept, so that recording waits for
 * nobody; what is done twice, or by two instances at once, is kept once.
 */
import {
  activeContainments,
  enteredIn,
  liftedContainments,
  liftsOf,
  makersKnown,
} from '../../store/sql/containments.ts';
import { unitsOfFacts } from '../../store/sql/read-events.ts';
import { type FactRow, readFacts } from '../../store/sql/read-facts.ts';
import { withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';
import { statedIn } from '../decisions/decide-containment.ts';
import { recordAll } from '../recording/record-all.ts';
import type { Request, UnitContained } from '../recording/request.ts';
import { issuerOf, reachOf } from './reach-of.ts';

/** Units at a time: one transaction each, with their units locked meanwhile. */
const atOnce = 32;

/** All that this containment reaches comes under it; once it is lifted, all comes out. */
export async function settleContainment(app: App, owner: string, containment: string): Promise<void> {
  const [fact] = await seen(app, [owner], (tx) => readFacts(tx, [containment]));
  if (fact !== undefined) await settle(app, fact, null);
}

/** What these bring in: a statement of a lot may bring in units that nobody touches now. */
export async function containWhatCame(app: App, came: readonly Request[]): Promise<void> {
  const owners = [...new Set(came.map((one) => one.owner))];
  const active = await seen(app, await organisationsThatContain(app, owners), activeContainments);
  if (active.length === 0) return;
  const facts = came.map((one) => one.fact);
  const touched = (await seen(app, [], (tx) => unitsOfFacts(tx, facts))).map((one) => one.unit);
  const units = came.some((one) => one.kind === 'lot') ? null : [...new Set(touched)];
  for (const containment of active) await app.afterwards(() => settle(app, containment, units));
}

/** What a service that was killed left undone, and what came in beside a containment that was being issued. */
export async function settleAll(app: App): Promise<void> {
  const all = await withTransaction(app.pools.jobs, { role: 'reader', orgs: [], readOnly: true }, () =>
    app.models.organisation.findMany(),
  );
  const left = await seen(
    app,
    all.map((one) => one.id),
    async (tx) => [...(await activeContainments(tx)), ...(await liftedContainments(tx))],
  );
  for (const containment of left) await settle(app, containment, null);
}

/** Its own, and those of makers. */
export async function organisationsThatContain(app: App, own: readonly string[]): Promise<string[]> {
  return [...own, ...(await makersThatContain(app))];
}

export async function makersThatContain(app: App): Promise<string[]> {
  const makers = await withTransaction(app.pools.reading, { role: 'reader', orgs: [], readOnly: true }, makersKnown);
  return makers.map((one) => one.id);
}

async function settle(app: App, containment: FactRow, units: readonly string[] | null): Promise<void> {
  const { id, owner } = containment;
  const entered = await seen(app, [owner], async (tx) => ({
    units: await enteredIn(tx, [id], units),
    isLifted: (await liftsOf(tx, [id])).length > 0,
  }));
  const [isIn, isOut] = (['in', 'out'] as const).map(
    (is) => new Set(entered.units.filter((one) => one.is === is).map((one) => one.unit)),
  ) as [Set<string>, Set<string>];
  if (entered.isLifted) {
    const out = [...isIn].filter((unit) => !isOut.has(unit));
    await enter(
      app,
      containment,
      out.map((unit) => ({ unit, is: 'out', record: null })),
    );
    return;
  }
  const reached = await reachOf(app, issuerOf(containment), statedIn(containment).criteria, units);
  const frozen = units === null ? reachedAtIssue(containment) : [];
  const coming = [...new Map([...reached, ...frozen])].filter(([unit]) => !isIn.has(unit));
  await enter(
    app,
    containment,
    coming.map(([unit, record]) => ({ unit, is: 'in', record })),
  );
}

/** Units with the first record that matched, as they were when it was issued. */
export function reachedAtIssue({ judgement }: Pick<FactRow, 'judgement'>): (readonly [string, string])[] {
  return (JSON.parse(judgement) as { reached: (readonly [string, string])[] }).reached;
}

async function enter(app: App, { id, owner }: FactRow, units: readonly UnitContained[]): Promise<void> {
  for (let from = 0; from < units.length; from += atOnce) {
    const requests = units.slice(from, from + atOnce).map(
      (one): Request<'containment-unit'> => ({
        ...{ kind: 'containment-unit', ...one, containment: id, owner, fact: app.effects.newId() },
        ...{ client: 'asfitted', subject: 'asfitted', sent: {}, route: '', key: null, checkOnly: false },
      }),
    );
    const outcomes = await recordAll({ ...app, pool: app.pools.recording }, requests);
    for (const outcome of outcomes) if (outcome.kind === 'failed') throw outcome.error;
  }
}

async function seen<T>(app: App, orgs: readonly string[], work: Parameters<typeof withTransaction<T>>[2]): Promise<T> {
  return await withTransaction(app.pools.reading, { role: 'recorder', orgs, readOnly: true }, work);
}
