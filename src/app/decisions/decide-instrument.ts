/** What is stated of an instrument over time: every record that names it is judged again by what is known then. */

import { dimensionOf } from '../../core/quantity/unit.ts';
import type { InstrumentFactKind } from '../../core/records/instrument-bodies.ts';
import type { InstrumentBody } from '../../core/records/stock-bodies.ts';
import { parseTime } from '../../core/time/instant.ts';
import { instrumentEventRow } from '../derived/instrument-event-row.ts';
import { type Decision, nothingElse } from '../recording/draft.ts';
import { type Loaded, stockItem } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { doneInFuture, referenceUsed, refuseUnknown } from './findings.ts';
import { privateOf } from './statement.ts';

type InstrumentRequest = Request<InstrumentFactKind>;

export function decideInstrument(request: InstrumentRequest, loaded: Loaded): Decision {
  const { owner, kind, fact, instrument, body, sent } = request;
  const item = stockItem(loaded, owner, 'instrument', instrument);
  if (item === null) {
    const detail = `No instrument is known as ${instrument}. State the instrument first.`;
    return { decided: 'reject', refusal: { code: 'not-found', detail } };
  }
  const performed = parseTime(body.performedAt);
  const refused =
    referenceUsed(request, body.reference, loaded) ??
    doneInFuture(performed, loaded) ??
    refuseOtherQuantity(request, JSON.parse(item.statement) as InstrumentBody);
  if (refused !== null) return refused;
  const { note: _, laboratory: __, ...said } = sent as Readonly<Record<string, unknown>>;
  const statement = { ...said, instrument };
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind,
      maker: null,
      performed,
      statement,
      judgement: { findings: [] },
      private: privateOf(sent, ['note', 'laboratory']),
      reference: { kind, reference: body.reference },
      instrumentEvent: instrumentEventRow(kind, { owner, fact }, statement),
      judgesAgain: [{ what: 'instrument', key: instrument }],
      status: 201,
      answer: { instrument },
    },
  };
}

/** A gauge is not calibrated in newton metres. */
function refuseOtherQuantity({ body }: InstrumentRequest, { range }: InstrumentBody): Decision | null {
  if (range === undefined || !('points' in body)) return null;
  const other = body.points.findIndex(({ at }) => dimensionOf(at.unit) !== dimensionOf(range.max.unit));
  if (other < 0) return null;
  const { unit } = body.points[other]?.at ?? range.max;
  const because = `The instrument measures from ${range.min.value} to ${range.max.value} ${range.max.unit}: it can't be calibrated in ${unit}.`;
  return refuseUnknown(`/points/${other}/at/unit`, because, unit);
}
