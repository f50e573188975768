/** JSON text changed where no schema looks: what comes of it is not strict JSON in UTF-8, and is to be refused. */
import type { Random } from '../random.ts';

export type SpoiltBytes = { readonly bytes: Buffer; readonly how: string };

/** `json` is an object's text. */
export function spoilBytes(json: string, random: Random): SpoiltBytes {
  const at = 1 + random.below(json.length - 1);
  const text = (how: string, changed: string): SpoiltBytes => ({ bytes: Buffer.from(changed), how });
  const bytes = (how: string, ...parts: (string | readonly number[])[]): SpoiltBytes => ({
    bytes: Buffer.concat(parts.map((part) => (typeof part === 'string' ? Buffer.from(part) : Buffer.from(part)))),
    how,
  });
  const member = `"unexpected": `;
  const inside = (value: string) => json.replace('{', `{${member}${value}${json === '{}' ? '' : ','}`);
  return random.of<() => SpoiltBytes>([
    () => text('cut off', json.slice(0, at)),
    () => text('empty', ''),
    () => text('only spaces', ' \n\t '),
    () => text('two documents', `${json}${json}`),
    () => text('more after the end', `${json}]`),
    () => text('a comma at the end', json.replace(/\}$/, ',}')),
    () => text('a member twice', inside('1').replace('{', `{${member}1,`)),
    () => text('a name twice, spelt otherwise', inside('1').replace('{', '{"\\u0075nexpected": 1,')),
    () => text('nested too deep', inside(`${'['.repeat(65)}${']'.repeat(65)}`)),
    () => text('nested a thousand deep', `${'{"a":'.repeat(1000)}1${'}'.repeat(1000)}`),
    () => text('nested without end', '['.repeat(100_000)),
    () => text('a number too large', inside('1e400')),
    () => text('a number too long', inside('9'.repeat(5_000))),
    () => text('a number with a leading zero', inside('01')),
    () => text('a hexadecimal number', inside('0x1')),
    () => text('no number', inside(random.of(['NaN', 'Infinity', '-', '.5', '1.', '+1', '1e']))),
    () => text('no word', inside(random.of(['undefined', 'True', 'nul', 'none']))),
    () => text('single quotes', json.replaceAll('"', "'")),
    () => text('a comment', `/* hello */${json}`),
    () => text('NUL in a text', inside('"a\\u0000b"')),
    () => text('NUL in a name', inside('1').replace('unexpected', 'un\\u0000expected')),
    () => text('half a surrogate pair', inside('"\\ud83d"')),
    () => text('the other half', inside('"x\\ude00"')),
    () => text('a control character', inside('"a\nb"')),
    () => text('a bad escape', inside('"\\x41"')),
    () => text('the name __proto__', inside('1').replace('unexpected', '__proto__')),
    () => bytes('a byte order mark', [0xef, 0xbb, 0xbf], json),
    () => bytes('UTF-16', Array.from(Buffer.from(json, 'utf16le'))),
    () => bytes('a byte that is no UTF-8', inside('"').slice(0, -1), [0xff], '"}'),
    () => bytes('an overlong form', json.slice(0, at), [0xc0, 0x80], json.slice(at)),
    () => bytes('a surrogate in UTF-8', json.slice(0, at), [0xed, 0xa0, 0x80], json.slice(at)),
    () => bytes('NUL as a byte', json.slice(0, at), [0], json.slice(at)),
    () => text('another type', random.of(['null', 'true', '1', '"text"', '[]', `[${json}]`])),
  ])();
}
