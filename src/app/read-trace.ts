/** Backward from a unit and a day: what was in it then, where that came from, and how sure it is by now. */

import { asAt } from '../core/history/concession.ts';
import { effectiveEvents } from '../core/history/effective-events.ts';
import type { UnitEvent, UnitKind } from '../core/history/event.ts';
import { contradictions, eventsAt, fold, type UnitState } from '../core/history/fold.ts';
import { endOf, orderEvents } from '../core/history/order-events.ts';
import { isForOwnerAlone } from '../core/history/owner-alone.ts';
import { isUnknown } from '../core/records/parts.ts';
import { instrumentBody } from '../core/records/stock-bodies.ts';
import type { Instant } from '../core/time/instant.ts';
import { containmentsThen } from '../core/trace/containments.ts';
import type { InstrumentOf } from '../core/trace/evidence-then.ts';
import { type KeptRecord, type TracedRecord, tracedRecord } from '../core/trace/record.ts';
import { traceOf, type UnitTraced } from '../core/trace/trace.ts';
import { Problem } from '../errors.ts';
import { namesOfUnits, type UnitName } from '../store/sql/find-units.ts';
import { namesOfOrganisations } from '../store/sql/names-of-organisations.ts';
import { readEvents } from '../store/sql/read-events.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import { readInstrumentEvents } from '../store/sql/read-instrument-events.ts';
import { readStock } from '../store/sql/read-stock.ts';
import { stockKnown } from '../store/sql/stock-known.ts';
import { attemptsNaming, dispositionsOf, judgedSince } from '../store/sql/trace-facts.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { eventsThatCount } from './derived/instrument-event-row.ts';
import { settledFor } from './horizon.ts';
import { mountingsOf } from './read-history.ts';
import { knownBy } from './read-instrument.ts';
import { isAnalyst, nameOf, readingContext, requireSight, requireUnit, type UnitPath } from './read-unit.ts';

export type TraceAsked = UnitPath & {
  /** The day asked for; null: now. */
  readonly performed: Instant | null;
  /** What was known by then; null: all that is. */
  readonly known: Instant | null;
};

/** More than a unit is refused in its life. */
const mostAttempts = 200;

/** @throws Problem history-restricted for a distributor that has recorded on neither unit */
export async function readTrace(app: App, asker: Asker, asked: TraceAsked) {
  requireSight(asker, asked.maker);
  const past = await readPast(app, asked);
  const { pump, control, ordered, known } = past;
  const units = [pump, control].filter((one) => one !== null);
  const facts = [...new Set([...ordered, ...past.later].map((event) => event.fact))];
  const seen = await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const kept = new Map((await readFacts(tx, facts)).map((fact) => [fact.id, fact]));
    if (!isAnalyst(asker) && kept.size === 0)
      throw new Problem(
        'history-restricted',
        'A unit is traced by those who have recorded work on it, and by its maker.',
      );
    const slugs = await namesOfOrganisations(tx, [...new Set([...kept.values()].map((fact) => fact.owner))]);
    const dispositions = (await dispositionsOf(tx, facts, known)).map((one) => decisionOf(one, past.performed));
    const attempts = await attemptsOf(tx, asker, units, known);
    return { kept, records: await recordsOf(tx, ordered, kept, { slugs, known }), dispositions, attempts };
  });
  const { kept, records, dispositions, attempts } = seen;
  const instrumentOf = await instrumentsOf(app, records, kept, asked.known === null ? null : known);
  return {
    asked: {
      unit: past.unit,
      performed: asked.performed,
      known: asked.known === null ? null : known,
      horizon: past.horizon,
    },
    pump: pump === null ? null : headOf(pump),
    control: control === null ? null : headOf(control),
    ...traceOf({ maker: asked.maker, pump, control, records, instrumentOf }),
    dispositions,
    containments: containmentsThen(past.all, past.performed),
    attempts,
    later: past.later
      .filter((event) => kept.has(event.fact) || !isForOwnerAlone(event, past.all))
      .map((event) => datesOf(event, kept.has(event.fact))),
  };
}

/** Events of the units whole: nobody's evidence is in them, and the fold must not depend on who asks. */
async function readPast(app: App, asked: TraceAsked) {
  const context = { role: 'recorder' as const, orgs: [], readOnly: true };
  return await withTransaction(app.pools.reading, context, async (tx) => {
    const { unit } = await requireUnit(tx, asked);
    const now = await tx.began;
    const { known: settled, horizon } = settledFor(asked.known, now);
    const known = settled ?? now;
    const performed = asked.performed ?? now;
    const own = heardOf(await readEvents(tx, [unit]), known);
    const partner = fold(unit, eventsAt(own, performed, null)).mounted?.with ?? null;
    const other = partner === null ? [] : heardOf(await readEvents(tx, [partner]), known);
    const named = [unit, ...(partner === null ? [] : [partner])];
    const near = [...own, ...other].flatMap((event) => event.effect.mounted?.with ?? []);
    const names = await namesOfUnits(tx, [...new Set([...named, ...near])]);
    const traced = (id: string, kind: UnitKind, events: readonly UnitEvent[]) =>
      tracedUnit(id, kind, events, { performed, names });
    const mine = traced(unit, asked.kind, own);
    const theirs = partner === null ? null : traced(partner, asked.kind === 'pump' ? 'control' : 'pump', other);
    const all = orderEvents(distinct([...own, ...other]));
    const apart = orderEvents([...own, ...other]);
    return {
      ...{ unit, horizon, known, performed },
      ...(asked.kind === 'pump' ? { pump: mine, control: theirs } : { pump: theirs, control: mine }),
      all: apart,
      ordered: all.filter((event) => endOf(event) <= performed),
      later: all.filter((event) => endOf(event) > performed),
    };
  });
}

function heardOf(events: readonly UnitEvent[], known: Instant): UnitEvent[] {
  return effectiveEvents(events.filter((event) => event.recordedAt <= known));
}

/** A record that touched both is one. */
function distinct(events: readonly UnitEvent[]): UnitEvent[] {
  return [...new Map(events.map((event) => [event.fact, event])).values()];
}

function tracedUnit(
  unit: string,
  kind: UnitKind,
  heard: readonly UnitEvent[],
  { performed, names }: { readonly performed: Instant; readonly names: readonly UnitName[] },
): UnitTraced {
  const state: UnitState = asAt(fold(unit, eventsAt(heard, performed, null)), performed);
  const before = orderEvents(heard).filter((event) => endOf(event) <= performed);
  return {
    ...{ unit, kind, state, name: nameOf(names, unit) },
    changed: contradictions(state, heard, performed),
    mountings: mountingsOf(before, names),
  };
}

function headOf({ unit, name, state, mountings }: UnitTraced) {
  const { born, status, hours, retired } = state;
  const fun = state.function;
  return { unit, name, born, function: fun, status, hours, retired, mountings };
}

async function recordsOf(
  tx: Tx,
  ordered: readonly UnitEvent[],
  kept: ReadonlyMap<string, FactRow>,
  { slugs, known }: { readonly slugs: ReadonlyMap<string, string>; readonly known: Instant },
): Promise<TracedRecord[]> {
  const visible = ordered.flatMap((event) => kept.get(event.fact) ?? []);
  const ids = visible.map((fact) => fact.id);
  const since = new Map((await judgedSince(tx, ids, known)).map((one) => [one.record, one]));
  return visible.map((fact): TracedRecord => {
    const again = since.get(fact.id);
    const { id, kind, recordedAt, edition, entry } = fact;
    const record: KeptRecord = {
      ...{ id, kind, recordedAt, edition, entry },
      distributor: slugs.get(fact.owner) ?? null,
      performed: { from: fact.performedFrom, to: fact.performedTo },
      statement: JSON.parse(fact.statement) as unknown,
      judgement: JSON.parse(fact.judgement) as unknown,
      since: again === undefined ? null : { ...again, judgement: JSON.parse(again.judgement) as unknown },
    };
    return tracedRecord(record);
  });
}

/**
 * With what was known of them by then. They are read in the name of whose records name them, as far as those records are
 * the asker's to see: the maker's people have no right to instruments but by the records of their make.
 */
async function instrumentsOf(
  app: App,
  records: readonly TracedRecord[],
  kept: ReadonlyMap<string, FactRow>,
  known: Instant | null,
): Promise<InstrumentOf> {
  const named = records.flatMap(({ id, distributor, lines }) =>
    [...lines.torques, ...lines.settings].flatMap(({ instrument }) =>
      isUnknown(instrument)
        ? []
        : [{ distributor, owner: kept.get(id)?.owner ?? '', kind: 'instrument' as const, key: instrument }],
    ),
  );
  const sought = [...new Map(named.map((one) => [`${one.owner} ${one.key}`, one])).values()];
  const orgs = [...new Set(sought.map(({ owner }) => owner))];
  const context = { role: 'reader' as const, orgs, readOnly: true };
  const { rows, events } = await withTransaction(app.pools.reading, context, async (tx) => ({
    rows: known === null ? await readStock(tx, sought) : await stockKnown(tx, sought, known),
    events: await knownBy(tx, await readInstrumentEvents(tx, sought), known),
  }));
  const stated = new Map(
    sought.flatMap(({ distributor, owner, key }) => {
      const row = rows.find((one) => one.owner === owner && one.key === key);
      if (row === undefined) return [];
      const own = events.filter((one) => one.owner === owner && one.instrument === key);
      const statement = instrumentBody.parse(JSON.parse(row.statement));
      return [[`${distributor} ${key}`, { fact: row.fact, statement, events: eventsThatCount(own) }] as const];
    }),
  );
  return (distributor, instrument) => stated.get(`${distributor} ${instrument}`) ?? null;
}

/** Null: refused bodies are for who sent them. */
async function attemptsOf(tx: Tx, asker: Asker, units: readonly UnitTraced[], known: Instant) {
  const owner = asker.organisations.distributor;
  if (isAnalyst(asker) || owner === null) return null;
  const namesOf = (kind: UnitKind) => units.flatMap((one) => (one.kind === kind ? (one.name ?? []) : []));
  const rows = await attemptsNaming(
    tx,
    owner,
    { controls: namesOf('control'), pumps: namesOf('pump') },
    known,
    mostAttempts,
  );
  return rows.map(({ id, at, kind, findings }) => ({
    ...{ id, at, kind },
    rules: [...new Set((JSON.parse(findings) as { rule: string }[]).map((one) => one.rule))],
  }));
}

function decisionOf(one: Awaited<ReturnType<typeof dispositionsOf>>[number], performed: Instant) {
  const { decision, reason } = JSON.parse(one.statement) as { decision: string; reason: string };
  const { fact, record, performedTo, recordedAt } = one;
  return { id: fact, record, decision, reason, performed: performedTo, recordedAt, after: performedTo > performed };
}

function datesOf({ unit, fact, kind, performedFrom, performedTo, recordedAt }: UnitEvent, isVisible: boolean) {
  const performed = { from: performedFrom, to: performedTo };
  return { unit, record: isVisible ? fact : null, kind, performed, recordedAt };
}

export type TraceView = Awaited<ReturnType<typeof readTrace>>;
