/** What a containment does to a unit that it reaches, and what ends that. */
import type { Effect, OpenFinding } from '../history/event.ts';
import type { ContainmentBody, ProgressBody } from '../records/containment-bodies.ts';
import type { Clear } from '../rules/finding.ts';

export type Containing = Pick<ContainmentBody, 'severity' | 'instruction'> & { readonly containment: string };
type Step = ProgressBody['step'];

/** What clears a unit that is contained: the place is the containment. */
export function clearOf(containment: string): Clear {
  return { kind: 'containment', place: containment };
}

/** A unit comes under it: a stop holds it, an inspection is due; of what is only told nothing stands on the unit. */
export function containedBy({ containment, severity, instruction }: Containing): Effect {
  if (severity === 'inform') return {};
  const finding: OpenFinding = {
    rule: 'contained',
    severity: severity === 'stop' ? 'hold' : 'due',
    pointer: '/criteria',
    clearedBy: [clearOf(containment)],
    instruction,
  };
  return { opens: [finding] };
}

/** It is lifted: what was scrapped for it stays so. */
export function liftedFrom(containment: string): Effect {
  return { clears: [clearOf(containment)] };
}

/** Whether nothing more is to be done once this was. */
export function isDone(step: Step, severity: Containing['severity']): boolean {
  if (step === 'inspected') return severity !== 'stop';
  return step !== 'secured';
}

/**
 * The last step counts: what is done clears the unit, and scrap holds it for good. A step back, from cleared to secured,
 * puts it under the containment again.
 */
export function progressed(step: Step, containing: Containing, open: readonly OpenFinding[]): Effect {
  const { containment, severity } = containing;
  const [contained, scrapped] = [clearOf(containment), clearOfScrap(containment)];
  if (step === 'scrapped')
    return {
      clears: [contained, scrapped],
      opens: [{ rule: 'scrapped', severity: 'hold', pointer: '/step', clearedBy: [scrapped] }],
    };
  if (isDone(step, severity)) return { clears: [contained, scrapped] };
  const isContained = open.some((one) => one.rule === 'contained' && isClearedBy(one, contained));
  return { clears: [scrapped], ...(!isContained && containedBy(containing)) };
}

function clearOfScrap(containment: string): Clear {
  return { kind: 'containment', place: `${containment}/scrapped` };
}

function isClearedBy({ clearedBy }: OpenFinding, clear: Clear): boolean {
  return clearedBy.some((one) => one.kind === clear.kind && one.place === clear.place);
}
