/**
 * Loads and locks what a batch of requests reads, in a fixed order: names, unit heads, lots, makers that publish, people
 * and shops that leave is about, instruments; then the clock, and what nobody locks. What is asked for at once is answered
 * in the order in which it stands here.
 */
import type { Edition } from '../../core/catalogue/edition.ts';
import type { UnitEvent } from '../../core/history/event.ts';
import { isOfCustody } from '../../core/history/fold.ts';
import { findSerials } from '../../store/sql/find-parts.ts';
import { findUnits, namesOfUnits } from '../../store/sql/find-units.ts';
import { lastJudgements } from '../../store/sql/last-judgements.ts';
import { lockHeads, readClock } from '../../store/sql/lock-heads.ts';
import { lockMakers } from '../../store/sql/lock-makers.ts';
import { readKeys, readReferences } from '../../store/sql/read-claims.ts';
import { type EditionRow, listEditions } from '../../store/sql/read-editions.ts';
import { counterpartsOf, readEvents, unitsOfFacts } from '../../store/sql/read-events.ts';
import { readFacts, readRegistrations } from '../../store/sql/read-facts.ts';
import { readSealed } from '../../store/sql/read-sealed.ts';
import { readPeople, readPeopleById, type StockRow } from '../../store/sql/read-stock.ts';
import { readClaims, readTerms, type TermsRow } from '../../store/sql/read-warranty.ts';
import type { Tx } from '../../store/transaction.ts';
import type { Editions } from '../editions.ts';
import { ConcurrentChange } from './concurrent-change.ts';
import { loadInstruments } from './load-instruments.ts';
import { loadLeave } from './load-leave.ts';
import { loadLots } from './load-lots.ts';
import { type Loaded, newestEdition, type Place, placeOf } from './loaded.ts';
import type { Request } from './request.ts';
import { type Wants, wantsOf } from './wants.ts';

export async function load(tx: Tx, requests: readonly Request[], editions: Editions): Promise<Loaded> {
  const wanted = requests.map((request) => ({ request, wants: wantsOf(request) }));
  const owned = <T>(pick: (wants: (typeof wanted)[number]['wants']) => readonly T[]) =>
    wanted.flatMap(({ request, wants }) => pick(wants).map((one) => ({ owner: request.owner, ...one })));

  const recordIds = wanted.flatMap(({ wants }) => wants.record ?? []);
  const [found, records, unitsOfRecords, serialUses] = await Promise.all([
    findUnits(
      tx,
      wanted.flatMap(({ wants }) => wants.names),
    ),
    readFacts(tx, recordIds),
    unitsOfFacts(tx, recordIds),
    findSerials(
      tx,
      owned((wants) => wants.serials ?? []),
    ),
  ]);
  const byId = wanted.flatMap(({ wants }) => wants.units ?? []);
  const named = [...found.map((one) => one.unit), ...unitsOfRecords.map((one) => one.unit), ...byId];
  const units = [...new Set([...named, ...(await counterpartsOf(tx, named)), ...serialUses.map((use) => use.unit)])];
  const [heads, events] = await Promise.all([lockHeads(tx, units), readEvents(tx, units)]);
  requireAllLocked(events, named, units);
  const lots = await loadLots(tx, wanted, editions);

  const makers = [...new Set(wanted.flatMap(({ wants }) => (wants.edition ?? wants.editionAt)?.maker ?? []))];
  const [, listed, byOwnId, byTheirId] = await Promise.all([
    lockMakers(
      tx,
      requests.flatMap((request) => (request.kind === 'edition' ? [request.maker] : [])),
    ),
    listEditions(tx, makers),
    readPeople(
      tx,
      owned((wants) => wants.people.map((ownId) => ({ ownId }))),
    ),
    readPeopleById(tx, [...doersOf(records), ...forgotten(requests)]),
  ]);
  const people = [...byOwnId, ...byTheirId];
  const contents = await contentsFor(tx, wanted, listed, editions);
  const [leave, instrumentEvents, terms] = await Promise.all([
    loadLeave(tx, { wanted, people, records, contents }),
    loadInstruments(tx, wanted),
    readTerms(
      tx,
      wanted.flatMap(({ wants }) => wants.terms ?? []),
    ),
  ]);
  const [now, keys, references, names, claims, sealed, judgedLast, places, registrations] = await Promise.all([
    readClock(tx),
    readKeys(
      tx,
      requests.flatMap(({ owner, client, key }) => (key === null ? [] : [{ owner, client, key }])),
    ),
    readReferences(
      tx,
      owned((wants) => (wants.reference === null ? [] : [wants.reference])),
    ),
    namesOfUnits(tx, units),
    readClaims(tx, recordIds),
    readSealed(tx, statedBefore(requests, lots.stock, listed, terms)),
    lastJudgements(
      tx,
      requests.flatMap((request) => (request.kind === 'judgement' ? [request.record] : [])),
    ),
    placesOf(tx, events),
    readRegistrations(
      tx,
      found.map((one) => one.unit),
    ),
  ]);
  return {
    ...{ now, keys, references, names: [...found, ...names], heads: new Map(heads.map((head) => [head.unit, head])) },
    events: Map.groupBy(events, (event) => event.unit),
    ...lots,
    ...{ serialUses, claims, terms, sealed, people, editions: listed, contents },
    ...leave,
    ...{ instrumentEvents, records, judgedLast, places, registrations },
    unitsOfRecords: [...unitsOfRecords, ...reachedBy(recordIds, events, unitsOfRecords)],
  };
}

/** The facts that a PUT may state again: the version in force of the same thing, or the edition of the same name. */
function statedBefore(
  requests: readonly Request[],
  stock: readonly StockRow[],
  listed: readonly EditionRow[],
  terms: readonly TermsRow[],
): string[] {
  return requests.flatMap((request) => {
    if (request.kind === 'terms') return terms.filter((one) => one.id === request.terms).map((one) => one.fact);
    if (request.kind === 'edition') {
      return listed
        .filter((one) => one.maker === request.maker && one.edition === request.edition)
        .map((one) => one.fact);
    }
    return stock.filter((one) => one.owner === request.owner && one.kind === request.kind).map((one) => one.fact);
  });
}

/** The editions that records name, or that start-ups are judged by; and for one to be published all those before it, which it must stay true to. */
async function contentsFor(
  tx: Tx,
  wanted: readonly { readonly request: Request; readonly wants: Wants }[],
  listed: readonly EditionRow[],
  editions: Editions,
): Promise<Map<string, Edition>> {
  const isNeeded = ({ maker, edition }: EditionRow) =>
    wanted.some(
      ({ request, wants }) =>
        (wants.edition?.maker === maker && (request.kind === 'edition' || wants.edition.edition === edition)) ||
        (wants.editionAt?.maker === maker && newestEdition(listed, maker, wants.editionAt.at) === edition),
    );
  const contents = new Map<string, Edition>();
  for (const { maker, edition } of listed.filter(isNeeded)) {
    const content = await editions.get(tx, maker, edition);
    if (content !== null) contents.set(`${maker}/${edition}`, content);
  }
  return contents;
}

/** The units that these records turned out to have touched without an event of their own there. */
function reachedBy(records: readonly string[], events: readonly UnitEvent[], own: Loaded['unitsOfRecords']) {
  const reached = events.flatMap(({ unit, effect: { judges, placed } }) =>
    judges !== undefined && placed && records.includes(judges) ? [{ fact: judges, unit }] : [],
  );
  const isOwn = (one: (typeof reached)[number]) => own.some(({ fact, unit }) => fact === one.fact && unit === one.unit);
  return [...new Map(reached.filter((one) => !isOwn(one)).map((one) => [`${one.fact} ${one.unit}`, one])).values()];
}

/** Of the records that say where a unit is, or that are held because of it. */
async function placesOf(tx: Tx, events: readonly UnitEvent[]): Promise<Map<string, Place>> {
  const told = events.filter(({ effect }) => effect.custody !== undefined || effect.opens?.some(isOfCustody));
  const facts = await readFacts(tx, [...new Set(told.map(({ fact, effect }) => effect.judges ?? fact))]);
  return new Map(
    facts.flatMap(({ id, owner, statement }) =>
      placeOf(owner, JSON.parse(statement)).map((place): [string, Place] => [id, place]),
    ),
  );
}

/** A unit mounted between our look and our lock: the batch begins again and sees it. */
function requireAllLocked(events: readonly UnitEvent[], named: readonly string[], locked: readonly string[]): void {
  const missed = events.some(
    ({ unit, effect }) => named.includes(unit) && effect.mounted !== undefined && !locked.includes(effect.mounted.with),
  );
  if (missed) throw new ConcurrentChange('a unit was mounted meanwhile');
}

/** Whom requests of this batch forget, by the service's ids. */
function forgotten(requests: readonly Request[]): { owner: string; id: string }[] {
  return requests.flatMap((request) =>
    request.kind === 'erasure' ? [{ owner: request.owner, id: request.person }] : [],
  );
}

/** Who did the work of these records, by the service's ids. */
function doersOf(records: readonly { owner: string; statement: string }[]): { owner: string; id: string }[] {
  return records.flatMap(({ owner, statement }) => {
    const { technician } = JSON.parse(statement) as { technician?: unknown };
    return typeof technician === 'string' ? [{ owner, id: technician }] : [];
  });
}
