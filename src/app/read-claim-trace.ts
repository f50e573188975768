/** The trace of a claim: what was in the unit on the day it failed, and beside it what the claim says was found and seen. */

import type { Edition } from '../core/catalogue/edition.ts';
import { functionOf, sizeOf } from '../core/catalogue/lookup.ts';
import { asFound, observations } from '../core/claims/claim-body.ts';
import { allowedRange } from '../core/fit/plan-settings.ts';
import { sheetLayout } from '../core/fit/sheet-layout.ts';
import { type ClaimSaid, claimPoints, type SettingThen } from '../core/trace/claim-points.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { editionInEffect } from './editions.ts';
import { readClaim } from './read-claim.ts';
import { readTrace } from './read-trace.ts';
import { readingContext } from './read-unit.ts';

/** Statements are kept as sent: what the schemas fill in is filled in again.
 * @param known as it was known then; null: by all that is known */
export async function readClaimTrace(app: App, asker: Asker, id: string, known: string | null) {
  const claim = await readClaim(app, asker, id, known);
  const { unit, failed, statement, evidence, status } = claim;
  const path = { kind: unit.kind, maker: unit.maker, name: unit.name ?? '' };
  const trace = await readTrace(app, asker, { ...path, performed: failed.to, known });
  const said = [{ record: claim.claim, statement }, ...evidence].map(({ record, statement: one }): ClaimSaid => {
    const { asFound: found, observations: seen } = one as { asFound?: unknown; observations?: unknown };
    return {
      record,
      ...(found !== undefined && { asFound: asFound.parse(found) }),
      ...(seen !== undefined && { observations: observations.parse(seen) }),
    };
  });
  const pump = trace.pump?.born?.kind === 'pump' ? trace.pump.born : null;
  const edition = await withTransaction(app.pools.reading, readingContext(asker), (tx) =>
    editionInEffect(app.editions, tx, unit.maker, null, failed.to),
  );
  const recorded = {
    function: trace.control?.function ?? null,
    stations: trace.stations,
    settings: settingsThen(edition, trace),
    fluid: pump === null ? null : pump.fluid,
    maxSpeed: pump === null ? null : (sizeOf(edition, pump.series, pump.size)?.maxSpeed ?? null),
  };
  const { part, symptom, failureMode, coverage, decisions, distributor } = claim;
  return {
    maker: unit.maker,
    claim: { claim: claim.claim, distributor, status, part, symptom, failureMode, failed, coverage, decisions, said },
    ...trace,
    points: [...claimPoints(said, recorded), ...trace.points],
  };
}

/** What the function that the control had allowed there, by the edition in effect then, the pump and what was fitted. */
function settingsThen(
  edition: Edition,
  { pump, control, stations, set }: Awaited<ReturnType<typeof readTrace>>,
): Record<string, SettingThen> {
  const [under, on] = [pump?.born ?? null, control?.born ?? null];
  if (on?.kind !== 'control' || control?.function == null) return {};
  const fun = functionOf(edition, on.body, control.function);
  if (fun === null) return {};
  const layout = sheetLayout(edition, { control: on, pump: under?.kind === 'pump' ? under : null });
  const fitted = stations.flatMap(({ elements }) => elements ?? []);
  return Object.fromEntries(
    fun.settings.map(({ setting }) => [
      setting,
      {
        recorded: set.find((one) => one.setting === setting) ?? null,
        range: allowedRange(edition, layout, fun, setting, fitted),
      },
    ]),
  );
}
