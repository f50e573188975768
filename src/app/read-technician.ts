/** One person of a distributor, with what the person is authorised for and whether that is in force. */
import { stateAt } from '../core/people/leave.ts';
import { frame } from '../core/records/parts.ts';
import { Problem } from '../errors.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import { type AuthorisationRow, readAuthorisations } from '../store/sql/read-leave.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { authorisationOf } from './derived/leave-rows.ts';
import { ownerAlone } from './list-own.ts';
import { isUuid } from './list-records.ts';
import { readingContext } from './read-unit.ts';

/**
 * By the shop's own id, or by the id by which records name the person.
 * @param at an instant; null: now
 */
export async function readTechnician(app: App, asker: Asker, id: string, at: string | null) {
  const owner = ownerAlone(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const people = await app.models.person.findMany({
      where: isUuid(id) ? { owner, OR: [{ ownId: id }, { id: id.toLowerCase() }] } : { owner, ownId: id },
    });
    const person = people.find((one) => one.ownId === id) ?? people[0];
    const stated =
      person && (await app.models.stockItem.findFirst({ where: { owner, kind: 'technician', key: person.ownId } }));
    if (person === undefined || !stated) throw new Problem('not-found', 'No technician of yours is known by this id.');
    const rows = await readAuthorisations(tx, [{ owner, id: person.id }]);
    const ids = rows.map((row) => row.id);
    const facts = new Map((await readFacts(tx, ids)).map((fact) => [fact.id, fact]));
    const privates = await app.models.factPrivate.findMany({ where: { owner, fact: { in: ids } } });
    const asked = at ?? (await readClock(tx));
    return {
      id: person.ownId,
      technician: person.id,
      version: stated.version,
      record: stated.fact,
      name: person.name,
      subject: person.subject,
      at: asked,
      authorisations: rows.map((row) => ({
        ...viewOf(row, asked),
        ...saidIn(facts.get(row.id)),
        givenBy: givenBy(privates.find((one) => one.fact === row.id)?.section),
      })),
    };
  });
}

/** An authorisation with its state at an instant. */
function viewOf(row: AuthorisationRow, at: string) {
  const { id, tasks, scope, from, until } = authorisationOf(row);
  const { withdrawnFrom } = row;
  return { authorisation: id, tasks, ...scope, from, until, withdrawnFrom, state: stateAt(row, withdrawnFrom, at) };
}

function saidIn(fact: FactRow | undefined) {
  const { reference, attachment = null } = JSON.parse(fact?.statement ?? '{}') as Record<string, string>;
  return { reference: frame.reference.parse(reference), attachment };
}

/** Null too where it was erased. */
function givenBy(section: string | undefined): string | null {
  const { givenBy = null } = (JSON.parse(section ?? 'null') ?? {}) as { givenBy?: string };
  return givenBy;
}
