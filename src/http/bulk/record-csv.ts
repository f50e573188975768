/**
 * Records as CSV by RFC 4180: a header line, CRLF, fields in quotes where they hold a quote, a comma or a line break.
 * A field that a spreadsheet would take for a formula has an apostrophe before it: see `guarded`.
 */
import type { RecordView } from '../../app/record-views.ts';

type Members = Readonly<Record<string, unknown>>;

/** By name, what a column says. Several things in a field are parted by "; ". */
export const recordColumns: readonly (readonly [string, string, (record: RecordView) => unknown])[] = [
  ['id', 'The id of the record', ({ id }) => id],
  ['kind', 'What kind of record it is', ({ kind }) => kind],
  ['reference', "The shop's own id of it", (record) => stated(record)['reference']],
  ['workOrder', 'The order number', (record) => stated(record)['workOrder']],
  ['maker', 'The maker of its units', ({ maker }) => maker],
  ['control', 'Serial or tag of the control', (record) => nameOf(record, 'control')],
  ['pump', 'Serial of the pump', (record) => nameOf(record, 'pump')],
  [
    'performedFrom',
    'When the work was done, UTC: the first instant that it may have been',
    ({ performed }) => performed.from,
  ],
  ['performedTo', 'The last instant', ({ performed }) => performed.to],
  ['recordedAt', 'When the service learnt of it, UTC', ({ recordedAt }) => recordedAt],
  ['edition', 'The edition that was worked to', ({ edition }) => edition],
  ['shop', 'The own id of the shop', (record) => stated(record)['shop']],
  ['technician', 'The own id of who did the work', (record) => idOrWhy(stated(record)['technician'], record.people)],
  ['grade', 'How first-hand the record is', (record) => stated(record)['grade']],
  ['status', 'As it is now', ({ status }) => status],
  [
    'open',
    'The rules whose holds and dues are open, but for those under a concession',
    ({ open }) => joined(open.filter(({ concession }) => concession?.ended !== false).map(({ rule }) => rule)),
  ],
  ['judged', 'The status when it was recorded', ({ judgement }) => (judgement as Members)['status']],
  ['function', 'The function after the work', ({ judgement }) => (judgement as Members)['function']],
  ['concerns', 'The record that this one is about, or replaces', ({ concerns }) => concerns],
  ['correctedBy', 'The record that replaces this one', ({ correctedBy }) => correctedBy],
  ['removed', 'STATION=ELEMENT xN', (record) => parts(record, 'removed', 'station', 'element')],
  ['fitted', 'STATION=ELEMENT xN (LOT)', (record) => parts(record, 'fitted', 'station', 'element')],
  ['seals', 'JOINT=SEAL xN (LOT)', (record) => parts(record, 'seals', 'joint', 'seal')],
  [
    'torques',
    'JOINT=VALUE UNIT, of several screws VALUE UNIT + VALUE UNIT',
    (record) => readings(record, 'torques', 'joint'),
  ],
  ['settings', 'SETTING=VALUE UNIT', (record) => readings(record, 'settings', 'setting')],
  ['measurements', 'MEASURED=VALUE UNIT', (record) => readings(record, 'measurements', 'measured')],
  [
    'checks',
    'CHECK=RESULT',
    (record) => joined(listed(record, 'checks').map(({ check, result }) => `${check}=${result}`)),
  ],
  ['note', 'Its free text', (record) => (record.private as Members | null)?.['note']],
  ['entry', "The log's entry, as in the receipt", ({ entry }) => entry],
];

export function csvHeader(): string {
  return csvLine(recordColumns.map(([name]) => name));
}

export function csvOf(record: RecordView): string {
  return csvLine(recordColumns.map(([, , of]) => of(record)));
}

function csvLine(fields: readonly unknown[]): string {
  return `${fields.map((field) => quoted(guarded(textOf(field)))).join(',')}\r\n`;
}

function textOf(field: unknown): string {
  return field === null || field === undefined ? '' : String(field);
}

/**
 * Spreadsheets run what begins with =, +, -, @, a tab or a line break (also in full width) as a formula; an apostrophe
 * before it makes it a text. Whoever reads the field by program takes the apostrophe off, or takes NDJSON.
 */
function guarded(text: string): string {
  return /^[=+\-@\t\r\n＝＋－＠]/.test(text) ? `'${text}` : text;
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** What was stated; of a correction, what stands in the place of the record. */
function stated({ kind, statement }: RecordView): Members {
  const members = statement as Members;
  return kind === 'correction' ? ((members['body'] ?? {}) as Members) : members;
}

function listed(record: RecordView, list: string): Members[] {
  return (stated(record)[list] ?? []) as Members[];
}

function nameOf({ units }: RecordView, kind: string): string {
  return joined(units.filter((unit) => unit.kind === kind).map((unit) => unit.name ?? ''));
}

function parts(record: RecordView, list: string, at: string, what: string): string {
  return joined(
    listed(record, list).map(
      (one) =>
        `${one[at]}=${idOrWhy(one[what])} x${one['quantity'] ?? 1}${one['lot'] === undefined ? '' : ` (${lotOf(one['lot'])})`}`,
    ),
  );
}

function readings(record: RecordView, list: string, at: string): string {
  const reading = ({ value, unit }: Members) => `${value} ${unit}`;
  return joined(
    listed(record, list).map((one) => `${one[at]}=${[one['reading'] as Members].flat().map(reading).join(' + ')}`),
  );
}

/** An id, by another one where people are called by the shop's own, or why it is not known. */
function idOrWhy(value: unknown, people: Readonly<Record<string, string>> = {}): string {
  if (typeof value === 'string') return people[value] ?? value;
  const why = (value as { unknown?: string } | undefined)?.unknown;
  return why === undefined ? '' : `unknown: ${why}`;
}

function lotOf(lot: unknown): string {
  const { maker, number } = lot as { maker?: string; number?: string };
  return number === undefined ? idOrWhy(lot) : `${maker}/${number}`;
}

function joined(texts: readonly string[]): string {
  return texts.join('; ');
}
