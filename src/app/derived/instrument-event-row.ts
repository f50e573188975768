/** The row of what is stated of an instrument over time, and the same as the core reads it; when recording and when verifying. */
import type { InstrumentEvent } from '../../core/conformity/instrument-history.ts';
import { canonical } from '../../core/log/canonical.ts';
import {
  calibrationBody,
  type InstrumentFactKind,
  incidentBody,
  instrumentFactKinds,
  interimCheckBody,
} from '../../core/records/instrument-bodies.ts';
import type { Interval } from '../../core/time/instant.ts';
import type { Row } from '../../store/sql/insert-rows.ts';
import type { InstrumentEventRow } from '../../store/sql/read-instrument-events.ts';

type Kept = { readonly owner: string; readonly fact: string; readonly performed: Interval };

export function instrumentEventRow(
  kind: InstrumentFactKind,
  { owner, fact, performed }: Kept,
  statement: unknown,
): Row<'instrument_events'> {
  const { instrument, ...said } = statement as { readonly instrument: string };
  const times = { performed_from: performed.from, performed_to: performed.to };
  return { owner, fact, instrument, kind, ...times, statement: canonical(said) };
}

/** Statements are kept as sent: what the schemas fill in is filled in again. */
export function instrumentEventOf(row: InstrumentEventRow): InstrumentEvent {
  const { fact, kind, performedFrom: from, performedTo: to } = row;
  const said: unknown = JSON.parse(row.statement);
  const happened = { fact, performed: { from, to } };
  switch (kind) {
    case 'calibration':
      return { ...happened, kind, body: calibrationBody.parse(said) };
    case 'interim-check':
      return { ...happened, kind, body: interimCheckBody.parse(said) };
    case 'incident':
      return { ...happened, kind, body: incidentBody.parse(said) };
  }
}

export function isInstrumentFact(kind: string): kind is InstrumentFactKind {
  return (instrumentFactKinds as readonly string[]).includes(kind);
}
