/**
 * Canonical JSON (RFC 8785): one text for one value, so that a hash over it can be repeated years later by anyone.
 * Names in the order of their UTF-16 units, no white space, numbers as the shortest decimal that reads back, −0 as 0,
 * no Unicode normalisation.
 */
import { pointerOf } from '../json/pointer.ts';

/** More than any parsed body has; a value that contains itself ends here. */
const mostNesting = 100;

/**
 * Throws a TypeError that names the place for whatever has no JSON of its own and would be dropped or changed on the
 * way: undefined (a hole in a list too), NaN, infinity, bigint, symbols, functions, half a surrogate pair, dates and
 * other instances of classes, a value that contains itself.
 */
export function canonical(value: unknown): string {
  return write(value, []);
}

function write(value: unknown, path: PropertyKey[]): string {
  switch (typeof value) {
    case 'string':
      return quote(value, path);
    case 'boolean':
      return String(value);
    case 'number':
      if (!Number.isFinite(value)) refuse(String(value), path);
      // RFC 8785 3.2.2.3 takes over ECMAScript's text of a number, −0 → 0 included.
      return String(value);
    case 'object':
      return value === null ? 'null' : writeNested(value, path);
    default:
      return refuse(typeof value, path);
  }
}

function writeNested(value: object, path: PropertyKey[]): string {
  if (path.length === mostNesting) refuse('a value nested so deep', path.slice(0, 5));
  if (Array.isArray(value)) return writeList(value, path);
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) refuse('an instance of a class', path);
  return writeMembers(value as Readonly<Record<string, unknown>>, path);
}

function writeList(items: readonly unknown[], path: PropertyKey[]): string {
  let text = '';
  // By place: a hole in a list would be passed over otherwise.
  for (let index = 0; index < items.length; index++) {
    path.push(index);
    text += `${index === 0 ? '[' : ','}${write(items[index], path)}`;
    path.pop();
  }
  return text === '' ? '[]' : `${text}]`;
}

function writeMembers(members: Readonly<Record<string, unknown>>, path: PropertyKey[]): string {
  let text = '';
  // The default order of sort() is that of UTF-16 units, as RFC 8785 3.2.3 asks.
  for (const name of Object.keys(members).sort()) {
    text += `${text === '' ? '{' : ','}${quote(name, path)}:`;
    path.push(name);
    text += write(members[name], path);
    path.pop();
  }
  return text === '' ? '{}' : `${text}}`;
}

/** Printable ASCII without quote and backslash stands for itself. */
const plain = /^[ !#-[\]-~]*$/;

function quote(text: string, path: readonly PropertyKey[]): string {
  if (plain.test(text)) return `"${text}"`;
  if (!text.isWellFormed()) refuse('half of a surrogate pair', path);
  return JSON.stringify(text);
}

function refuse(what: string, path: readonly PropertyKey[]): never {
  throw new TypeError(`${what} at "${pointerOf(path)}" has no canonical JSON`);
}
