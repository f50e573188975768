import { planConversion } from '../fit/plan-conversion.ts';
import { sheetDigest } from '../fit/sheet-digest.ts';
import type { Case } from '../judge/case.ts';
import { knownSettings } from '../judge/make-case.ts';
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
    const digest = digestNow(judged, to.function);
    return digest === null || digest === sheet
      ? []
      : [
          {
            pointer: '/sheet',
            expected: digest,
            found: sheet,
            because: 'The sheet that was worked to is not the one for this unit as it was found.',
          },
        ];
  },
};

function digestNow(judged: Case, to: string): string | null {
  const { edition, layout, pumpAtHand, builtFor, found, functionFound, control, pattern, after } = judged;
  const choices = Object.fromEntries(
    Object.entries(pattern).flatMap(([station, demand]) => {
      const fitted = after[station]?.elements?.[0]?.element;
      return Array.isArray(demand) && demand.some((one) => one === fitted) && fitted !== undefined
        ? [[station, fitted]]
        : [];
    }),
  );
  const plan = planConversion({
    edition,
    body: layout.body.id,
    pump: pumpAtHand,
    builtFor,
    fit: found,
    from: functionFound,
    settings: knownSettings(control.state),
    to,
    choices,
  });
  return 'refused' in plan ? null : sheetDigest(plan);
}
