/** What came into a lot or left it otherwise than by use; when recording and when verifying. */

import { canonical } from '../../core/log/canonical.ts';
import type { LotMove, LotMoveKind, RestockingBody } from '../../core/records/lot-bodies.ts';
import type { LotName } from '../../core/records/lot-name.ts';
import type { Row } from '../../store/sql/insert-rows.ts';

export type MoveRow = Omit<Row<'intakes'>, 'owner' | 'fact' | 'performed_to'>;

export function moveRow(what: LotMoveKind, lot: LotName, body: LotMove['body']): MoveRow {
  const { shop, reference, quantity } = body;
  return {
    ...{ what, lot_maker: lot.maker, lot_number: lot.number, shop, reference, quantity },
    ...{ counts: body.counts ?? null, item: body.item ?? null },
    location: ('location' in body ? body.location : undefined) ?? null,
    loose: 'loose' in body && body.loose.length > 0 ? canonical(body.loose) : null,
    ...{ origin: null, station: null },
  };
}

/** @param lot null where nobody knows it */
export function restockingRow(body: RestockingBody, lot: LotName | null): MoveRow {
  const { shop, reference, quantity, element, record, station } = body;
  return {
    ...{ what: 'restocking', lot_maker: lot?.maker ?? null, lot_number: lot?.number ?? null },
    ...{ shop, reference, quantity, location: body.location ?? null },
    ...{ counts: 'pieces', item: element, loose: null, origin: record, station },
  };
}
