/** What a record worked on, as far as leave to work on it can be limited. */
import { seriesWith } from '../catalogue/lookup.ts';
import type { WorkAtHand } from '../people/leave.ts';
import type { Case } from './case.ts';

/** The function is the one that the work leaves, as far as its kind declares one. */
export function workAtHand(judged: Case): WorkAtHand {
  const { edition, layout, pumpAtHand, builtFor, kind, record, functionFound } = judged;
  return {
    maker: edition.maker,
    series: pumpAtHand === null ? seriesWith(edition, layout.body.id, builtFor.size) : [pumpAtHand.series],
    body: layout.body.id,
    function: kind === 'conversion' ? (record.to?.function ?? null) : functionFound,
  };
}
