/** One claim whole: what was said of it and decided, how it stands, and what the terms give. */
import type { ClaimBody } from '../core/claims/claim-body.ts';
import { claimCoverage, type TermsVersion } from '../core/claims/claim-coverage.ts';
import { claimDates, type OnRecord } from '../core/claims/claim-dates.ts';
import type { Dated } from '../core/claims/coverage.ts';
import type { ClaimDecision } from '../core/claims/decision-body.ts';
import { claimStatus } from '../core/claims/status.ts';
import { effectiveEvents } from '../core/history/effective-events.ts';
import type { UnitEvent } from '../core/history/event.ts';
import { parseTime, type TimeInput } from '../core/time/instant.ts';
import { Problem } from '../errors.ts';
import { namesOfUnits, type UnitName } from '../store/sql/find-units.ts';
import { readEvents } from '../store/sql/read-events.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import {
  type ClaimEntryRow,
  type ClaimRow,
  readClaimEntries,
  readClaims,
  readClaimTexts,
  readTerms,
  type TermsRow,
} from '../store/sql/read-warranty.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { settledFor } from './horizon.ts';
import { nameOf, readingContext, requireReading } from './read-unit.ts';

type Statement = Readonly<Record<string, unknown>>;
export type ClaimView = Awaited<ReturnType<typeof readClaim>>;

/** @param known as it was known then: what was recorded later counts for nothing; null: as it is now */
export async function readClaim(app: App, asker: Asker, id: string, known: string | null) {
  requireReading(asker);
  const told = await readTold(app, asker, id);
  const whole = await withTransaction(
    app.pools.reading,
    { role: 'recorder', orgs: [], readOnly: true },
    async (tx) => ({
      events: await readEvents(tx, [told.claim.unit]),
      horizon: settledFor(null, await tx.began).horizon,
    }),
  );
  const asked = known !== null && known > whole.horizon ? whole.horizon : known;
  const isKnown = ({ recordedAt }: { readonly recordedAt: string }) => asked === null || recordedAt <= asked;
  if (!isKnown(told.claim)) throw notFound(id);
  const dating = await datingFacts(app, asker, told.claim, whole.events.filter(isKnown));
  return viewOf(told, dating, { known: asked, horizon: whole.horizon, isKnown });
}

/** Claim and evidence are facts that owner and maker may read; of decisions each reads the row. */
async function readTold(app: App, asker: Asker, id: string) {
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const found = await readClaims(tx, [id]);
    const claim = found.find((one) => one.fact === id);
    if (claim === undefined) throw notFound(id);
    const entries = await readClaimEntries(tx, [id]);
    const facts = await readFacts(tx, [id, ...entries.filter((one) => one.told === null).map((one) => one.fact)]);
    const ids = facts.map((one) => one.id);
    return {
      ...{ claim, entries, facts, replacing: found.filter((one) => one.replaces === id) },
      texts: await readClaimTexts(tx, ids),
      names: await namesOfUnits(tx, [claim.unit]),
      terms: await readTerms(tx, [claim.maker]),
    };
  });
}
type Told = Awaited<ReturnType<typeof readTold>>;

/** Of the claim's distributor alone, whoever asks: so that both are told the same. */
async function datingFacts(
  app: App,
  asker: Asker,
  { owner }: ClaimRow,
  events: readonly UnitEvent[],
): Promise<FactRow[]> {
  const ids = effectiveEvents(events)
    .filter(({ kind }) => ['start-up', 'movement', 'registration', 'correction'].includes(kind))
    .map((event) => event.fact);
  const facts = await withTransaction(app.pools.reading, readingContext(asker), (tx) => readFacts(tx, ids));
  return facts.filter((one) => one.owner === owner);
}

type Asked = {
  readonly known: string | null;
  readonly horizon: string;
  readonly isKnown: (one: { readonly recordedAt: string }) => boolean;
};

function viewOf(told: Told, dating: readonly FactRow[], { known, horizon, isKnown }: Asked) {
  const { claim, facts, texts } = told;
  const fact = facts.find((one) => one.id === claim.fact);
  if (fact === undefined) throw new Error(`the fact of claim ${claim.fact} is not there to be read`);
  const statement = JSON.parse(fact.statement) as Statement;
  const entries = told.entries.filter(isKnown);
  const replacedBy = told.replacing.find(isKnown)?.fact ?? null;
  const failed = { from: claim.failedFrom, to: claim.failedTo };
  const { part } = claim;
  const dates = claimDates(part, statedDates(claim.fact, statement), failed, onRecord(dating));
  const hours = (statement['hours'] as ClaimBody['hours'] | undefined) ?? null;
  const versions = told.terms.filter(isKnown).map(versionOf);
  return {
    ...{ claim: claim.fact, ...claimStatus(entries.map(decided), replacedBy), replaces: claim.replaces, replacedBy },
    /** The horizon where later was asked; null where nothing was. */
    ...{ known, settled: known !== null, horizon },
    ...{ distributor: claim.distributor, unit: unitOf(claim, told.names) },
    ...{ part, symptom: claim.symptom, failureMode: claim.failureMode, failed },
    raised: { from: fact.performedFrom, to: fact.performedTo },
    recordedAt: claim.recordedAt,
    statement,
    private: privateOf(texts, claim.fact),
    evidence: entries.flatMap((entry) => evidenceOf(entry, facts, texts)),
    decisions: entries.flatMap(decisionOf),
    ...dates,
    coverage: claimCoverage(
      { part, ...dates, failed, hours: hours && { ...hours, value: String(hours.value) } },
      versions,
    ),
  };
}

export function unitOf({ unit, unitKind, maker }: ClaimRow, names: readonly UnitName[]) {
  return { unit, kind: unitKind, maker, name: nameOf(names, unit) };
}

function decided({ decision }: ClaimEntryRow) {
  return { decision: decision as ClaimDecision | null };
}

function evidenceOf({ fact: id, recordedAt }: ClaimEntryRow, facts: readonly FactRow[], texts: Told['texts']) {
  const fact = facts.find((one) => one.id === id);
  if (fact === undefined) return [];
  const performed = { from: fact.performedFrom, to: fact.performedTo };
  const statement = JSON.parse(fact.statement) as Statement;
  return [{ record: id, performed, recordedAt, statement, private: privateOf(texts, id) }];
}

function decisionOf({ fact, decision, told, recordedAt }: ClaimEntryRow) {
  if (decision === null || told === null) return [];
  const { performedAt, ...said } = JSON.parse(told) as Statement;
  return [{ record: fact, decision, performed: parseTime(performedAt as TimeInput), recordedAt, ...said }];
}

function privateOf(texts: Told['texts'], fact: string): unknown {
  return JSON.parse(texts.get(fact) ?? 'null') as unknown;
}

function statedDates(claim: string, statement: Statement) {
  return { claim, deliveredAt: timeIn(statement, 'deliveredAt'), startedUpAt: timeIn(statement, 'startedUpAt') };
}

function timeIn(statement: Statement, name: string) {
  return statement[name] === undefined ? null : parseTime(statement[name] as TimeInput);
}

/** What these records say of when the unit went out and began to run; of a correction, what stands in place of the record. */
function onRecord(facts: readonly FactRow[]): OnRecord {
  const said = facts.map((fact) => {
    const statement = JSON.parse(fact.statement) as Statement;
    const isCorrection = fact.kind === 'correction';
    const kind = isCorrection ? String(statement['kind']) : fact.kind;
    const body = (isCorrection ? (statement['body'] ?? {}) : statement) as Statement;
    return { kind, body, record: fact.id, at: { from: fact.performedFrom, to: fact.performedTo } };
  });
  const dated = (one: (typeof said)[number], kind: Dated['said'], at = one.at): Dated[] => [
    { at, record: one.record, said: kind },
  ];
  return {
    startedUp: said.flatMap((one) => (one.kind === 'start-up' ? dated(one, 'start-up') : [])),
    delivered: said.flatMap((one) => {
      if (one.kind === 'movement' && one.body['what'] === 'delivered') return dated(one, 'movement');
      const at = one.kind === 'registration' ? timeIn(one.body, 'deliveredAt') : null;
      return at === null ? [] : dated(one, 'registration', at);
    }),
  };
}

function versionOf({ id, version, fact, validFrom, validUntil, content }: TermsRow): TermsVersion {
  const { text = null, parts } = JSON.parse(content) as { text?: string; parts: TermsVersion['parts'] };
  return { id, version, record: fact, validFrom, validUntil, text, parts };
}

function notFound(id: string): Problem {
  return new Problem('not-found', `There is no claim ${id}.`);
}
