import { elementOf, functionOf } from '../catalogue/lookup.ts';
import type { Case } from '../judge/case.ts';
import { jointOf, peopleOfLines } from '../judge/evidence.ts';
import { lotKeyOf } from '../records/lot-name.ts';
import { isUnknown, type LotRef } from '../records/parts.ts';
import { benchWork, type Rule, type Violation } from './rule.ts';

export const unknownId: Rule = {
  id: 'unknown-id',
  severity: 'refuse',
  kinds: ['registration', ...benchWork],
  sentence:
    'Every shop, technician, instrument, lot, attachment, station, element, joint, setting, check and function that is named is known.',
  basis: 'A name that nobody can look up proves nothing years later; what is not known is said as {"unknown": "why"}.',
  clears: null,
  check: (judged) => [...stockNames(judged), ...catalogueNames(judged), ...recordNames(judged)],
};

function stockNames(judged: Case): Violation[] {
  const { record, known, edition } = judged;
  const people: [string, unknown][] = [
    ['/technician', record.technician],
    ...peopleOfLines(record).map(({ pointer, by }): [string, unknown] => [pointer, by]),
  ];
  const instruments: [string, unknown][] = [
    ...record.torques.map((one, i): [string, unknown] => [`/torques/${i}/instrument`, one.instrument]),
    ...record.settings.map((one, i): [string, unknown] => [`/settings/${i}/instrument`, one.instrument]),
    ...record.settings.flatMap((one, i): [string, unknown][] =>
      one.second === undefined ? [] : [[`/settings/${i}/second`, one.second]],
    ),
    ...record.measurements.map((one, i): [string, unknown] => [`/measurements/${i}/instrument`, one.instrument]),
  ];
  const lots: [string, LotRef | undefined][] = [
    ...record.fitted.map((one, i): [string, LotRef | undefined] => [`/fitted/${i}/lot`, one.lot]),
    ...record.seals.map((one, i): [string, LotRef | undefined] => [`/seals/${i}/lot`, one.lot]),
  ];
  return [
    ...(record.shop === null || known.shops.has(record.shop) ? [] : [missing('/shop', 'shop', record.shop)]),
    ...people
      .filter(([, id]) => typeof id === 'string' && !known.technicians.has(id))
      .map(([at, id]) => missing(at, 'technician', String(id))),
    ...instruments
      .filter(([, id]) => typeof id === 'string' && !known.instruments.has(id))
      .map(([at, id]) => missing(at, 'instrument', String(id))),
    ...record.attachments.flatMap((digest, i) =>
      known.attachments.has(digest) ? [] : [missing(`/attachments/${i}`, 'attachment', digest)],
    ),
    ...lots.flatMap(([at, lot]) => {
      const key = lotKeyOf(lot, edition.maker);
      return key === null || known.lots.has(key) ? [] : [missing(at, 'lot', key)];
    }),
  ];
}

function catalogueNames(judged: Case): Violation[] {
  const { record, layout, edition } = judged;
  const station = (at: string, id: string) => (layout.station.has(id) ? [] : [missing(at, 'station', id)]);
  const element = (at: string, id: unknown) =>
    typeof id !== 'string' || elementOf(edition, id) !== null ? [] : [missing(at, 'element', id)];
  const joint = (at: string, id: string) => (jointOf(judged, id) !== undefined ? [] : [missing(at, 'joint', id)]);
  const setting = (at: string, id: string) =>
    layout.settings.some((one) => one.id === id) ? [] : [missing(at, 'setting', id)];
  return [
    ...record.removed.flatMap((one, i) => [
      ...station(`/removed/${i}/station`, one.station),
      ...element(`/removed/${i}/element`, one.element),
    ]),
    ...record.fitted.flatMap((one, i) => [
      ...station(`/fitted/${i}/station`, one.station),
      ...element(`/fitted/${i}/element`, one.element),
    ]),
    ...record.seals.flatMap((one, i) => [
      ...joint(`/seals/${i}/joint`, one.joint),
      ...element(`/seals/${i}/seal`, one.seal),
    ]),
    ...record.torques.flatMap((one, i) => joint(`/torques/${i}/joint`, one.joint)),
    ...record.settings.flatMap((one, i) => setting(`/settings/${i}/setting`, one.setting)),
    ...record.checks.flatMap((one, i) =>
      edition.checks.some((check) => check.id === one.check) ? [] : [missing(`/checks/${i}/check`, 'check', one.check)],
    ),
    ...record.measurements.flatMap(({ through }, i) =>
      through === undefined ? [] : station(`/measurements/${i}/through/station`, through.station),
    ),
    ...(record.opened ?? []).flatMap((id, i) => station(`/opened/${i}`, id)),
    ...Object.entries(record.found?.stations ?? {}).flatMap(([id, content]) => [
      ...station(`/found/stations/${escaped(id)}`, id),
      ...(isUnknown(content)
        ? []
        : content.flatMap((held, i) => element(`/found/stations/${escaped(id)}/${i}/element`, held.element))),
    ]),
    ...Object.keys(record.found?.settings ?? {}).flatMap((id) => setting(`/found/settings/${escaped(id)}`, id)),
    ...functionName(judged, '/found/function', record.found?.function),
  ];
}

function functionName({ edition, layout }: Case, at: string, id: string | undefined): Violation[] {
  return id === undefined || functionOf(edition, layout.body.id, id) !== null ? [] : [missing(at, 'function', id)];
}

function recordNames({ afterIsKnown }: Case): Violation[] {
  if (afterIsKnown) return [];
  return [{ pointer: '/after', because: 'No record of this unit has the id that "after" names.' }];
}

/** What is said of a name that nobody can look up, and of what to do. */
export function missing(pointer: string, what: string, id: string): Violation {
  return {
    pointer,
    found: id,
    because: `No ${what} is known as ${id}. ${mend(what)}`,
  };
}

function escaped(token: string): string {
  return token.replaceAll('~', '~0').replaceAll('/', '~1');
}

/** What of the shop's can be stated or said to be unknown; what the edition doesn't list is a slip of the pen. */
function mend(what: string): string {
  if (what === 'shop') return 'State it first.';
  if (what === 'attachment') return 'Send the file to /v1/attachments first.';
  const isOwn = what === 'technician' || what === 'instrument' || what === 'lot';
  if (isOwn) return 'State it first, or say {"unknown": "why"} if it is not known.';
  return what === 'element'
    ? 'Name one of the edition, or say {"unknown": "why"} if it is not known.'
    : 'Name one of the edition.';
}
