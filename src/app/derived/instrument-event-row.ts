/** The row of what is stated of an instrument over time, and the same as the core reads it; when recording and when verifying. */
import type { InstrumentEvent } from '../../core/conformity/instrument-history.ts';
import { canonical } from '../../core/log/canonical.ts';
import {
  calibrationBody,
  incidentBody,
  instrumentFactKinds,
  instrumentVoidBody,
  interimCheckBody,
} from '../../core/records/instrument-bodies.ts';
import type { Row } from '../../store/sql/insert-rows.ts';
import type { InstrumentEventRow } from '../../store/sql/read-instrument-events.ts';

type Kept = { readonly owner: string; readonly fact: string };
export type InstrumentEntry = InstrumentEventRow['kind'];

export function instrumentEventRow(
  kind: InstrumentEntry,
  { owner, fact }: Kept,
  statement: unknown,
): Omit<Row<'instrument_events'>, 'performed_from' | 'performed_to'> {
  const { instrument, ...said } = statement as { readonly instrument: string };
  return { owner, fact, instrument, kind, statement: canonical(said) };
}

/** What was made void, by its fact: by which fact, and why. */
export function voidsIn(rows: readonly InstrumentEventRow[]): ReadonlyMap<string, { record: string; reason: string }> {
  return new Map(
    rows
      .filter(({ kind }) => kind === 'instrument-void')
      .map(({ fact, statement }) => {
        const { record, reason } = instrumentVoidBody.parse(JSON.parse(statement));
        return [record, { record: fact, reason }];
      }),
  );
}

/** Those that count, as the core reads them: what was made void never was. */
export function eventsThatCount(rows: readonly InstrumentEventRow[]): InstrumentEvent[] {
  const voids = voidsIn(rows);
  return rows.filter(({ fact }) => !voids.has(fact)).flatMap((row) => instrumentEventOf(row) ?? []);
}

/** Statements are kept as sent: what the schemas fill in is filled in again. Null: it only makes another void. */
export function instrumentEventOf(row: InstrumentEventRow): InstrumentEvent | null {
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
    case 'instrument-void':
      return null;
  }
}

export function isInstrumentFact(kind: string): kind is InstrumentEntry {
  return kind === 'instrument-void' || (instrumentFactKinds as readonly string[]).includes(kind);
}
