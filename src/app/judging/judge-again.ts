/**
 * After a fact that changes what other records are judged by: those that it touches are judged again, each as a fact that
 * names its cause. What is judged the same again is not written, so doing it twice, or by two instances at once, changes
 * nothing.
 */
import { dropPending, listPending, type PendingJudgement, readPending } from '../../store/sql/pending-judgements.ts';
import { withTransaction } from '../../store/transaction.ts';
import { settleContainment } from '../containing/contain.ts';
import type { App } from '../context.ts';
import { recordAll } from '../recording/record-all.ts';
import type { Request } from '../recording/request.ts';
import { asWork } from './as-work.ts';
import { findFollowing } from './find-following.ts';
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

async function judgePending(app: App, pending: PendingJudgement): Promise<void> {
  const { owner, cause } = pending;
  const touched = JSON.parse(pending.touched) as Touched[];
  for (const one of touched) if (one.what === 'containment') await settleContainment(app, owner, one.containment);
  for (const { whose, records } of await touchedBy(app, pending)) {
    // The judgement is theirs; who works for the one that touched them is not theirs to know.
    const by = whose === owner ? pending : { ...pending, owner: whose, client: 'asfitted', subject: 'asfitted' };
    for (let from = 0; from < records.length; from += atOnce) {
      await judgeThese(app, by, records.slice(from, from + atOnce));
    }
  }
  const context = { role: 'recorder' as const, orgs: [owner] };
  await withTransaction(app.pools.recording, context, (tx) => dropPending(tx, { owner, cause }));
}

type OfOne = { readonly whose: string; readonly records: string[] };

/** What follows on the units first, in the order of work through all hands: what is judged later reads what was judged before. */
async function touchedBy(app: App, { owner, cause, touched: text }: PendingJudgement): Promise<OfOne[]> {
  const touched = JSON.parse(text) as Touched[];
  const found: OfOne[] = [];
  if (touched.some((one) => one.what === 'following')) {
    for (const { id, owner: whose } of await findFollowing(app, cause)) {
      const last = found.at(-1);
      if (last?.whose === whose) last.records.push(id);
      else found.push({ whose, records: [id] });
    }
  }
  const others = touched.filter((one) => one.what !== 'following' && one.what !== 'containment');
  for (const [whose, theirs] of Map.groupBy(others, (one) => ('owner' in one ? one.owner : owner))) {
    const context = { role: 'recorder' as const, orgs: [whose], readOnly: true };
    const records = await withTransaction(app.pools.reading, context, (tx) =>
      findTouched(tx, app.editions, whose, cause, theirs),
    );
    found.push({ whose, records: [...records] });
  }
  return found;
}

async function judgeThese(app: App, pending: PendingJudgement, records: readonly string[]): Promise<void> {
  const { owner, cause, client, subject } = pending;
  const context = { role: 'recorder' as const, orgs: [owner], readOnly: true };
  const again = await withTransaction(app.pools.reading, context, (tx) => asWork(tx, records));
  const requests = again.map(
    (one): Request<'judgement'> => ({
      ...{ ...one, owner, client, subject, kind: 'judgement', cause, fact: app.effects.newId() },
      ...{ sent: { record: one.record, cause }, route: '', key: null, checkOnly: false },
    }),
  );
  const outcomes = await recordAll({ ...app, pool: app.pools.recording }, requests);
  for (const outcome of outcomes) if (outcome.kind === 'failed') throw outcome.error;
}
