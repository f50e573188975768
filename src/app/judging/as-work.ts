/** Records as they would be sent now. */
import type { RecordKind } from '../../core/catalogue/edition.ts';
import { workBodies } from '../../core/records/bodies.ts';
import { type FactRow, readFacts } from '../../store/sql/read-facts.ts';
import { readPeopleById } from '../../store/sql/read-stock.ts';
import type { Tx } from '../../store/transaction.ts';
import { peopleIn, withPeople } from '../decisions/statement.ts';
import type { Request } from '../recording/request.ts';

export type Again = Pick<Request<'judgement'>, 'record' | 'work'>;

/** In the order of the ids; without what is no bench work or is another distributor's. */
export async function asWork(tx: Tx, ids: readonly string[]): Promise<Again[]> {
  const facts = new Map((await readFacts(tx, ids)).map((fact) => [fact.id, fact]));
  const people = [...facts.values()].flatMap((fact) =>
    [...new Set(peopleIn(JSON.parse(fact.statement)))].map((id) => ({ owner: fact.owner, id })),
  );
  const ownIds = new Map((await readPeopleById(tx, people)).map((one) => [one.id, one.ownId]));
  return ids.flatMap((id) => asSent(facts.get(id), ownIds));
}

function asSent(fact: FactRow | undefined, ownIds: ReadonlyMap<string, string>): Again[] {
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
