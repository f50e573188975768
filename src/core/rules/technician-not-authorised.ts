import type { Task } from '../catalogue/edition.ts';
import type { Case } from '../judge/case.ts';
import { type Doing, doingsOf } from '../judge/doings.ts';
import { workAtHand } from '../judge/work-at-hand.ts';
import { coverageOf, type WorkAtHand } from '../people/leave.ts';
import { benchWork, concession, type Rule, type Violation } from './rule.ts';

export const technicianNotAuthorised: Rule = {
  id: 'technician-not-authorised',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Who does a task that the edition leaves to authorised people is authorised for it when it is done.',
  basis:
    'The edition says which tasks. An authorisation counts for its time and for the series, body and function that it names; what it may or may not cover is not known to be covered.',
  clears: 'an authorisation that covers the time of the work, after which it is judged again, or a concession',
  check: (judged) => {
    const demanded = judged.edition.demands?.authorised ?? [];
    if (demanded.length === 0) return [];
    const work = workAtHand(judged);
    return onceEach(doingsOf(judged).filter((one) => demanded.includes(one.task))).flatMap((one) =>
      violationOf(judged, one, work),
    );
  },
};

/** One who did ten things of a kind at a time lacks one authorisation, not ten. */
function onceEach(doings: readonly Doing[]): Doing[] {
  const first = new Map<string, Doing>();
  for (const one of doings) {
    const key = JSON.stringify([one.by, one.task, one.at.from, one.at.to]);
    if (!first.has(key)) first.set(key, one);
  }
  return [...first.values()];
}

/** Of somebody who isn't known, or whom nobody has stated, other rules speak. */
function violationOf(judged: Case, { pointer, by, task, at }: Doing, work: WorkAtHand): Violation[] {
  const person = typeof by === 'string' ? judged.known.technicians.get(by) : undefined;
  if (person === undefined) return [];
  const coverage = coverageOf(
    person.authorisations.filter((one) => one.tasks.includes(task)),
    work,
    at,
  );
  if (coverage === 'whole') return [];
  return [
    {
      pointer,
      expected: task,
      // The service's own id: what is kept here can't be erased, and a shop may call people by their initials.
      found: person.id,
      because:
        coverage === 'none'
          ? `Who did this was not authorised to ${words[task]} when it was done.`
          : `It is not known whether who did this was authorised to ${words[task]}: that is so for a part only of the time, or of what was worked on, that the record leaves open.`,
      clearedBy: [{ kind: 'authorisation', place: person.id }, concession(judged)],
    },
  ];
}

const words: Readonly<Record<Task, string>> = {
  assemble: 'assemble',
  'set-pressure': 'set pressures',
  electrical: 'do electrical work',
  inspect: 'inspect',
};
