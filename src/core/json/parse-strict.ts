/**
 * JSON (RFC 8259) without the places where two readers may understand two things, because what is read here is
 * hashed, kept and answered for: each name once in an object, no NUL, no half of a surrogate pair, no number that a
 * double can't hold as written, not nested without end. (RFC 7493, I-JSON, asks for most of these.)
 */
import { pointerOf } from './pointer.ts';

export type JsonValue = null | boolean | number | string | JsonValue[] | { [name: string]: JsonValue };

export type Parsed = { value: JsonValue } | { problem: { pointer: string; detail: string } };

/** Objects and lists within one another. A record needs about eight; the parser's own stack is safe far beyond. */
export const mostNesting = 64;

/** Of a number, zeros included: none that a double can hold needs more, and comparing millions of them takes long. */
const mostDigits = 100;

/** The value, or the first problem with its place as a JSON pointer (RFC 6901). Throws only where `text` is no text. */
export function parseStrict(text: string): Parsed {
  const reader: Reader = { text, at: 0, path: [], depth: 0 };
  try {
    skipSpace(reader);
    if (reader.at === text.length) fail('there is no JSON here: send an object');
    const value = readValue(reader);
    skipSpace(reader);
    if (reader.at < text.length) fail(`the JSON ends before ${place(reader)}: remove what follows`);
    return { value };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return { problem: { pointer: pointerOf(reader.path), detail: error.message } };
  }
}

type Reader = { readonly text: string; at: number; readonly path: (string | number)[]; depth: number };

class Problem extends Error {}

const number = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
function readValue(reader: Reader): JsonValue {
  switch (reader.text[reader.at]) {
    case '{':
      return nested(reader, readObject);
    case '[':
      return nested(reader, readList);
    case '"':
      return readString(reader);
    default:
      return readNumberOrWord(reader);
  }
}

function nested(reader: Reader, read: (reader: Reader) => JsonValue): JsonValue {
  if (reader.depth === mostNesting) fail(`nested deeper than ${mostNesting} levels: make it flatter`);
  reader.depth += 1;
  reader.at += 1;
  const value = read(reader);
  reader.depth -= 1;
  return value;
}

function readObject(reader: Reader): JsonValue {
  const object: { [name: string]: JsonValue } = {};
  if (ends(reader, '}')) return object;
  do {
    skipSpace(reader);
    if (reader.text[reader.at] !== '"') unexpected(reader, 'a name in double quotes');
    const name = readString(reader);
    reader.path.push(name);
    if (name === '__proto__') fail('the name __proto__ is not accepted: choose another');
    if (Object.hasOwn(object, name)) fail(`the name ${JSON.stringify(name)} is given twice: keep one`);
    skipSpace(reader);
    if (reader.text[reader.at] !== ':') unexpected(reader, 'a colon');
    reader.at += 1;
    skipSpace(reader);
    object[name] = readValue(reader);
    reader.path.pop();
  } while (continues(reader, '}'));
  return object;
}

function readList(reader: Reader): JsonValue {
  const list: JsonValue[] = [];
  if (ends(reader, ']')) return list;
  do {
    skipSpace(reader);
    reader.path.push(list.length);
    list.push(readValue(reader));
    reader.path.pop();
  } while (continues(reader, ']'));
  return list;
}

function readString(reader: Reader): string {
  const { text, at: start } = reader;
  let end = start + 1;
  for (; text[end] !== '"'; end += text[end] === '\\' ? 2 : 1) {
    if (end >= text.length) fail('a text has no closing double quote');
    if (text.charCodeAt(end) < 0x20) {
      reader.at = end;
      fail(`a control character at ${place(reader)}: write it as an escape such as \\n`);
    }
  }
  const value = textOf(text.slice(start, end + 1));
  if (value.includes('\0')) fail('a text contains a NUL character: remove it');
  if (!value.isWellFormed()) fail('a text contains half of a surrogate pair: send whole characters');
  reader.at = end + 1;
  return value;
}

function textOf(quoted: string): string {
  if (!quoted.includes('\\')) return quoted.slice(1, -1);
  try {
    return JSON.parse(quoted);
  } catch {
    return fail('a text contains a backslash that begins no escape: write \\\\ for a backslash');
  }
}

function readNumberOrWord(reader: Reader): JsonValue {
  const { text, at } = reader;
  if (text.startsWith('true', at)) return take(reader, 4, true);
  if (text.startsWith('false', at)) return take(reader, 5, false);
  if (text.startsWith('null', at)) return take(reader, 4, null);
  number.lastIndex = at;
  const source = number.exec(text)?.[0] ?? unexpected(reader, 'a value');
  const value = Number(source);
  // Any decimal of 15 digits survives a double, so only long or scaled ones need the closer look.
  if ((source.length > 15 || /e/i.test(source)) && isChanged(source, value)) {
    fail(`${source.slice(0, 40)} would lose digits as a number: send it as text, in double quotes`);
  }
  return take(reader, source.length, value);
}

function isChanged(source: string, value: number): boolean {
  return source.length > mostDigits || magnitudeOf(source) !== magnitudeOf(String(value));
}

/** The digits without zeros at either end and the power of ten, so that 4.50, 45e-1 and 4.5 read the same. */
function magnitudeOf(source: string): string {
  const [mantissa = '', exponent = '0'] = source.replace('-', '').toLowerCase().split('e');
  const [whole = '', part = ''] = mantissa.split('.');
  const digits = (whole + part).replace(/^0+/, '');
  const trimmed = digits.replace(/0+$/, '');
  return trimmed === '' ? '0' : `${trimmed}e${Number(exponent) - part.length + digits.length - trimmed.length}`;
}

function take<Value>(reader: Reader, length: number, value: Value): Value {
  reader.at += length;
  return value;
}

/** Whether an object or list is empty; its end is then read. */
function ends(reader: Reader, close: string): boolean {
  skipSpace(reader);
  return reader.text[reader.at] === close && take(reader, 1, true);
}

/** Whether a comma follows, and with it another member; else the end must. */
function continues(reader: Reader, close: string): boolean {
  skipSpace(reader);
  const next = reader.text[reader.at];
  if (next !== ',' && next !== close) unexpected(reader, `a comma or ${close}`);
  return take(reader, 1, next === ',');
}

function skipSpace(reader: Reader): void {
  while (' \n\r\t'.includes(reader.text[reader.at] ?? '?')) reader.at += 1;
}

function unexpected(reader: Reader, wanted: string): never {
  const next = reader.text.codePointAt(reader.at);
  const found = next === undefined ? 'the text ends' : `${JSON.stringify(String.fromCodePoint(next))} stands`;
  fail(`${found} at ${place(reader)} where ${wanted} is needed`);
}

function place({ text, at }: Reader): string {
  const lines = text.slice(0, at).split('\n').length;
  return `line ${lines}, column ${at - text.lastIndexOf('\n', at - 1)}`;
}

function fail(detail: string): never {
  throw new Problem(detail);
}
