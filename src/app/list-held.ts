/** What holds units of a distributor, or is due on them: for the people who have to see to it. */
import { frame } from '../core/records/parts.ts';
import { daysTo } from '../core/time/days.ts';
import { countStandingFindings } from '../store/sql/count-standing-findings.ts';
import { namesOfUnits, type UnitName } from '../store/sql/find-units.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { asFindingsKnown } from './findings-known.ts';
import { cursorOf, listFindings, type StandingSought, type StandingView } from './list-findings.ts';
import { ownerAlone } from './list-own.ts';
import type { PageAsked } from './page.ts';
import { nameOf } from './read-unit.ts';
import { placeOf } from './recording/loaded.ts';

type Sought = Omit<StandingSought, 'severity'> & {
  /** As it was known then; left out: as it is now. */
  readonly known?: string;
};

/** What holds units: that of the oldest record first. */
export async function listHeld(app: App, asker: Asker, sought: Sought, page: PageAsked) {
  const { items, ...rest } = await listed(app, asker, { ...sought, severity: 'hold' }, page);
  return { ...rest, items: items.map(({ dueBy: _, overdue: __, ...item }) => item) };
}

/** What is due, with the time from which on it is overdue. */
export async function listDue(app: App, asker: Asker, sought: Sought, page: PageAsked) {
  return await listed(app, asker, { ...sought, severity: 'due' }, page);
}

/** How many there are, in all and by shop, rule and age. */
export async function countHeld(app: App, asker: Asker, sought: Sought) {
  const { overdue: _, counts, ...rest } = await counted(app, asker, { ...sought, severity: 'hold' });
  return { ...rest, counts: counts.map(({ overdue: __, ...one }) => one) };
}

/** The same, with how many of them are overdue. */
export async function countDue(app: App, asker: Asker, sought: Sought) {
  return await counted(app, asker, { ...sought, severity: 'due' });
}

async function listed(
  app: App,
  asker: Asker,
  { known, ...sought }: StandingSought & Pick<Sought, 'known'>,
  page: PageAsked,
) {
  const own = ownerAlone(asker);
  const { items: rows, ...rest } = await listFindings(app, asker, sought, page, known ?? null);
  const items = await asFindingsKnown(app, asker, null, async (tx) => {
    const units = [...new Set(rows.map((one) => one.unit))];
    const kinds = new Map((await readCurrent(tx, units)).map(({ unit, born }) => [unit, born?.kind ?? null]));
    const names = await namesOfUnits(tx, units);
    const facts = new Map(
      (await readFacts(tx, [...new Set(rows.map((one) => one.fact))])).map((fact) => [fact.id, fact]),
    );
    const now = rest.known ?? (await readClock(tx));
    return rows.map((row) => ({
      ...{ id: cursorOf(row), unit: unitOf(row.unit, kinds.get(row.unit) ?? null, names) },
      ...recordOf(facts.get(row.fact), now, own),
      ...findingOf(row),
      ...{ dueBy: row.dueBy, overdue: row.overdue },
    }));
  });
  return { ...rest, items };
}

async function counted(app: App, asker: Asker, { known, ...sought }: StandingSought & Pick<Sought, 'known'>) {
  ownerAlone(asker);
  return await asFindingsKnown(app, asker, known ?? null, async (tx, whose, until) => {
    const counts = await countStandingFindings(tx, { ...sought, ...whose });
    const [findings, overdue] = [sum(counts.map((one) => one.findings)), sum(counts.map((one) => one.overdue))];
    return { findings, overdue, counts, ...until };
  });
}

function sum(counts: readonly number[]): number {
  return counts.reduce((total, one) => total + one, 0);
}

function unitOf(unit: string, kind: 'pump' | 'control' | null, names: readonly UnitName[]) {
  return { unit, kind, name: nameOf(names, unit) };
}

/** What the maker's people recorded of a containment keeps their own reference. */
function recordOf(fact: FactRow | undefined, now: string, own: string) {
  if (fact === undefined) throw new Error('a finding of a record that its owner does not see');
  const { id, owner, kind, performedFrom: from, performedTo: to } = fact;
  const statement: unknown = JSON.parse(fact.statement);
  const [place] = placeOf(owner, statement);
  const stated = frame.reference.safeParse((statement as { reference?: unknown }).reference).data ?? null;
  const reference = owner === own ? stated : null;
  return { record: id, kind, reference, shop: place?.shop ?? null, performed: { from, to }, ageDays: daysTo(now, to) };
}

function findingOf({ finding }: StandingView): Omit<StandingView['finding'], 'fact'> {
  const { fact: _, ...rest } = finding;
  return rest;
}
