/** The body of a mapping, made ready for rows: what is a column, what is said for all rows, what depends on a column. */
import type { JsonValue } from '../../core/json/parse-strict.ts';
import { pointerOf } from '../../core/json/pointer.ts';
import { Problem } from '../../errors.ts';
import { readAs } from '../../http/zod-validation.ts';
import { type Source, sourceSchema } from './source.ts';

export type Node =
  | { readonly type: 'constant'; readonly value: JsonValue }
  | { readonly type: 'source'; readonly source: Source }
  /** `ifColumns`: left out, as if it were not there, where all of these are empty. */
  | {
      readonly type: 'object';
      readonly ifColumns: readonly string[];
      readonly members: readonly (readonly [string, Node])[];
    }
  | { readonly type: 'list'; readonly items: readonly Node[] };

export type Template = {
  readonly root: Node;
  /** With the place in the mapping. */
  readonly sources: readonly { readonly source: Source; readonly pointer: string }[];
  /** Every header that is named. */
  readonly columns: readonly string[];
  /**
   * By a list and what an entry of it says for all rows, such as `/body/torques sense-adjuster-body`: the columns that
   * decide whether it is there, else those that it is made from.
   */
  readonly saidOf: ReadonlyMap<string, readonly string[]>;
};

type Problems = { pointer: string; detail: string }[];

export function compileTemplate(value: unknown, problems: Problems): Template {
  const sources: { source: Source; pointer: string }[] = [];
  const columns = new Set<string>();
  const saidOf = new Map<string, string[]>();
  const root = nodeOf(value as JsonValue, []);
  return { root, sources, columns: [...columns], saidOf };

  function nodeOf(given: JsonValue, path: (string | number)[]): Node {
    if (Array.isArray(given)) return { type: 'list', items: given.map((one, index) => entryOf(one, [...path, index])) };
    if (typeof given !== 'object' || given === null) return { type: 'constant', value: given };
    return Object.hasOwn(given, 'column') ? sourceOf(given, path) : objectOf(given, path);
  }

  function sourceOf(given: JsonValue, path: (string | number)[]): Node {
    const pointer = pointerOf(path);
    const read = readAs(sourceSchema, given, 'body');
    if (read instanceof Problem) {
      for (const error of read.errors ?? [])
        problems.push({ pointer: pointer + ('pointer' in error ? error.pointer : ''), detail: error.detail });
      return { type: 'constant', value: null };
    }
    sources.push({ source: read.value, pointer });
    columns.add(read.value.column);
    return { type: 'source', source: read.value };
  }

  function objectOf(given: { [name: string]: JsonValue }, path: (string | number)[]): Node {
    const { if: condition = [], ...members } = given;
    const ifColumns = [condition].flat();
    if (!ifColumns.every((one) => typeof one === 'string')) {
      problems.push({ pointer: `${pointerOf(path)}/if`, detail: 'must be the header of a column, or a list of some' });
    }
    for (const column of ifColumns.map(String)) columns.add(column);
    return {
      type: 'object',
      ifColumns: ifColumns.map(String),
      members: Object.entries(members).map(([name, member]) => [name, nodeOf(member, [...path, name])] as const),
    };
  }

  function entryOf(given: JsonValue, path: (string | number)[]): Node {
    const node = nodeOf(given, path);
    if (node.type !== 'object') return node;
    const own = node.ifColumns.length > 0 ? node.ifColumns : columnsIn(node);
    for (const [, member] of node.members) {
      if (member.type !== 'constant' || typeof member.value !== 'string') continue;
      const key = `${pointerOf(path.slice(0, -1))} ${member.value}`;
      saidOf.set(key, [...new Set([...(saidOf.get(key) ?? []), ...own])]);
    }
    return node;
  }
}

/** In the order of the mapping. */
export function columnsIn(node: Node): string[] {
  switch (node.type) {
    case 'constant':
      return [];
    case 'source':
      return [node.source.column];
    case 'object':
      return [...node.ifColumns, ...node.members.flatMap(([, member]) => columnsIn(member))];
    case 'list':
      return node.items.flatMap(columnsIn);
  }
}
