import { instrumentOf, standingOf } from '../judge/assess-reading.ts';
import type { Case } from '../judge/case.ts';
import { type CountedInstrument, countedInstruments } from '../judge/counted-instruments.ts';
import { benchWork, type Rule } from './rule.ts';

export const calibrationAwaited: Rule = {
  id: 'calibration-awaited',
  severity: 'due',
  kinds: benchWork,
  sentence: 'A calibration that was overdue and is said to be on its way comes.',
  basis: 'What the shop has sent away it cannot show yet; that it is missing stays to be seen.',
  clears: 'a calibration that finds the instrument good, or a later record with the reading from another',
  check: (judged) =>
    countedInstruments(judged).flatMap(({ pointer, kind, place, instrument, line }) => {
      const standing = standingOf(judged, line);
      if (standing?.overdue !== true || !isAwaited(judged, instrument)) return [];
      return [
        {
          pointer,
          found: String(instrument),
          because: `The calibration of ${instrument} was due at ${standing.due}; the next is awaited.`,
          clearedBy: [
            { kind: 'calibration', place: String(instrument) },
            { kind, place },
          ],
        },
      ];
    }),
};

/** As the shop says now. */
export function isAwaited(judged: Case, instrument: CountedInstrument['instrument']): boolean {
  return instrumentOf(judged, instrument)?.statement.awaited !== undefined;
}
