/** The headers of a table, and in which columns a mapping's names are. */
import type { Columns } from './map-row.ts';
import { type Mapping, MappingError } from './mapping.ts';
import { columnIndex, columnLetters, type Row } from './table.ts';

/** By column. Of several rows of headers a blank in all but the last stands for what is to its left, as under a merged cell. */
export function headersOf(rows: readonly Row[]): Map<number, string> {
  const width = Math.max(0, ...rows.flatMap((row) => [...row.cells.keys()].map((column) => column + 1)));
  const headers = new Map<number, string>();
  const carried = rows.map(() => '');
  for (let column = 0; column < width; column++) {
    const words = rows.map((row, index) => {
      const own = row.cells.get(column)?.text.replaceAll(/\s+/g, ' ') ?? '';
      if (own !== '') carried[index] = own;
      return index < rows.length - 1 ? (carried[index] ?? '') : own;
    });
    const header = words.filter((word) => word !== '').join(' / ');
    if (header !== '' && words.at(-1) !== '') headers.set(column, header);
  }
  return headers;
}

/** @throws MappingError for every name that no column has, or several have */
export function findColumns(mapping: Mapping, headers: ReadonlyMap<number, string>): Columns {
  const problems: string[] = [];
  const columns = new Map<string, number>();
  for (const name of new Set([...mapping.key, ...mapping.template.columns])) {
    const letters = /^\[([A-Z]{1,3})\]$/.exec(name)?.[1];
    const found =
      letters === undefined
        ? [...headers].flatMap(([column, header]) => (same(header, name) ? [column] : []))
        : [columnIndex(letters)];
    const [column] = found;
    if (column === undefined) problems.push(`No column has the header "${name}".`);
    else if (found.length > 1)
      problems.push(
        `Columns ${found.map(columnLetters).join(', ')} all have the header "${name}": name the one that is meant by its letter, as [${columnLetters(column)}].`,
      );
    else columns.set(name, column);
  }
  if (problems.length > 0) {
    const there = [...headers].map(([column, header]) => `${columnLetters(column)} "${header}"`);
    throw new MappingError([...problems, `The file has ${there.join(', ') || 'no headers there'}.`].join('\n'));
  }
  return columns;
}

function same(header: string, name: string): boolean {
  return header.normalize('NFKC').toLowerCase() === name.normalize('NFKC').replaceAll(/\s+/g, ' ').trim().toLowerCase();
}
