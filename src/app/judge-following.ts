/**
 * After a correction: the records that follow on its units are judged again, each as a fact that names its cause. Those
 * of the owner of the correction; another distributor's are theirs to be asked about, and what contradicts them holds
 * the correction itself.
 */
import type { RecordKind } from '../core/catalogue/edition.ts';
import { effectiveEvents } from '../core/history/effective-events.ts';
import type { UnitEvent } from '../core/history/event.ts';
import { orderEvents } from '../core/history/order-events.ts';
import { workBodies } from '../core/records/bodies.ts';
import { readEvents, unitsOfFacts } from '../store/sql/read-events.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import { readPeopleById } from '../store/sql/read-stock.ts';
import { withTransaction } from '../store/transaction.ts';
import type { App } from './context.ts';
import { peopleIn, withPeople } from './decisions/statement.ts';
import { recordAll } from './recording/record-all.ts';
import type { Frame, Request } from './recording/request.ts';

/** Once more, should it have been cut off: what is judged the same again is not written. */
export async function judgeFollowing(app: App, correction: string, frame: Pick<Frame, 'owner' | 'client' | 'subject'>) {
  for (const again of await following(app, correction, frame.owner)) {
    const request: Request<'judgement'> = {
      ...{ ...frame, ...again, kind: 'judgement', cause: correction, fact: app.effects.newId() },
      ...{ sent: { record: again.record, cause: correction }, route: '', key: null, checkOnly: false },
    };
    const [outcome] = await recordAll({ ...app, pool: app.pools.recording }, [request]);
    if (outcome === undefined || outcome.kind === 'failed') throw outcome?.error;
  }
}

type Again = Pick<Request<'judgement'>, 'record' | 'work'>;

/** In the order of work. */
async function following(app: App, correction: string, owner: string): Promise<Again[]> {
  const context = { role: 'recorder' as const, orgs: [owner], readOnly: true };
  return await withTransaction(app.pools.reading, context, async (tx) => {
    const units = [...new Set((await unitsOfFacts(tx, [correction])).map((one) => one.unit))];
    const events = Map.groupBy(await readEvents(tx, units), (event) => event.unit);
    const after = new Set([...events.values()].flatMap((all) => factsAfter(all, correction)));
    // In the order of work over all units: what is judged later reads what was judged before.
    const ordered = orderEvents([...events.values()].flat()).map((event) => event.fact);
    const later = [...new Set(ordered)].filter((fact) => after.has(fact));
    const facts = await readFacts(tx, later);
    const people = facts.flatMap((fact) =>
      [...new Set(peopleIn(JSON.parse(fact.statement)))].map((id) => ({ owner, id })),
    );
    const ownIds = new Map((await readPeopleById(tx, people)).map((one) => [one.id, one.ownId]));
    return later.flatMap((id) =>
      asWork(
        facts.find((one) => one.id === id),
        ownIds,
      ),
    );
  });
}

/** What a void record was followed by is what comes after its own place. */
function factsAfter(events: readonly UnitEvent[], correction: string): string[] {
  const replaced = events.find((event) => event.fact === correction)?.effect.replaces;
  const ordered = orderEvents(effectiveEvents(events));
  const everything = orderEvents(events).map((event) => event.fact);
  const from = Math.min(
    ...[correction, replaced].map((fact) => everything.indexOf(fact ?? '')).filter((at) => at >= 0),
  );
  const after = new Set(everything.slice(from));
  return ordered.map((event) => event.fact).filter((fact) => fact !== correction && after.has(fact));
}

/** The record as it would be sent now; nothing where it is no bench work, or somebody it names has been forgotten. */
function asWork(fact: FactRow | undefined, ownIds: ReadonlyMap<string, string>): Again[] {
  if (fact === undefined) return [];
  const stated = JSON.parse(fact.statement) as { kind?: string; body?: unknown };
  const kind = fact.kind === 'correction' ? stated.kind : fact.kind;
  const schema = kind === undefined ? undefined : workBodies[kind as RecordKind];
  const statement = fact.kind === 'correction' ? stated.body : stated;
  if (schema === undefined || peopleIn(statement).some((id) => !ownIds.has(id))) return [];
  const sent = withPeople(statement, (person) => ownIds.get(person));
  const frame = { owner: fact.owner, client: '', subject: '', fact: fact.id, route: '', key: null, checkOnly: false };
  return [{ record: fact.id, work: { ...frame, kind, body: schema.parse(sent), sent } as Request<RecordKind> }];
}
