/** Who did what in a record, and when: each line by its own person and time where it has them, else by the record's. */
import type { Task } from '../catalogue/edition.ts';
import type { Dimension } from '../quantity/unit.ts';
import { type Interval, parseTime } from '../time/instant.ts';
import type { Case, JudgedRecord } from './case.ts';
import { lastCheck, lastSetting, lastTorque } from './evidence.ts';

type Person = JudgedRecord['technician'];

export type Doing = {
  /** What says who did it, and when: the line's own person or time, else the record's person. */
  readonly pointer: string;
  readonly by: Person;
  readonly task: Task;
  readonly at: Interval;
};

/** Of a joint, setting or check the last line counts. Putting a control on a pump or taking it off is assembling too. */
export function doingsOf(judged: Case): Doing[] {
  const { record, layout } = judged;
  const isElectric = (setting: string) =>
    layout.settings.some(({ id, quantity }) => id === setting && electric.includes(quantity));
  return [
    ...(record.mounting === null ? [] : doing(judged, '', {}, 'assemble')),
    ...record.removed.flatMap((one, at) => doing(judged, `/removed/${at}`, one, 'assemble')),
    ...record.fitted.flatMap((one, at) => doing(judged, `/fitted/${at}`, one, 'assemble')),
    ...record.seals.flatMap((one, at) => doing(judged, `/seals/${at}`, one, 'assemble')),
    ...record.torques.flatMap((one, at) =>
      lastTorque(judged, one.joint) === one ? doing(judged, `/torques/${at}`, one, 'assemble') : [],
    ),
    ...record.settings.flatMap((one, at) =>
      lastSetting(judged, one.setting) === one
        ? doing(judged, `/settings/${at}`, one, isElectric(one.setting) ? 'electrical' : 'set-pressure')
        : [],
    ),
    ...independentChecks(judged).flatMap(({ at, check }) => doing(judged, `/checks/${at}`, check, 'inspect')),
  ];
}

const electric: readonly string[] = ['current', 'voltage', 'resistance', 'frequency'] satisfies Dimension[];

/** The checks that the edition leaves to somebody who fitted nothing, as far as somebody answered them. */
export function independentChecks(judged: Case) {
  const { record, edition } = judged;
  const left = new Set(edition.checks.filter((one) => one.by === 'other-than-fitter').map((one) => one.id));
  return record.checks.flatMap((check, at) =>
    left.has(check.check) && check.result !== 'not-done' && lastCheck(judged, check.check) === check
      ? [{ at, check }]
      : [],
  );
}

type Line = {
  readonly by?: NonNullable<Person> | undefined;
  readonly at?: Parameters<typeof parseTime>[0] | undefined;
};

function doing({ record, performed }: Case, place: string, line: Line, task: Task): Doing[] {
  const by = line.by ?? record.technician;
  const pointer = line.by !== undefined ? `${place}/by` : line.at !== undefined ? `${place}/at` : '/technician';
  return [{ pointer, by, task, at: line.at === undefined ? performed : parseTime(line.at) }];
}
