/** A reading of a record beside what is known of its instrument, then and by now. */
import { accuracyAt } from '../conformity/accuracy.ts';
import { type Asked, type Assessment, assess, assessWith } from '../conformity/assess.ts';
import { assessDrift } from '../conformity/assess-drift.ts';
import { type Standing, standingAt } from '../conformity/instrument-history.ts';
import { isUnknown } from '../records/parts.ts';
import { parseTime, type TimeInput } from '../time/instant.ts';
import type { Case, JudgedRecord, KnownInstrument } from './case.ts';

type InstrumentRef = JudgedRecord['torques'][number]['instrument'];

/** A line of a record that a reading stands in. */
export type Line = {
  readonly instrument: InstrumentRef;
  readonly second?: string | undefined;
  readonly at?: TimeInput | undefined;
};

/** `linear`: where a later examination found the instrument worse than it may be; the verdict is of the worst then. */
export type Assessed = {
  readonly assessment: Assessment;
  readonly linear: Assessment | null;
  readonly standing: Standing | null;
};

export function assessReading(judged: Case, line: Line, asked: Omit<Asked, 'highest'>): Assessed {
  const instrument = instrumentOf(judged, line.instrument);
  const standing = standingOf(judged, line);
  if (instrument === undefined || standing === null) return { assessment: assess(asked, {}), linear: null, standing };
  const whole: Asked = { ...asked, highest: instrument.statement.range?.max };
  const second = line.second === undefined ? null : standingOf(judged, { ...line, instrument: line.second });
  if (second !== null) return { assessment: ofTwo(whole, standing, second), linear: null, standing };
  const { earlier, later } = standing;
  if (later === null) return { assessment: assess(whole, earlier.instrument), linear: null, standing };
  const { worst, linear } = assessDrift(whole, { earlier, later, at: timeOf(judged, line) });
  return { assessment: worst, linear, standing };
}

/** What is known of the instrument of a line at the time of the line; null: no instrument is known. */
export function standingOf(judged: Case, line: Line): Standing | null {
  const instrument = instrumentOf(judged, line.instrument);
  if (instrument === undefined) return null;
  return standingAt(instrument.statement, instrument.events, timeOf(judged, line));
}

export function instrumentOf({ known }: Case, ref: InstrumentRef): KnownInstrument | undefined {
  return isUnknown(ref) ? undefined : known.instruments.get(ref);
}

/** The variances of the two add; the deviations are those of the first. */
function ofTwo(asked: Asked, first: Standing, second: Standing): Assessment {
  const one = accuracyAt(first.earlier.instrument, asked.reading);
  const { variance } = accuracyAt(second.earlier.instrument, asked.reading);
  const both = one.variance === null || variance === null ? null : one.variance.add(variance);
  return assessWith(asked, { ...one, variance: both });
}

/** The end of the interval, as the order of work has it. */
function timeOf({ performed }: Case, { at }: Line): string {
  return at === undefined ? performed.to : parseTime(at).to;
}
