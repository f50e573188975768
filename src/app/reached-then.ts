/** What an element alone reached, as it was known at a time: what stations held then is folded of their units. */
import { elementAlone } from '../core/reach/criteria.ts';
import { heldBy } from '../core/reach/still.ts';
import { findReach, type NextPage, type Reached, type ReachSought, unitsSaying } from '../store/sql/find-reach.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { readingContext } from './read-unit.ts';
import { statesKnown } from './states-known.ts';

/** Units whose events are at hand at once. */
const atOnce = 500;

/** Of at least the next `most` units after one, by id, if there are so many: units are walked until there are enough. */
export async function elementReachedThen(
  app: App,
  asker: Asker,
  sought: ReachSought,
  { after, most }: NextPage,
): Promise<Reached[]> {
  const element = elementAlone(sought);
  const { known } = sought;
  if (element === null || known === undefined) throw new Error('an element alone is sought, as it was known at a time');
  const reached: Reached[] = [];
  for (let last = after, isMore = true; isMore && new Set(reached.map(({ unit }) => unit)).size < most; ) {
    const { units, found } = await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
      const walked = await unitsSaying(tx.as('recorder'), element, { after: last, most: atOnce });
      const saying = walked.filter(({ says }) => says).map(({ unit }) => unit);
      const held = (await statesKnown(tx, saying, known)).flatMap((state) =>
        recordsIn(state).flatMap((fact) =>
          heldBy(fact, element, state).length > 0 ? [{ unit: state.unit, fact }] : [],
        ),
      );
      const units = walked.map(({ unit }) => unit);
      return { units, found: await findReach(tx, { ...sought, held }, { units }) };
    });
    reached.push(...found);
    last = units.at(-1) ?? last;
    isMore = units.length === atOnce;
  }
  return reached;
}

function recordsIn({ stations }: Parameters<typeof heldBy>[2]): string[] {
  return [...new Set(Object.values(stations).map(({ record }) => record))];
}
