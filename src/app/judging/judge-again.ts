/**
 * After a fact that changes what other records are judged by: those that it touches are judged again, each as a fact that
 * names its cause. What is judged the same again is not written, so doing it twice, or by two instances at once, changes
 * nothing.
 */
import {
  dropPending,
  listPending,
  type PendingJudgement,
  pendingBeside,
  readPending,
} from '../../store/sql/pending-judgements.ts';
import { withTransaction } from '../../store/transaction.ts';
import { settleContainment } from '../containing/contain.ts';
import type { App } from '../context.ts';
import { recordAll } from '../recording/record-all.ts';
import type { Request } from '../recording/request.ts';
import { asWork } from './as-work.ts';
import { findBefore } from './find-before.ts';
import { type Following, findFollowing } from './find-following.ts';
import { findTouched } from './find-touched.ts';
import type { Touched } from './touched.ts';

/** Records at a time: one transaction each, with their units locked meanwhile. */
const atOnce = 32;

/** Nothing where nothing is pending for it. @throws what keeps a record from being judged: the rest stays pending. */
export async function judgeAgain(app: App, owner: string, cause: string): Promise<void> {
  const context = { role: 'recorder' as const, orgs: [owner], readOnly: true };
  const pending = await withTransaction(app.pools.reading, context, (tx) => readPending(tx, cause));
  if (pending !== null) await judgePending(app, pending);
}

/**
 * What a service that was killed, or a database that went away, left undone. @returns how many causes were seen to;
 * @throws the first failure, after trying them all.
 */
export async function judgeLeftOver(app: App, olderThanSeconds: number): Promise<number> {
  const nobodys = { role: 'reader' as const, orgs: [], readOnly: true };
  const all = await withTransaction(app.pools.jobs, nobodys, () => app.models.organisation.findMany());
  const context = { role: 'recorder' as const, orgs: all.map((one) => one.id), readOnly: true };
  const left = await withTransaction(app.pools.jobs, context, (tx) => listPending(tx, olderThanSeconds, 100));
  const failures: unknown[] = [];
  for (const pending of left) await judgePending(app, pending).catch((error: unknown) => failures.push(error));
  if (failures.length > 0) throw failures[0];
  return left.length;
}

/**
 * With it all that wait for the same units: a burst of late records has what follows them judged once, after all of them
 * that were kept by then, and not once for each.
 */
async function judgePending(app: App, pending: PendingJudgement): Promise<void> {
  const { owner, cause } = pending;
  const touched = JSON.parse(pending.touched) as Touched[];
  for (const one of touched) if (one.what === 'containment') await settleContainment(app, owner, one.containment);
  const context = { role: 'recorder' as const, orgs: [owner] };
  const beside = touched.some((one) => one.what === 'following')
    ? await withTransaction(app.pools.reading, { ...context, readOnly: true }, (tx) => pendingBeside(tx, pending))
    : [];
  const all: [PendingJudgement, ...PendingJudgement[]] = [pending, ...beside.filter((one) => one.cause !== cause)];
  const changed = await judgeAll(app, await touchedBy(app, all));
  if (touched.some((one) => one.what === 'following')) await judgeAll(app, await touchedBefore(app, all, changed));
  const causes = all.map((one) => one.cause);
  await withTransaction(app.pools.recording, context, (tx) => dropPending(tx, owner, causes));
}

/** A record that is to be judged again, and the fact after which it is. */
type Touching = { readonly record: string; readonly by: PendingJudgement };
type OfOne = { readonly whose: string; readonly records: Touching[] };

/** What follows on the units first, in the order of work through all hands: what is judged later reads what was judged before. */
async function touchedBy(app: App, all: readonly [PendingJudgement, ...PendingJudgement[]]): Promise<OfOne[]> {
  const [pending] = all;
  const { owner, cause } = pending;
  const touched = JSON.parse(pending.touched) as Touched[];
  const found: OfOne[] = [];
  if (touched.some((one) => one.what === 'following')) {
    const causes = all.map((one) => one.cause);
    found.push(...byOwner(await findFollowing(app, causes), all));
  }
  const others = touched.filter((one) => one.what !== 'following' && one.what !== 'containment');
  for (const [whose, theirs] of Map.groupBy(others, (one) => ('owner' in one ? one.owner : owner))) {
    const context = { role: 'recorder' as const, orgs: [whose], readOnly: true };
    const records = await withTransaction(app.pools.reading, context, (tx) =>
      findTouched(tx, app.editions, whose, cause, theirs),
    );
    found.push({ whose, records: records.map((record) => ({ record, by: pending })) });
  }
  return found;
}

/** By where a unit came in later work before it may have been judged: that is looked at once the movements are settled. */
async function touchedBefore(
  app: App,
  all: readonly [PendingJudgement, ...PendingJudgement[]],
  changed: readonly Touching[],
): Promise<OfOne[]> {
  const came = all.map((one): [string, string] => [one.cause, one.cause]);
  const judged = changed.map(({ record, by }): [string, string] => [record, by.cause]);
  return byOwner(await findBefore(app, new Map([...judged, ...came])), all);
}

/** In the same order; what comes one after the other of one owner is together. */
function byOwner(following: readonly Following[], all: readonly [PendingJudgement, ...PendingJudgement[]]): OfOne[] {
  const causes = new Map(all.map((one) => [one.cause, one]));
  const found: OfOne[] = [];
  for (const one of following) {
    const last = found.at(-1);
    const touching = { record: one.id, by: causes.get(one.cause) ?? all[0] };
    if (last?.whose === one.owner) last.records.push(touching);
    else found.push({ whose: one.owner, records: [touching] });
  }
  return found;
}

/** @returns those that are judged otherwise now */
async function judgeAll(app: App, touched: readonly OfOne[]): Promise<Touching[]> {
  const changed: Touching[] = [];
  for (const { whose, records } of touched) {
    for (let from = 0; from < records.length; from += atOnce) {
      changed.push(...(await judgeThese(app, whose, records.slice(from, from + atOnce))));
    }
  }
  return changed;
}

async function judgeThese(app: App, whose: string, records: readonly Touching[]): Promise<Touching[]> {
  const context = { role: 'recorder' as const, orgs: [whose], readOnly: true };
  const byRecord = new Map(records.map(({ record, by }) => [record, by]));
  const again = await withTransaction(app.pools.reading, context, (tx) => asWork(tx, [...byRecord.keys()]));
  const requests = again.flatMap((one): Request<'judgement'>[] => {
    const by = byRecord.get(one.record);
    if (by === undefined) return [];
    // The judgement is theirs; who works for the one that touched them is not theirs to know.
    const { client, subject } = by.owner === whose ? by : { client: 'asfitted', subject: 'asfitted' };
    return [
      {
        ...{ ...one, owner: whose, client, subject, kind: 'judgement', cause: by.cause, fact: app.effects.newId() },
        ...{ sent: { record: one.record, cause: by.cause }, route: '', key: null, checkOnly: false },
      },
    ];
  });
  const outcomes = await recordAll({ ...app, pool: app.pools.recording }, requests);
  for (const outcome of outcomes) if (outcome.kind === 'failed') throw outcome.error;
  const isChanged = new Set(
    outcomes.flatMap((outcome) => (outcome.kind === 'kept' && outcome.status === 201 ? recordIn(outcome.answer) : [])),
  );
  return records.filter(({ record }) => isChanged.has(record));
}

/** An answer of `decideJudgement`. */
function recordIn(answer: string): string {
  return (JSON.parse(answer) as { record: string }).record;
}
