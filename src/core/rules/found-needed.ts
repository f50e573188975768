import { satisfies } from '../fit/choose-contents.ts';
import { contentAt } from '../fit/layout.ts';
import type { Case } from '../judge/case.ts';
import { removedInVain } from './removed-not-there.ts';
import { benchWork, type Rule, type Violation } from './rule.ts';
import { said } from './said.ts';

export const foundNeeded: Rule = {
  id: 'found-needed',
  severity: 'refuse',
  kinds: benchWork,
  sentence: 'Where the records say otherwise than the bench, the bench states what it found station by station.',
  basis: 'Somebody worked on the unit unrecorded, or the wrong unit is named: only the bench can say which.',
  clears: null,
  check: (judged) => [...functionDiffers(judged), ...stationsDiffer(judged), ...removedDiffers(judged)],
};

/** Found by function only, and the records have another function. */
function functionDiffers({ record, functionBefore, control }: Case): Violation[] {
  const stated = record.found?.function;
  if (
    stated === undefined ||
    Object.keys(record.found?.stations ?? {}).length > 0 ||
    functionBefore === null ||
    stated === functionBefore
  )
    return [];
  return [
    {
      pointer: '/found/function',
      expected: functionBefore,
      found: stated,
      because: `The records say that ${control.name} is ${functionBefore}. If it was found to be ${stated}, state its stations one by one.`,
    },
  ];
}

/** Found by function, and a station that isn't stated holds something else according to the records. */
function stationsDiffer({ record, layout, before, foundPattern }: Case): Violation[] {
  return Object.entries(foundPattern).flatMap(([station, demand]) => {
    const recorded = contentAt(layout, before, station);
    if (recorded.elements === null || record.found?.stations?.[station] !== undefined) return [];
    if (satisfies(recorded, demand)) return [];
    return [
      {
        pointer: '/found/function',
        expected: `${station}: ${said(recorded.elements)}`,
        found: `${record.found?.function}`,
        because: `The records have ${said(recorded.elements)} at ${station}, which ${record.found?.function} doesn't have. State under found.stations what was found there.`,
      },
    ];
  });
}

/** Something was taken out that was not there, and nothing was stated about the station. */
function removedDiffers(judged: Case): Violation[] {
  return removedInVain(judged)
    .filter(({ station }) => judged.record.found?.stations?.[station] === undefined)
    .map(({ index, station, there, element, taken }) => ({
      pointer: `/removed/${index}`,
      expected: `${station}: ${said(there)}`,
      found: taken,
      because: `${source(judged, station)} ${said(there)} at ${station}, and ${element} was taken out. State under found.stations what was found there.`,
    }));
}

/** Who says what a station holds: the records, or the function found where the records don't know. */
function source({ record, layout, before }: Case, station: string): string {
  return contentAt(layout, before, station).elements === null ? `${record.found?.function} has` : 'The records have';
}
