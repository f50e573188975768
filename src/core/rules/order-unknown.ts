import { contentAt } from '../fit/layout.ts';
import type { UnitEvent } from '../history/event.ts';
import { agrees } from '../history/fold.ts';
import type { Case } from '../judge/case.ts';
import { touchedBy } from '../judge/make-case.ts';
import { compare } from '../quantity/exact.ts';
import type { Clear } from './finding.ts';
import { concession, type Rule, type Violation } from './rule.ts';
import { said } from './said.ts';

export const orderUnknown: Rule = {
  id: 'order-unknown',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'adjustment', 'repair', 'inspection', 'test'],
  sentence: 'Of two records of one day that leave different things it is said which came last.',
  basis:
    'A time that is known to the day or month does not tell; they are placed in the order in which they were recorded, which proves nothing.',
  clears:
    'a later record of what the station holds, or of the setting; a correction that says with "after" which came first; or a concession',
  check: (judged) => judged.sameTime.flatMap((event) => [...stations(judged, event), ...settings(judged, event)]),
};

function stations(judged: Case, event: UnitEvent): Violation[] {
  const { layout, record, after } = judged;
  const { found = {}, changed = {} } = event.effect;
  const left = [...new Set([...touchedBy(record), ...Object.keys(record.found?.stations ?? {})])];
  // What this left was not found there: so the other one came first.
  if (left.some((station) => found[station] && !agrees(found[station], contentAt(layout, after, station)))) return [];
  return left.flatMap((station) => {
    const [is, was] = [contentAt(layout, after, station), changed[station]];
    if (was === undefined || was.elements === null || is.elements === null || agrees(is, was)) return [];
    const [first, last] = [said(was.elements), said(is.elements)];
    return [unknown(judged, event, { place: station, kind: 'content', first, last })];
  });
}

/** Each read by its own record. */
function settings(judged: Case, event: UnitEvent): Violation[] {
  const { settings: other = {} } = event.effect;
  return judged.record.settings.flatMap(({ setting, reading }) => {
    const was = other[setting] ?? null;
    if (was === null || compare(was, reading) === 0) return [];
    const [first, last] = [`${was.value} ${was.unit}`, `${reading.value} ${reading.unit}`];
    return [unknown(judged, event, { place: setting, kind: 'setting', first, last })];
  });
}

function unknown(
  judged: Case,
  { kind, fact }: UnitEvent,
  at: { readonly place: string; readonly kind: Clear['kind']; readonly first: string; readonly last: string },
): Violation {
  const { place, first, last } = at;
  return {
    pointer: '/performedAt',
    found: last,
    because: `Nobody says whether ${kind} ${fact} came before this or after it: if before, ${last} is at ${place} now, if after, ${first}. Say "after" which record it was done.`,
    clearedBy: [{ kind: at.kind, place }, { kind: 'correction', place: judged.fact }, concession(judged)],
  };
}
