/** A calibration, check or incident that was a mistake: it counts no more, and what it touched is judged again. */
import { instrumentEventRow } from '../derived/instrument-event-row.ts';
import { type Decision, nothingElse } from '../recording/draft.ts';
import { type Loaded, referenceUsedBy } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { unknownFinding } from './findings.ts';

export function decideInstrumentVoid(request: Request<'instrument-void'>, loaded: Loaded): Decision {
  const { owner, kind, fact, instrument, body, sent } = request;
  const event = loaded.instrumentEvents.find(
    (one) => one.owner === owner && one.instrument === instrument && one.fact === body.record,
  );
  if (event === undefined || event.kind === 'instrument-void') {
    const detail = `No calibration, check or incident ${body.record} is known of an instrument ${instrument}.`;
    return { decided: 'reject', refusal: { code: 'not-found', detail } };
  }
  const before = referenceUsedBy(loaded, request, body.record);
  if (before !== null) {
    const finding = unknownFinding('/record', `${before} has made it void already.`, before);
    return { decided: 'refuse', findings: [{ ...finding, rule: 'corrected-already' }] };
  }
  const statement = { ...(sent as object), record: body.record, instrument };
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind,
      maker: null,
      concerns: body.record,
      statement,
      judgement: { findings: [] },
      reference: { kind, reference: body.record },
      instrumentEvent: instrumentEventRow(kind, { owner, fact }, statement),
      judgesAgain: [{ what: 'instrument', key: instrument }],
      status: 201,
      answer: { instrument, voids: body.record },
    },
  };
}
