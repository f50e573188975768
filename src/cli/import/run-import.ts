/** An import from end to end: rows are mapped, sent in parcels, and what stands against them is told by row and column. */
import { findColumns, headersOf } from './find-columns.ts';
import { type Columns, columnsOf, type MappedRow, mapRow } from './map-row.ts';
import type { Mapping } from './mapping.ts';
import { type SentFinding, type SentOutcome, type Service, sendLines } from './send-lines.ts';
import { columnLetters, type Row, type Table } from './table.ts';

export type Import = {
  readonly mapping: Mapping;
  readonly table: Table;
  readonly service: Service;
  /** A line of what is found. */
  readonly tell: (line: string) => void;
  readonly progress: (done: number, all: number) => void;
};

export type Summary = {
  readonly rows: number;
  readonly recorded: number;
  /** Recorded by an earlier run. */
  readonly before: number;
  readonly problemRows: number;
  readonly judged: Readonly<Record<'released' | 'incomplete' | 'held', number>>;
  readonly hidden: number;
  /** Merged cells among the rows, of which only the first holds the value. */
  readonly merged: readonly string[];
};

/** Rows that are sent at once: few enough that an answer is not waited for long. */
const parcel = 200;

/** @throws UnreadableError, MappingError or ServiceError where it can't go on */
export async function runImport({ mapping, table, service, tell, progress }: Import): Promise<Summary> {
  const last = Math.max(...mapping.header);
  const { headers, count, hidden } = await lookThrough(table, mapping.header, last);
  const columns = findColumns(mapping, headers);
  const tally = newTally();
  const seen = new Map<string, number>();
  const parcels = inParcels(table.rows(), last);
  progress(0, count);
  for await (const rows of parcels) {
    const mapped = rows.map((row) => withDoubles(mapRow(row, mapping, columns), mapping, columns, seen));
    const good = mapped.filter((one) => one.problems.length === 0);
    const outcomes = await sendLines(
      service,
      good.map((one) => one.line),
    );
    const byRow = new Map(good.map((one, index) => [one, outcomes[index]]));
    for (const one of mapped) settle(one, byRow.get(one), tally, tellOnce(one, headers, tell), mapping, columns);
    tally.rows += rows.length;
    progress(tally.rows, count);
  }
  const merged = table.merged().filter((range) => Number(/\d+/.exec(range)?.[0]) > last);
  return { ...tally, hidden, merged };
}

type Tally = { -readonly [Name in keyof Omit<Summary, 'hidden' | 'merged'>]: Summary[Name] } & {
  judged: { released: number; incomplete: number; held: number };
};

function newTally(): Tally {
  return { rows: 0, recorded: 0, before: 0, problemRows: 0, judged: { released: 0, incomplete: 0, held: 0 } };
}

/** Everything is read once before anything is sent: a file that breaks off or is too large is refused whole. */
async function lookThrough(table: Table, header: readonly number[], last: number) {
  const heads: Row[] = [];
  let [count, hidden] = [0, 0];
  for await (const row of table.rows()) {
    if (header.includes(row.number)) heads.push(row);
    if (row.number <= last || row.cells.size === 0) continue;
    count += 1;
    if (row.hidden) hidden += 1;
  }
  return { headers: headersOf(heads), count, hidden };
}

async function* inParcels(rows: AsyncGenerator<Row>, last: number): AsyncGenerator<Row[], void, undefined> {
  let gathered: Row[] = [];
  for await (const row of rows) {
    if (row.number <= last || row.cells.size === 0) continue;
    gathered.push(row);
    if (gathered.length < parcel) continue;
    yield gathered;
    gathered = [];
  }
  if (gathered.length > 0) yield gathered;
}

/** A second row that calls itself the same is a problem; which of the two is meant is for people to say. */
function withDoubles(mapped: MappedRow, { key }: Mapping, columns: Columns, seen: Map<string, number>): MappedRow {
  const before = seen.get(mapped.line.key);
  if (before === undefined) {
    seen.set(mapped.line.key, mapped.row);
    return mapped;
  }
  if (mapped.reference.replaceAll(' / ', '') === '') return mapped;
  const detail = `${mapped.reference} stands in row ${before} already`;
  return { ...mapped, problems: [...mapped.problems, { columns: key.map((name) => columns.get(name) ?? -1), detail }] };
}

/** What two readings of a row have in common, such as their instrument, is told once. */
function tellOnce(mapped: MappedRow, headers: ReadonlyMap<number, string>, tell: Import['tell']): Tell {
  const told = new Set<string>();
  return (columns, detail) => {
    const line = lineOf(mapped, columns, detail, headers);
    if (!told.has(line)) tell(line);
    told.add(line);
  };
}

type Tell = (columns: readonly number[], detail: string) => void;

function settle(
  mapped: MappedRow,
  outcome: SentOutcome | undefined,
  tally: Tally,
  tell: Tell,
  mapping: Mapping,
  columns: Columns,
): void {
  for (const { columns: at, detail } of mapped.problems) tell(at, detail);
  if (mapped.problems.length > 0 || outcome === undefined || outcome.problem !== undefined) tally.problemRows += 1;
  if (outcome === undefined) return;
  const placeOf = (finding: SentFinding) => placeOfFinding(finding, mapped, mapping, columns);
  if (outcome.problem !== undefined) {
    const { detail, errors = [], findings = [] } = outcome.problem;
    for (const error of errors) tell(columnsOf(error.pointer, mapped.origins), error.detail);
    for (const finding of findings) tell(placeOf(finding), finding.because);
    if (errors.length + findings.length === 0) tell([], detail);
    return;
  }
  if (outcome.replayed === true) tally.before += 1;
  else tally.recorded += 1;
  if (outcome.judged !== undefined) tally.judged[outcome.judged] += 1;
  for (const finding of outcome.findings ?? []) {
    if (finding.severity === 'hold') tell(placeOf(finding), `held: ${finding.because}`);
  }
}

/** A finding about something that is not in the record is at the columns that would have said it. */
function placeOfFinding(
  finding: SentFinding,
  mapped: MappedRow,
  { template }: Mapping,
  columns: Columns,
): readonly number[] {
  const own = columnsOf(finding.pointer, mapped.origins);
  if (own.length === 1) return own;
  const said = finding.clearedBy.flatMap(({ place }) => template.saidOf.get(`${finding.pointer} ${place}`) ?? []);
  const would = [...new Set(said.map((name) => columns.get(name) ?? -1))];
  return would.length > 0 ? would : own;
}

const mostNamed = 4;

function lineOf(
  { row, reference }: MappedRow,
  columns: readonly number[],
  detail: string,
  headers: ReadonlyMap<number, string>,
): string {
  const named = columns
    .filter((column) => column >= 0)
    .map((column) => `${columnLetters(column)} "${headers.get(column) ?? ''}"`);
  const place = named.length === 0 || named.length > mostNamed ? '' : `, column ${named.join(', ')}`;
  return `row ${row}${place}${reference === '' ? '' : ` (${reference})`}: ${detail}`;
}
