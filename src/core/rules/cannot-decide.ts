import type { Case } from '../judge/case.ts';
import { countedInstruments } from '../judge/counted-instruments.ts';
import { lastVerdicts } from '../judge/evidence.ts';
import { isUnknown } from '../records/parts.ts';
import type { Clear } from './finding.ts';
import { benchWork, concession, type Rule } from './rule.ts';
import { saidRange } from './said.ts';

export const cannotDecide: Rule = {
  id: 'cannot-decide',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Where a guard band is demanded, the instrument can decide whether the reading conforms.',
  basis: 'A reading within w = r·U of a limit may lie on either side of it (JCGM 106:2012, 8.3; ILAC-G8:09/2019).',
  clears: 'a later record with a reading that leaves no doubt, a calibration that does, or a concession',
  check: (judged) =>
    lastVerdicts(judged).flatMap(({ pointer, of, place, reading, min, max, verdict, guardBand }) => {
      if (verdict !== 'undecided') return [];
      const limits = saidRange({ min, max });
      const within =
        guardBand === null ? 'it is not known how true it is' : `w is ${guardBand.value} ${guardBand.unit}`;
      return [
        {
          pointer,
          expected: limits,
          found: `${reading.value} ${reading.unit}`,
          because: `Whether the ${of} of ${place}, read as ${reading.value} ${reading.unit}, lies within ${limits} its instrument can't decide: ${within}.`,
          clearedBy: [...calibrations(judged, pointer), { kind: of, place }, concession(judged)],
        },
      ];
    }),
};

/** Of the instruments that the reading was taken with, as far as they are named. */
function calibrations(judged: Case, reading: string): Clear[] {
  const named = countedInstruments(judged).filter(({ pointer }) =>
    reading.startsWith(pointer.slice(0, pointer.lastIndexOf('/') + 1)),
  );
  return named.flatMap(({ instrument }) =>
    isUnknown(instrument) ? [] : [{ kind: 'calibration' as const, place: instrument }],
  );
}
