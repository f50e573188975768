/** One record whole, as far as the asker may see it, with its status as it is now. */
import { statusOf } from '../core/history/fold.ts';
import { Problem } from '../errors.ts';
import { namesOfUnits } from '../store/sql/find-units.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { unitsOfFacts } from '../store/sql/read-events.ts';
import { readFacts } from '../store/sql/read-facts.ts';
import { readPeopleById } from '../store/sql/read-stock.ts';
import { saidSince } from '../store/sql/said-since.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { peopleIn } from './decisions/decide-disposition.ts';
import { isAnalyst, nameOf, readingContext } from './read-unit.ts';

export async function readRecord(app: App, asker: Asker, id: string) {
  if (!asker.scopes.has(isAnalyst(asker) ? 'warranty:read' : 'record:read')) {
    throw new Problem('forbidden', 'The token lacks the scope record:read, or warranty:read for the maker.');
  }
  const units = await unitsTouched(app, id);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const [fact] = await readFacts(tx, [id]);
    const since = await saidSince(tx, [id]);
    if (fact === undefined) throw new Problem('not-found', `There is no record ${id}.`);
    const statement = JSON.parse(fact.statement) as unknown;
    const states = await readCurrent(tx, units);
    const names = await namesOfUnits(tx, units);
    const open = states.flatMap((state) => state.open.filter((one) => one.fact === id));
    const people = isAnalyst(asker)
      ? []
      : await readPeopleById(
          tx,
          [...new Set(peopleIn(statement))].map((person) => ({ owner: fact.owner, id: person })),
        );
    const note = isAnalyst(asker)
      ? null
      : await app.models.factPrivate.findFirst({ where: { owner: fact.owner, fact: id } });
    return {
      id,
      kind: fact.kind,
      maker: fact.maker,
      edition: fact.edition,
      ruleset: fact.ruleset,
      performed: { from: fact.performedFrom, to: fact.performedTo },
      recordedAt: fact.recordedAt,
      concerns: fact.concerns,
      correctedBy: since.find((one) => one.kind === 'correction')?.fact ?? null,
      judgedAgain: since.filter((one) => one.kind === 'judgement').map((one) => one.fact),
      entry: fact.entry,
      units: states.map((state) => ({
        unit: state.unit,
        kind: state.born?.kind ?? null,
        name: nameOf(names, state.unit),
      })),
      /** As it is now; the judgement says how it was judged then. */
      status: statusOf(open),
      open,
      origin: JSON.parse(fact.origin) as unknown,
      statement,
      judgement: JSON.parse(fact.judgement) as unknown,
      private: note === null ? null : (JSON.parse(note.section) as unknown),
      /** The shop's own ids of the people that the statement names. */
      people: Object.fromEntries(people.map((one) => [one.id, one.ownId])),
    };
  });
}

async function unitsTouched(app: App, id: string): Promise<string[]> {
  const rows = await withTransaction(app.pools.reading, { role: 'recorder', orgs: [], readOnly: true }, (tx) =>
    unitsOfFacts(tx, [id]),
  );
  return rows.map((row) => row.unit);
}
