/** A part that was taken out of a unit and goes back on the shelf: with where it came from, and its lot where that is known. */

import { effectiveEvents } from '../../core/history/effective-events.ts';
import { fold } from '../../core/history/fold.ts';
import { orderEvents } from '../../core/history/order-events.ts';
import { lotKey, lotNamed } from '../../core/records/lot-name.ts';
import { removed } from '../../core/records/parts.ts';
import { parseTime } from '../../core/time/instant.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import { restockingRow } from '../derived/move-rows.ts';
import { type Decision, nothingElse } from '../recording/draft.ts';
import { type Loaded, stockItem } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { lotTouched } from './drawn-lots.ts';
import { doneInFuture, referenceUsed, refuseUnknown } from './findings.ts';
import { privateOf } from './statement.ts';

export function decideRestocking(request: Request<'restocking'>, loaded: Loaded): Decision {
  const { owner, body } = request;
  const record = loaded.records.find((one) => one.id === body.record && one.owner === owner);
  if (record === undefined) return refuseUnknown('/record', `There is no record ${body.record}.`, body.record);
  if (stockItem(loaded, owner, 'shop', body.shop) === null) {
    return refuseUnknown('/shop', `No shop is known as ${body.shop}. Register it first.`, body.shop);
  }
  const stated = body.lot === undefined ? null : lotKey(body.lot.maker, body.lot.number);
  if (stated !== null && stockItem(loaded, owner, 'lot', stated) === null) {
    return refuseUnknown('/lot', `No lot is known as ${stated}. State it first, or leave it out.`, stated);
  }
  const performed = parseTime(body.performedAt);
  const wrong =
    notTakenOut(request, record, loaded) ??
    doneInFuture(performed, loaded) ??
    referenceUsed(request, body.reference, loaded);
  if (wrong !== null) return wrong;
  const recorded = lotPutThere(request, loaded);
  if (recorded !== null && stated !== null && stated !== recorded) {
    return refuseUnknown('/lot', `By your records what was at ${body.station} is from lot ${recorded}.`, stated);
  }
  const key = recorded ?? stated;
  const lot = key === null ? null : lotNamed(key);
  const { note: _, ...statement } = request.sent as Record<string, unknown>;
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind: 'restocking',
      maker: record.maker,
      concerns: record.id,
      judgement: { findings: [], lot },
      performed,
      statement: { ...statement, record: record.id },
      private: privateOf(request.sent),
      reference: { kind: 'restocking', reference: body.reference },
      intake: restockingRow(body, lot),
      judgesAgain: key === null ? [] : [lotTouched(key)],
      status: 201,
      answer: { record: record.id, lot, shop: body.shop, element: body.element, quantity: body.quantity },
    },
  };
}

/** More than the record took out of there and isn't back yet; or a record that doesn't count any more. */
function notTakenOut({ owner, body }: Request<'restocking'>, record: FactRow, loaded: Loaded): Decision | null {
  const { element, station, quantity } = body;
  const replaced = [...loaded.events.values()].flat().find((event) => event.effect.replaces === record.id);
  if (replaced !== undefined) {
    return refuseUnknown('/record', `It is replaced by ${replaced.fact}, and counts no more.`, record.id);
  }
  const { removed: own, body: corrected } = JSON.parse(record.statement) as Record<'removed' | 'body', unknown>;
  const lines = removed.array().parse(own ?? (corrected as { removed?: unknown } | undefined)?.removed ?? []);
  const out = lines.filter((one) => one.station === station && one.element === element);
  const taken = out.reduce((sum, one) => sum + one.quantity, 0);
  const back = loaded.restocked
    .filter((one) => one.owner === owner && one.record === record.id && one.station === station && one.item === element)
    .reduce((sum, one) => sum + one.quantity, 0);
  if (taken >= back + quantity) return null;
  const already = back === 0 ? '' : `, and ${back} of it is back in stock`;
  return refuseUnknown(
    '/quantity',
    `That record took ${taken} ${element} out of ${station}${already}.`,
    String(quantity),
  );
}

/** What was there just before the record: the lot that it was put in from, if only one is known of it. */
function lotPutThere({ owner, body }: Request<'restocking'>, loaded: Loaded): string | null {
  const { record, station, element } = body;
  const lots = [...loaded.events].flatMap(([unit, events]) => {
    const ordered = orderEvents(effectiveEvents(events));
    const at = ordered.findIndex((event) => event.fact === record);
    const putBy = at < 0 ? undefined : fold(unit, ordered.slice(0, at)).stations[station]?.record;
    return loaded.putThere
      .filter((one) => one.owner === owner && one.fact === putBy && one.place === station && one.item === element)
      .map((one) => one.lot);
  });
  const [lot, ...others] = [...new Set(lots)];
  return lot === undefined || others.length > 0 ? null : lot;
}
