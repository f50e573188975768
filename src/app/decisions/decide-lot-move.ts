/** What came into a lot at a shop, or left it otherwise than by use. */

import type { LotMoveKind } from '../../core/records/lot-bodies.ts';
import { lotKey } from '../../core/records/lot-name.ts';
import type { Contents } from '../../core/stock/contents.ts';
import { parseTime } from '../../core/time/instant.ts';
import { moveRow } from '../derived/move-rows.ts';
import { type Decision, nothingElse } from '../recording/draft.ts';
import { ledgerKey } from '../recording/ledgers.ts';
import { type Loaded, stockItem } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { lotTouched } from './drawn-lots.ts';
import { doneInFuture, referenceUsed, refuseUnknown } from './findings.ts';
import { privateOf } from './statement.ts';

export function decideLotMove(request: Request<LotMoveKind>, loaded: Loaded): Decision {
  const { owner, kind, maker, number, body } = request;
  const lot = lotKey(maker, number);
  const stated = stockItem(loaded, owner, 'lot', lot);
  const contents = loaded.ledgers.get(ledgerKey({ owner, lot }))?.contents;
  if (stated === null || contents === undefined) {
    return {
      decided: 'reject',
      refusal: { code: 'not-found', detail: `No lot ${number} of ${maker} is known. Put the lot first.` },
    };
  }
  if (stockItem(loaded, owner, 'shop', body.shop) === null) {
    return refuseUnknown('/shop', `No shop is known as ${body.shop}. Register it first.`, body.shop);
  }
  const wrong = wrongItem(request, contents);
  if (wrong !== null) return wrong;
  const performed = parseTime(body.performedAt);
  const refused = doneInFuture(performed, loaded) ?? referenceUsed(request, body.reference, loaded);
  if (refused !== null) return refused;
  const { note: _, ...statement } = request.sent as Record<string, unknown>;
  const row = moveRow(kind, { maker, number }, body);
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind,
      maker,
      judgement: { findings: [] },
      performed,
      statement: { ...statement, lot: { maker, number } },
      private: privateOf(request.sent),
      reference: { kind, reference: body.reference },
      intake: row,
      judgesAgain: [lotTouched(lot)],
      status: 201,
      answer: { lot: { maker, number }, shop: body.shop, quantity: body.quantity },
    },
  };
}

/** An item that isn't in the lot, or none where it takes one to know what the pieces are. */
function wrongItem({ kind, maker, number, body }: Request<LotMoveKind>, contents: Contents): Decision | null {
  const name = `Lot ${number} of ${maker} is of ${contents.part}`;
  const loose = 'loose' in body ? body.loose : [];
  if (contents.of !== 'kit' && loose.length > 0) {
    return refuseUnknown('/loose', `${name}, which is no kit: ${kind} its pieces as "quantity".`);
  }
  if (contents.of === 'unnamed') return null;
  const items = contents.of === 'kit' ? [...contents.at(parseTime(body.performedAt).to).keys()] : [contents.part];
  const named = [['/item', body.item] as const, ...loose.map(({ item }, at) => [`/loose/${at}/item`, item] as const)];
  for (const [pointer, item] of named) {
    if (item !== undefined && !items.includes(item)) {
      return refuseUnknown(pointer, `${name}, and ${item} is not in that.`, item);
    }
  }
  if (contents.of !== 'kit' || body.counts !== 'pieces' || body.item !== undefined) return null;
  return refuseUnknown('/item', `${name}: say which of its items the pieces are, or count kits.`);
}
