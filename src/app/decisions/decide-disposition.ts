/** What is decided about a record that holds its unit. */
import { asAt } from '../../core/history/concession.ts';
import { fold } from '../../core/history/fold.ts';
import { judgeDisposition } from '../../core/judge/judge-disposition.ts';
import { parseTime } from '../../core/time/instant.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import { type Decision, nothingElse } from '../recording/draft.ts';
import { knownTo, type Loaded, referenceUsedBy } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { peopleIn, privateOf, statementOf } from './statement.ts';

export function decideDisposition(request: Request<'disposition'>, loaded: Loaded): Decision {
  const { body, owner, subject } = request;
  const record = loaded.records.find((one) => one.id === request.record && one.owner === owner);
  const units = loaded.unitsOfRecords.filter((one) => one.fact === request.record).map((one) => one.unit);
  if (record === undefined || units.length === 0) {
    return { decided: 'reject', refusal: { code: 'not-found', detail: `There is no record ${request.record}.` } };
  }
  const performed = parseTime(body.performedAt);
  const result = judgeDisposition({
    fact: request.fact,
    body,
    record: { id: record.id, performedTo: record.performedTo },
    units: units.map((unit) => asAt(fold(unit, loaded.events.get(unit) ?? []), loaded.now)),
    doers: doersOf(record, loaded),
    asker: subject,
    referenceUsedBy: referenceUsedBy(loaded, request, body.reference),
    performed,
    now: loaded.now,
  });
  if ('refused' in result) return { decided: 'refuse', findings: result.refused };
  const { judgement, effects, independence } = result;
  return {
    decided: 'keep',
    draft: {
      ...nothingElse,
      kind: 'disposition',
      maker: record.maker,
      edition: record.edition,
      performed,
      after: record.id,
      concerns: record.id,
      statement: { ...(statementOf(request.sent, knownTo(loaded, owner)) as object), record: record.id },
      judgement: { ...judgement, independence, effects },
      private: privateOf(request.sent),
      effects,
      reference: { kind: request.kind, reference: body.reference },
      status: 201,
      answer: { record: record.id, decision: body.decision, independence, findings: judgement.findings },
    },
  };
}

function doersOf(record: FactRow, loaded: Loaded): { subject: string | null }[] {
  return [...new Set(peopleIn(JSON.parse(record.statement)))].map((id) => ({
    subject: loaded.people.find((one) => one.owner === record.owner && one.id === id)?.subject ?? null,
  }));
}
