/**
 * One sheet of an XLSX file (ECMA-376-1 §18.3), row by row: the sheet itself is never held whole, only the texts that
 * cells share. Formulas count as the result that was saved with them.
 */
import { decimalOf } from '../../../core/quantity/decimal.ts';
import { type Cell, columnIndex, type Row, requireWithin, type Table, UnreadableError } from '../table.ts';
import { openArchive } from './open-archive.ts';
import { readWorkbook, type Workbook } from './read-workbook.ts';
import { dateOfSerial } from './serial-date.ts';
import { xmlPieces } from './xml-events.ts';

/** @param sheet its name; null: the first */
export function readXlsx(file: string, sheet: string | null): Table {
  const merged: string[] = [];
  return { rows: () => rowsOf(file, sheet, merged), merged: () => merged };
}

async function* rowsOf(file: string, sheet: string | null, merged: string[]): AsyncGenerator<Row, void, undefined> {
  const archive = await openArchive(file);
  try {
    const workbook = await readWorkbook(archive, sheet);
    const stream = await archive.open(workbook.part);
    if (stream === null) throw new UnreadableError(`The file lacks ${workbook.part}: save it anew.`);
    merged.length = 0;
    const gather = new SheetGatherer(workbook, merged);
    for await (const _ of xmlPieces(stream, gather)) yield* gather.taken();
  } finally {
    archive.close();
  }
}

type Raw = { readonly column: number; readonly type: string; readonly style: number; value: string; formula: boolean };

/** Turns the XML of a sheet into rows, as it comes. */
class SheetGatherer {
  readonly #workbook: Workbook;
  readonly #merged: string[];
  #rows: Row[] = [];
  #number = 0;
  #hidden = false;
  #column = -1;
  #cells = new Map<number, Cell>();
  #cell: Raw | null = null;
  #inValue = false;
  #inSound = false;

  constructor(workbook: Workbook, merged: string[]) {
    this.#workbook = workbook;
    this.#merged = merged;
  }

  taken(): Row[] {
    return this.#rows.splice(0);
  }

  open = (name: string, attributes: Readonly<Record<string, string>>): void => {
    if (name === 'row') this.#beginRow(attributes);
    else if (name === 'c') this.#beginCell(attributes);
    else if (name === 'v' || name === 't') this.#inValue = true;
    else if (name === 'f' && this.#cell !== null) this.#cell.formula = true;
    else if (name === 'rPh') this.#inSound = true;
    else if (name === 'mergeCell') this.#merged.push(attributes['ref'] ?? '');
  };

  close = (name: string): void => {
    if (name === 'v' || name === 't') this.#inValue = false;
    else if (name === 'rPh') this.#inSound = false;
    else if (name === 'c') this.#endCell();
    else if (name === 'row') this.#rows.push({ number: this.#number, cells: this.#cells, hidden: this.#hidden });
  };

  text = (text: string): void => {
    if (this.#cell === null || !this.#inValue || this.#inSound) return;
    this.#cell.value += text;
    requireWithin(this.#number, this.#cell.column, this.#cell.value.length);
  };

  #beginRow({ r, hidden = '' }: Readonly<Record<string, string>>): void {
    this.#number = r === undefined ? this.#number + 1 : Number(r);
    this.#hidden = /^(1|true)$/.test(hidden);
    this.#column = -1;
    this.#cells = new Map();
    requireWithin(this.#number, 0, 0);
  }

  #beginCell({ r, t = 'n', s = '0' }: Readonly<Record<string, string>>): void {
    this.#column = r === undefined ? this.#column + 1 : columnIndex(r.replace(/\d+$/, ''));
    this.#cell = { column: this.#column, type: t, style: Number(s), value: '', formula: false };
  }

  #endCell(): void {
    const raw = this.#cell;
    this.#cell = null;
    if (raw === null) return;
    const cell = this.#cellOf(raw);
    if (cell === null || cell.text.trim() === '') return;
    requireWithin(this.#number, raw.column, cell.text.length);
    this.#cells.set(raw.column, { ...cell, text: cell.text.trim() });
  }

  #cellOf({ type, style, value, formula }: Raw): Cell | null {
    if (value === '')
      return formula && type !== 'str' ? { text: 'a formula without a saved result', kind: 'error' } : null;
    switch (type) {
      case 's':
        return { text: this.#workbook.texts[Number(value)] ?? '', kind: 'text' };
      case 'str':
      case 'inlineStr':
        return { text: value, kind: 'text' };
      case 'b':
        return { text: value === '1' ? 'true' : 'false', kind: 'text' };
      case 'e':
        return { text: value, kind: 'error' };
      case 'd':
        return { text: value.replace(/(T00:00:00)?(\.0+)?Z?$/, ''), kind: 'date' };
      default:
        return this.#numberCell(value, this.#workbook.showsDay[style] ?? false);
    }
  }

  #numberCell(value: string, isDay: boolean): Cell {
    const number = Number(value);
    if (!Number.isFinite(number)) return { text: value, kind: 'error' };
    if (!isDay) return { text: plain(number), kind: 'number' };
    const date = dateOfSerial(number, this.#workbook.since1904);
    return date === null ? { text: `${value}, which is no day`, kind: 'error' } : { text: date, kind: 'date' };
  }
}

/** Spreadsheets keep a number as a double and show at most 15 digits of it: 48.2 may be stored as 48.200000000000003. */
function plain(number: number): string {
  return decimalOf(Number(number.toPrecision(15)));
}
