/** What an import reads: rows of cells, whatever file they came in. */

export type Cell = {
  /**
   * As a person would type it: of a number cell the decimals that the file holds, with a point; of a date cell
   * `2026-03-14` or `2026-03-14T10:25:00`; of an error what the spreadsheet shows, such as `#N/A`.
   */
  readonly text: string;
  readonly kind: 'text' | 'number' | 'date' | 'error';
};

export type Row = {
  /** As a spreadsheet counts them, from 1. */
  readonly number: number;
  /** By column, the first is 0; blank cells are left out. */
  readonly cells: ReadonlyMap<number, Cell>;
  readonly hidden: boolean;
};

export type Table = {
  /** May be called again: each time from the first row. Rows without a cell may be left out. */
  readonly rows: () => AsyncGenerator<Row, void, undefined>;
  /** Ranges of cells merged into one, such as `A5:A7`; known once the rows have been read. */
  readonly merged: () => readonly string[];
};

/** The file, or what it holds, can't be read; the message says what to do. */
export class UnreadableError extends Error {
  override readonly name = 'UnreadableError';
}

/** "A" for 0, "AB" for 27. */
export function columnLetters(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : columnLetters(Math.floor(index / 26) - 1) + last;
}

/** 0 for "A", 27 for "AB". */
export function columnIndex(letters: string): number {
  return [...letters].reduce((index, letter) => index * 26 + letter.charCodeAt(0) - 64, 0) - 1;
}

export const tableLimits = Object.freeze({
  rows: 200_000,
  columns: 500,
  /** Characters of a cell: as many as spreadsheets take. */
  cell: 32_767,
});

/** @throws UnreadableError where the row is beyond what an import takes */
export function requireWithin(row: number, column: number, length: number): void {
  if (row > tableLimits.rows)
    throw new UnreadableError(
      `There are more than ${tableLimits.rows} rows: split the file, each part with the header.`,
    );
  if (column >= tableLimits.columns)
    throw new UnreadableError(
      `Row ${row} has more than ${tableLimits.columns} columns: leave out those that are not needed.`,
    );
  if (length > tableLimits.cell)
    throw new UnreadableError(
      `Row ${row}, column ${columnLetters(column)} holds more than ${tableLimits.cell} characters.`,
    );
}
