/** The records whose judgement a fact may change. */

import { effectiveEvents } from '../../core/history/effective-events.ts';
import type { UnitEvent } from '../../core/history/event.ts';
import { orderEvents } from '../../core/history/order-events.ts';
import { lotKey } from '../../core/records/lot-name.ts';
import { readEvents, unitsOfFacts } from '../../store/sql/read-events.ts';
import { readFacts } from '../../store/sql/read-facts.ts';
import { recordsNaming } from '../../store/sql/records-naming.ts';
import type { Tx } from '../../store/transaction.ts';
import type { Editions } from '../editions.ts';
import { findAllDrawn, findDrawn } from './find-drawn.ts';
import type { Touched } from './touched.ts';

/** In the order of work: what is judged later reads what was judged before. */
export async function findTouched(
  tx: Tx,
  editions: Editions,
  owner: string,
  cause: string,
  touched: readonly Touched[],
): Promise<readonly string[]> {
  const found: string[] = [];
  for (const one of touched) found.push(...(await recordsOf(tx, editions, owner, cause, one)));
  return [...new Set(found)];
}

async function recordsOf(
  tx: Tx,
  editions: Editions,
  owner: string,
  cause: string,
  touched: Touched,
): Promise<readonly string[]> {
  switch (touched.what) {
    case 'following':
      return await following(tx, cause);
    case 'containment':
      return [];
    case 'instrument':
      return await recordsNaming(tx, owner, touched.what, touched.key, null);
    case 'technician':
    case 'shop':
      return await recordsNaming(tx, owner, touched.what, touched.key, touched.since ?? null);
    case 'lot': {
      const lot = { owner, lot: lotKey(touched.maker, touched.number) };
      // What is said of the lot itself may change more than who took what wasn't there.
      const [said] = await readFacts(tx, [cause]);
      return said?.kind === 'lot' ? await findAllDrawn(tx, lot) : await findDrawn(tx, editions, lot);
    }
  }
}

/** Of a correction: what comes after it, or after the place of the record that it made void. */
async function following(tx: Tx, correction: string): Promise<readonly string[]> {
  const units = [...new Set((await unitsOfFacts(tx, [correction])).map((one) => one.unit))];
  const events = Map.groupBy(await readEvents(tx, units), (event) => event.unit);
  const after = new Set([...events.values()].flatMap((all) => factsAfter(all, correction)));
  const ordered = orderEvents([...events.values()].flat()).map((event) => event.fact);
  return [...new Set(ordered)].filter((fact) => after.has(fact));
}

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
