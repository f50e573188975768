/** What a cell says, by its source in the mapping. */
import type { JsonValue } from '../../core/json/parse-strict.ts';
import type { Mapping } from './mapping.ts';
import { readDate, readDateCell } from './read-date.ts';
import type { Source } from './source.ts';
import type { Cell } from './table.ts';

export type CellRead =
  | { readonly value: JsonValue }
  | { readonly problem: string }
  /** Nothing is said, as where the cell is empty. */
  | null;

type Rules = Pick<Mapping, 'lookups' | 'decimal' | 'zone'>;

export function readCell(cell: Cell | undefined, source: Source, rules: Rules): CellRead {
  if (cell === undefined) return source.empty === undefined ? null : { value: source.empty as JsonValue };
  if (cell.kind === 'error') return { problem: `the cell holds ${cell.text}` };
  if (source.lookup !== undefined) return lookedUp(cell, source.lookup, rules);
  if (source.date !== undefined) return date(cell, [source.date].flat(), source.zone ?? rules.zone ?? '+00:00');
  if (source.quantity !== undefined) return quantity(cell, source.quantity, rules.decimal);
  if (source.number !== undefined) {
    const read = decimal(cell, cell.text, source.number);
    return 'problem' in read ? read : { value: Number(read.value) };
  }
  return { value: cell.text };
}

function lookedUp(cell: Cell, list: string, { lookups }: Rules): CellRead {
  const words = lookups[list] ?? {};
  const found = Object.entries(words).find(([word]) => folded(word) === folded(cell.text));
  if (found !== undefined) return { value: found[1] as JsonValue };
  const wanted = folded(cell.text);
  const isNear = (word: string) => word.startsWith(wanted) || wanted.startsWith(word) || distance(word, wanted) <= 2;
  const near = Object.keys(words).filter((word) => isNear(folded(word)));
  return {
    problem: `"${cell.text}" is not in the list ${list}${
      near.length === 0
        ? ''
        : `; it has ${near
            .slice(0, 3)
            .map((word) => `"${word}"`)
            .join(', ')}`
    }`,
  };
}

function date(cell: Cell, formats: readonly string[], zone: string): CellRead {
  if (cell.kind === 'date') return readDateCell(cell.text, zone) as CellRead;
  if (cell.kind === 'number')
    return { problem: `the cell holds the number ${cell.text}, not a date: give the column a date format` };
  return readDate(cell.text, formats, zone) as CellRead;
}

/** Digits, and a unit behind them where the cell has one. */
function quantity(
  cell: Cell,
  { decimal: sign, unit, units = {} }: NonNullable<Source['quantity']>,
  usual: ',' | '.',
): CellRead {
  if (cell.kind === 'date') return { problem: `the cell holds the date ${cell.text}, not a number` };
  const [, number = '', written = ''] = /^([-+]?[\d.,\s]*\d)\s*(.*)$/u.exec(cell.text) ?? [];
  if (number === '') return { problem: `"${cell.text}" is not a number` };
  const known = written === '' ? unit : unitOf(written, units);
  if (known === undefined)
    return {
      problem:
        written === ''
          ? 'no unit is said, here or in the mapping'
          : `"${written}" is not among the units of the mapping`,
    };
  const read = decimal(cell, number, sign ?? usual);
  return 'problem' in read ? read : { value: { value: read.value, unit: known } };
}

function unitOf<Unit>(written: string, units: Readonly<Record<string, Unit>>): Unit | undefined {
  return Object.entries(units).find(([word]) => folded(word) === folded(written))?.[1];
}

/** A plain decimal with a point. Which sign groups thousands is not guessed: a wrong guess is a factor of a thousand. */
function decimal(cell: Cell, text: string, sign: ',' | '.'): { readonly value: string } | { readonly problem: string } {
  const given = cell.kind === 'number' ? '.' : sign;
  const plain = text.trim().replace(given, '.');
  if (/^-?(0|[1-9]\d*)(\.\d+)?$/.test(plain) && !(given === ',' && text.includes('.'))) return { value: plain };
  const wanted = given === ',' ? 'a decimal comma, such as 61,0' : 'a decimal point, such as 61.0';
  return { problem: `"${text.trim()}" is not a number with ${wanted}` };
}

function folded(text: string): string {
  return text.normalize('NFKC').trim().replaceAll(/\s+/g, ' ').toLowerCase();
}

/** Edits from one to the other (Levenshtein), as far as they matter: long texts are not near. */
function distance(a: string, b: string): number {
  if (Math.abs(a.length - b.length) > 2 || a.length > 60) return 3;
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 3;
}
