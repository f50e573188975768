/** Other work of the day or month to which a record is known, of which nobody has said whether it came before. */

import type { UnitEvent } from '../../core/history/event.ts';
import { fold } from '../../core/history/fold.ts';
import type { UnitAtHand } from '../../core/judge/case.ts';
import { judge } from '../../core/judge/judge.ts';
import { type CaseInput, makeCase } from '../../core/judge/make-case.ts';
import type { Interval } from '../../core/time/instant.ts';
import type { Loaded } from '../recording/loaded.ts';
import { isJudged, type Placed, withRecord } from './around-work.ts';

/**
 * The events that stand before the record and might as well stand after it. Where it could not have been done before one
 * of them, by what it says itself that it found, the order is plain. Times that are exact are taken at their word.
 */
export function sameTime(placed: Placed, input: CaseInput, loaded: Loaded, performed: Interval): UnitEvent[] {
  const units = [input.control, ...(input.pump === null ? [] : [input.pump])];
  const before = new Map(units.map(({ unit }) => [unit, withRecord(placed, loaded, unit, performed).before]));
  const linked = linkedTo(placed, [...before.values()].flat());
  const open = [...before.values()].flat().filter((event) => {
    const isExact = event.performedFrom === event.performedTo && performed.from === performed.to;
    const overlaps = event.performedFrom <= performed.to && performed.from <= event.performedTo;
    return isJudged(event) && overlaps && !isExact && !linked.has(event.fact);
  });
  if (open.length === 0) return [];
  const findsAsRecorded = contradictionsOf(input);
  return open.filter(({ fact }) => {
    const sooner = (unit: UnitAtHand): UnitAtHand => {
      const events = before.get(unit.unit) ?? [];
      const at = events.findIndex((event) => event.fact === fact);
      return at < 0 ? unit : { ...unit, state: { ...fold(unit.unit, events.slice(0, at)), ...bornAs(unit) } };
    };
    const found = contradictionsOf({
      ...input,
      control: sooner(input.control),
      pump: input.pump && sooner(input.pump),
    });
    return found !== null && findsAsRecorded !== null && found <= findsAsRecorded;
  });
}

function bornAs({ state: { born, builtAt } }: UnitAtHand) {
  return { born, builtAt };
}

/** How many stations were found otherwise than recorded; null: it would be refused. */
function contradictionsOf(input: CaseInput): number | null {
  const judged = makeCase(input);
  if ('unknown' in judged) return null;
  const result = judge(judged);
  if ('refused' in result) return null;
  return result.judgement.findings.filter(({ rule }) => rule === 'unrecorded-work').length;
}

/** What the record says that it came after, and what that says in turn. */
function linkedTo({ body }: Placed, events: readonly UnitEvent[]): ReadonlySet<string> {
  const linked = new Set<string>();
  let next = body.after ?? null;
  while (next !== null && !linked.has(next)) {
    const fact: string = next;
    linked.add(fact);
    next = events.find((event) => event.fact === fact)?.after ?? null;
  }
  return linked;
}
