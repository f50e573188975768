/** The records of one owner whose judgement a fact may change. */

import { lotKey } from '../../core/records/lot-name.ts';
import { readFacts } from '../../store/sql/read-facts.ts';
import { recordsNaming } from '../../store/sql/records-naming.ts';
import type { Tx } from '../../store/transaction.ts';
import type { Editions } from '../editions.ts';
import { findAllDrawn, findDrawn } from './find-drawn.ts';
import type { TouchedOfOne } from './touched.ts';

/** In the order of work: what is judged later reads what was judged before. */
export async function findTouched(
  tx: Tx,
  editions: Editions,
  owner: string,
  cause: string,
  touched: readonly TouchedOfOne[],
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
  touched: TouchedOfOne,
): Promise<readonly string[]> {
  switch (touched.what) {
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
