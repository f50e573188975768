/** One row by a mapping: a line for the service, and for every place in it the columns that it comes from. */
import { createHash } from 'node:crypto';
import type { JsonValue } from '../../core/json/parse-strict.ts';
import { pointerOf } from '../../core/json/pointer.ts';
import { columnsIn, type Node } from './compile-template.ts';
import type { Mapping } from './mapping.ts';
import { readCell } from './read-cell.ts';
import type { Row } from './table.ts';

/** Columns by their header, as found in the file. */
export type Columns = ReadonlyMap<string, number>;
export type RowProblem = { readonly columns: readonly number[]; readonly detail: string };
export type MappedRow = {
  readonly row: number;
  /** What tells the row from others, as written. */
  readonly reference: string;
  readonly line: { readonly key: string; readonly kind: string; readonly body: JsonValue };
  /** By pointer into the line. */
  readonly origins: ReadonlyMap<string, readonly number[]>;
  readonly problems: readonly RowProblem[];
};

export function mapRow(row: Row, mapping: Mapping, columns: Columns): MappedRow {
  const origins = new Map<string, number[]>();
  const problems: RowProblem[] = [];
  const indexOf = (name: string) => columns.get(name) ?? -1;
  const isEmpty = (name: string) => !row.cells.has(indexOf(name));
  const members = (filled(mapping.template.root, []) ?? {}) as { [name: string]: JsonValue; body: JsonValue };
  const parts = mapping.key.map((name) => row.cells.get(indexOf(name))?.text ?? '');
  const reference = parts.join(' / ');
  if (parts.every((part) => part === ''))
    problems.push({
      columns: mapping.key.map(indexOf),
      detail: 'is empty, and nothing else tells this row from others',
    });
  const line = { key: keyOf(mapping, parts), kind: mapping.kind, ...members };
  return { row: row.number, reference, line, origins, problems };

  /** Undefined: nothing is said at this place. */
  function filled(node: Node, path: readonly (string | number)[]): JsonValue | undefined {
    origins.set(pointerOf(path), columnsIn(node).map(indexOf));
    if (node.type === 'constant') return node.value;
    if (node.type === 'source') {
      const read = readCell(row.cells.get(indexOf(node.source.column)), node.source, mapping);
      if (read === null) return undefined;
      if ('value' in read) return read.value;
      problems.push({ columns: [indexOf(node.source.column)], detail: read.problem });
      return undefined;
    }
    if (node.type === 'list') {
      const items: JsonValue[] = [];
      for (const item of node.items) {
        const value = filled(item, [...path, items.length]);
        if (value !== undefined) items.push(value);
      }
      return items;
    }
    if (node.ifColumns.length > 0 && node.ifColumns.every(isEmpty)) return undefined;
    const object: { [name: string]: JsonValue } = {};
    for (const [name, member] of node.members) {
      const value = filled(member, [...path, name]);
      if (value !== undefined) object[name] = value;
    }
    return object;
  }
}

/** The same for the same row of the same mapping, whenever and however often it is sent. */
function keyOf({ name, kind }: Mapping, parts: readonly string[]): string {
  return `import-${createHash('sha256')
    .update(JSON.stringify([name, kind, ...parts]))
    .digest('hex')
    .slice(0, 40)}`;
}

/** The columns that a place of the line comes from: those of the place itself or below it, else of what it lies in. */
export function columnsOf(pointer: string, origins: MappedRow['origins']): readonly number[] {
  for (let at = pointer; at !== ''; at = at.slice(0, at.lastIndexOf('/'))) {
    const columns = origins.get(at);
    if (columns !== undefined && (columns.length > 0 || at === pointer)) return [...new Set(columns)];
  }
  return [];
}
