/** What was last closed, sealed, set and checked by a time, with its verdict then and by now. */
import { type Standing, standingAt } from '../conformity/instrument-history.ts';
import type { KnownInstrument } from '../judge/case.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { type Instant, parseTime, type TimeInput } from '../time/instant.ts';
import type { KeptVerdict, TracedRecord } from './record.ts';
import { lotSaid, type Piece } from './unit-then.ts';

export type ReadingThen = {
  readonly of: 'torque' | 'setting';
  readonly place: string;
  readonly record: string;
  readonly readings: readonly Quantity[];
  readonly conditions: Readonly<Record<string, Quantity>>;
  readonly by: TracedRecord['technician'];
  readonly at: Instant;
  /** The worst of its readings; null: no limit was known for it. */
  readonly verdictThen: KeptVerdict | null;
  readonly verdictNow: KeptVerdict | null;
  /** Of the distributor, by the shop's own id; or why it isn't known. */
  readonly instrument: string | { readonly unknown: string };
  readonly standing: InstrumentStanding | null;
};

/** How an instrument stood at a reading, by what is known now; `calibrationThen` as it was judged then. */
export type InstrumentStanding = {
  readonly calibrationThen: string | null;
  readonly calibration: string | null;
  readonly due: Instant | null;
  readonly overdue: boolean;
  readonly neverCalibrated: boolean;
  readonly suspect: string | null;
  readonly foundWorse: string | null;
};

export type SealThen = Piece & { readonly joint: string; readonly record: string };
export type CheckThen = {
  readonly check: string;
  readonly result: string;
  readonly record: string;
  readonly at: Instant;
};

/** By distributor and the shop's own id; null: not known, or not for who asks. */
export type InstrumentOf = (distributor: string | null, instrument: string) => KnownInstrument | null;

/** Of the records in the order of work: of each joint, setting and check the last. */
export function readingsThen(records: readonly TracedRecord[], instrumentOf: InstrumentOf): ReadingThen[] {
  const last = new Map<string, ReadingThen>();
  for (const record of records) {
    for (const [index, line] of record.lines.torques.entries()) {
      const readings = [line.reading].flat();
      const about = { of: 'torque' as const, place: line.joint, readings, conditions: {} };
      last.set(`torque ${line.joint}`, readingOf(record, line, about, `/torques/${index}/`, instrumentOf));
    }
    for (const [index, line] of record.lines.settings.entries()) {
      const about = {
        of: 'setting' as const,
        place: line.setting,
        readings: [line.reading],
        conditions: line.conditions ?? {},
      };
      last.set(`setting ${line.setting}`, readingOf(record, line, about, `/settings/${index}/`, instrumentOf));
    }
  }
  return [...last.values()];
}

type Line = {
  readonly instrument: ReadingThen['instrument'];
  readonly by?: unknown;
  readonly at?: TimeInput | undefined;
};

function readingOf(
  record: TracedRecord,
  { instrument, by, at: stated }: Line,
  about: Pick<ReadingThen, 'of' | 'place' | 'readings' | 'conditions'>,
  pointer: string,
  instrumentOf: InstrumentOf,
): ReadingThen {
  const at = stated === undefined ? record.performed.to : parseTime(stated).to;
  const worst = (verdicts: readonly KeptVerdict[]) =>
    worstOf(verdicts.filter((one) => one.pointer.startsWith(pointer)));
  const verdictThen = worst(record.judgedThen.verdicts);
  const known = typeof instrument !== 'string' ? null : instrumentOf(record.distributor, instrument);
  return {
    ...{ ...about, record: record.id, at, verdictThen, verdictNow: worst(record.judgedNow.verdicts), instrument },
    by: (by as TracedRecord['technician'] | undefined) ?? record.technician,
    standing: known === null ? null : standingView(standingAt(known.statement, known.events, at), verdictThen),
  };
}

function worstOf(verdicts: readonly KeptVerdict[]): KeptVerdict | null {
  const order = ['outside', 'undecided', 'conforms'];
  return verdicts.toSorted((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict))[0] ?? null;
}

function standingView(standing: Standing, then: KeptVerdict | null): InstrumentStanding {
  const { calibration, due, overdue, neverCalibrated, suspect, later } = standing;
  return {
    calibrationThen: then?.calibration ?? null,
    ...{ calibration: calibration?.fact ?? null, due, overdue, neverCalibrated },
    ...{ suspect: suspect?.fact ?? null, foundWorse: later?.fact ?? null },
  };
}

/** Of each joint what its last renewal put there. */
export function sealsThen(records: readonly TracedRecord[], maker: string): SealThen[] {
  const last = new Map<string, SealThen[]>();
  for (const { id, lines } of records) {
    for (const [joint, seals] of Map.groupBy(lines.seals, (line) => line.joint)) {
      last.set(
        joint,
        seals.map(({ seal, quantity, lot }) => ({
          ...{ joint, record: id, element: seal, quantity, lot: lotSaid(lot, maker), serial: null },
        })),
      );
    }
  }
  return [...last.values()].flat();
}

export function checksThen(records: readonly TracedRecord[]): CheckThen[] {
  const last = new Map<string, CheckThen>();
  for (const record of records) {
    for (const { check, result, at } of record.lines.checks)
      last.set(check, {
        check,
        result,
        record: record.id,
        at: at === undefined ? record.performed.to : parseTime(at).to,
      });
  }
  return [...last.values()];
}
