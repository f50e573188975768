/** The trace of a claim: what was in the unit on the day it failed, and beside it what the claim says was found and seen. */

import { sizeOf } from '../core/catalogue/lookup.ts';
import type { AsFound, Observations } from '../core/claims/claim-body.ts';
import { type ClaimSaid, claimPoints } from '../core/trace/claim-points.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { editionInEffect } from './editions.ts';
import { readClaim } from './read-claim.ts';
import { readTrace } from './read-trace.ts';
import { readingContext } from './read-unit.ts';

/** @param known as it was known then; null: by all that is known */
export async function readClaimTrace(app: App, asker: Asker, id: string, known: string | null) {
  const claim = await readClaim(app, asker, id, known);
  const { unit, failed, statement, evidence, status } = claim;
  const path = { kind: unit.kind, maker: unit.maker, name: unit.name ?? '' };
  const trace = await readTrace(app, asker, { ...path, performed: failed.to, known });
  const said = [{ record: claim.claim, statement }, ...evidence].map(({ record, statement: one }): ClaimSaid => {
    const { asFound, observations } = one as { asFound?: Partial<AsFound>; observations?: Observations };
    return { record, asFound: asFound && { marks: [], ...asFound }, observations };
  });
  const pump = trace.pump?.born?.kind === 'pump' ? trace.pump.born : null;
  const edition = await withTransaction(app.pools.reading, readingContext(asker), (tx) =>
    editionInEffect(app.editions, tx, unit.maker, null, failed.to),
  );
  const recorded = {
    function: trace.control?.function ?? null,
    stations: trace.stations,
    settings: trace.settings,
    fluid: pump === null ? null : pump.fluid,
    maxSpeed: pump === null ? null : (sizeOf(edition, pump.series, pump.size)?.maxSpeed ?? null),
  };
  const { part, symptom, failureMode, coverage, decisions, distributor } = claim;
  return {
    claim: { claim: claim.claim, distributor, status, part, symptom, failureMode, failed, coverage, decisions, said },
    ...trace,
    points: [...claimPoints(said, recorded), ...trace.points],
  };
}
