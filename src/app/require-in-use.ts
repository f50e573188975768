import type { UnitState } from '../core/history/fold.ts';
import { scrapped } from '../core/rules/scrapped.ts';
import { Problem } from '../errors.ts';
import type { UnitName } from '../store/sql/find-units.ts';
import { nameOf } from './read-unit.ts';

/** No sheet is given for work on what is out of use: recording it would be refused, or held for good. */
export function requireInUse(states: readonly UnitState[], names: readonly UnitName[]): void {
  for (const { unit, born, retired, open } of states) {
    const name = nameOf(names, unit) ?? `This ${born?.kind}`;
    if (retired !== null)
      throw new Problem('no-plan', `${name} was retired on ${retired.since}: it takes no more work.`);
    if (open.some((one) => one.rule === scrapped.id))
      throw new Problem('no-plan', `${name} was decided to be scrap: make that decision void first, if it is wrong.`);
  }
}
