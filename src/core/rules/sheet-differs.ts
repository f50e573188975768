import { digestForJob } from '../fit/digest-for-job.ts';
import type { Fit } from '../fit/fit.ts';
import { contentAt } from '../fit/layout.ts';
import { knownSettings } from '../history/at-hand.ts';
import { agrees } from '../history/fold.ts';
import type { Case } from '../judge/case.ts';
import type { Rule } from './rule.ts';

export const sheetDiffers: Rule = {
  id: 'sheet-differs',
  severity: 'note',
  kinds: ['conversion'],
  sentence: 'Work to another job sheet than the one that holds for this unit is noted.',
  basis: 'The unit or the edition changed after the sheet was printed, or it was the sheet of another unit.',
  clears: null,
  check: (judged) => {
    const { sheet, to } = judged.record;
    if (sheet === undefined || to === undefined || to === null) return [];
    const asFound = digestFor(judged, judged.found, to.function);
    if (asFound === sheet) return [];
    const asRecorded = digestAsRecorded(judged, to.function);
    const expected = asFound ?? asRecorded;
    if (expected === null || asRecorded === sheet) return [];
    return [
      {
        pointer: '/sheet',
        expected,
        found: sheet,
        because: 'The sheet that was worked to is not the one for this unit as it was found.',
      },
    ];
  },
};

/** As the records had the unit; null where what was found does more than make that surer. */
function digestAsRecorded(judged: Case, to: string): string | null {
  const { before, found, functionBefore, functionFound } = judged;
  const surer =
    functionBefore === functionFound &&
    Object.entries(found).every(([station, content]) => agrees(contentAt(judged.layout, before, station), content));
  return surer ? digestFor(judged, before, to) : null;
}

function digestFor(judged: Case, fit: Fit, to: string): string | null {
  const { edition, layout, pumpAtHand, builtFor, functionFound, control, pattern, after } = judged;
  const choices = Object.fromEntries(
    Object.entries(pattern).flatMap(([station, demand]) => {
      const fitted = after[station]?.elements?.[0]?.element;
      return Array.isArray(demand) && demand.some((one) => one === fitted) && fitted !== undefined
        ? [[station, fitted]]
        : [];
    }),
  );
  return digestForJob({
    edition,
    body: layout.body.id,
    pump: pumpAtHand,
    builtFor,
    fit,
    from: functionFound,
    settings: knownSettings(control.state),
    to,
    choices,
  });
}
