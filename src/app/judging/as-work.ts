/** Records as they would be sent now. */
import { workBodies } from '../../core/records/bodies.ts';
import { lifeBodies } from '../../core/records/life-bodies.ts';
import { type FactRow, readFacts } from '../../store/sql/read-facts.ts';
import { readPeopleById } from '../../store/sql/read-stock.ts';
import type { Tx } from '../../store/transaction.ts';
import { peopleIn, withPeople } from '../decisions/statement.ts';
import type { Request } from '../recording/request.ts';

export type Again = Pick<Request<'judgement'>, 'record' | 'work'>;

const bodies = { ...workBodies, ...lifeBodies };

/** In the order of the ids; without what is not judged by what was before it, or is another distributor's. */
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
  const statement = fact.kind === 'correction' ? stated.body : stated;
  if (kind === undefined || !(kind in bodies)) return [];
  if (peopleIn(statement).some((id) => !ownIds.has(id))) return [];
  const sent = withPeople(judgedPart(kind, statement), (person) => ownIds.get(person));
  const body = bodies[kind as keyof typeof bodies].parse(sent);
  const frame = { owner: fact.owner, client: '', subject: '', fact: fact.id, route: '', key: null, checkOnly: false };
  return [{ record: fact.id, work: { ...frame, kind, body, sent } as Again['work'] }];
}

/**
 * What may be erased takes no part in judging: a word stands for the machine. What was handed over then, somebody took over
 * then: that is not judged again.
 */
function judgedPart(kind: string, statement: unknown): unknown {
  if (!(kind in lifeBodies)) return statement;
  const { handedOver: _, ...rest } = statement as { handedOver?: unknown };
  return kind === 'start-up' ? { ...rest, machine: 'kept apart' } : rest;
}
