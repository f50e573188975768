/** With which instruments the readings that count were taken: the two of a difference each for itself. */
import type { Case } from './case.ts';
import { type CountedReading, countedReadings } from './evidence.ts';

/** `pointer`: to where the record names the instrument; `line` names it as its only one. */
export type CountedInstrument = Omit<CountedReading, 'at'> & { readonly pointer: string };

export function countedInstruments(judged: Case): CountedInstrument[] {
  return countedReadings(judged).flatMap(({ at, ...one }): CountedInstrument[] => {
    const { second, ...line } = one.line;
    const first = { ...one, line, pointer: `${at}/instrument` };
    if (second === undefined) return [first];
    return [first, { ...first, instrument: second, line: { ...line, instrument: second }, pointer: `${at}/second` }];
  });
}
