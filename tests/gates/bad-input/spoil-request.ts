/** What is around a body, changed: its type, the query, the path, the headers, the method. */
import { type DescribedOperation, type Description, formsOf } from '../described-operations.ts';
import type { Random } from '../random.ts';
import { oddTexts } from './spoil-value.ts';

/** A request that is being made. */
export type Draft = {
  path: Record<string, string>;
  query: [string, string][];
  headers: Record<string, string>;
  method: string;
  url: string | null;
  payload: Buffer | undefined;
  body: unknown;
  how: string;
  isForbidden: boolean;
};

export type Asked = { readonly operation: DescribedOperation; readonly described: Description };

export function takes({ body }: DescribedOperation, type: string): boolean {
  return body?.mediaTypes[0] === type;
}

export function spoilType(draft: Draft, random: Random, { operation }: Asked): void {
  const odd: readonly (readonly [string, string])[] = [
    ...[
      'text/plain',
      'application/xml',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
      'application/jsonx',
      'application/json;charset=latin1',
      'application/json; charset=utf-16',
      'json',
      '*/*',
      'application/json, text/plain',
      ';',
      'a/b/c',
      'application/vnd.api+json',
      '\u00e4/x',
    ].map((type) => ['content-type', type] as const),
    ...['gzip', 'br', 'deflate', 'x', 'identity, gzip'].map((coding) => ['content-encoding', coding] as const),
  ];
  const [name, value] = random.of(odd);
  draft.headers[name] = value;
  draft.how = `${name}: ${value}`;
  draft.isForbidden =
    name === 'content-type' || takes(operation, 'application/json') || takes(operation, 'application/x-ndjson');
}

/** A parameter of the query as its schema forbids it, or twice, or an odd cursor. */
export function spoilQuery(draft: Draft, random: Random, { operation, described }: Asked): void {
  const parameter = random.of(operation.parameters.filter((one) => one.in === 'query'));
  const forms = formsOf(parameter.schema, described);
  const isListToo = forms.some((form) => form.type === 'array');
  const rest = draft.query.filter(([name]) => name !== parameter.name);
  const [value, isForbidden] = random.of<() => readonly [string, boolean]>([
    () => [random.of(oddTexts), false],
    () => [
      'x'.repeat(5_000),
      forms.every(
        (form) =>
          form.maxLength !== undefined ||
          form.pattern !== undefined ||
          form.enum !== undefined ||
          form.type !== 'string',
      ),
    ],
    () => [
      '-1',
      forms.every((form) => form.type === 'integer' || form.enum !== undefined || form.format === 'date-time'),
    ],
    () => [
      '1e999',
      forms.every((form) => form.type === 'integer' || form.enum !== undefined || form.format === 'date-time'),
    ],
    () => [
      'no such thing',
      forms.every(
        (form) =>
          form.enum !== undefined ||
          form.pattern !== undefined ||
          form.type === 'integer' ||
          form.format === 'date-time',
      ),
    ],
    () => ['2026-02-30T00:00:00Z', forms.every((form) => form.format === 'date-time')],
    () => [Buffer.from(JSON.stringify({ after: 1 })).toString('base64url'), parameter.name === 'after'],
    () => ['01a21365-9446-717e-87fc-bf504e2449a3', parameter.name === 'after'],
  ])();
  // In well-formed UTF-8: half a surrogate pair can't be in a URL.
  const text = encodeURIComponent(value.toWellFormed());
  const isTwice = !isListToo && random.oneIn(5);
  draft.query = [...rest, [parameter.name, text], ...(isTwice ? [[parameter.name, text] as [string, string]] : [])];
  draft.how = `${parameter.name}=${value.slice(0, 40)}${isTwice ? ', twice' : ''}`;
  draft.isForbidden = isForbidden || isTwice;
}

export function addQuery(draft: Draft, random: Random, { operation }: Asked): void {
  const [name, value] = random.of([
    ['unexpected', '1'],
    ['check', 'all'],
    ['first', '0'],
    ['__proto__', 'x'],
    ['', ''],
    ['owner', 'tollan'],
    ['constructor', '1'],
    ['a%5Bb%5D', '1'],
    ['%00', '1'],
    ['check%20', 'only'],
    ['first', '%F0%9F%98%80'],
  ] as const);
  const isKnown = operation.parameters.some((one) => one.in === 'query' && one.name === name);
  draft.query.push([name, value]);
  draft.how = `the query has ${name}=${value} more`;
  draft.isForbidden = name !== '' && (!isKnown || value !== '1') && operation.path.startsWith('/v1/');
}

export function spoilPath(draft: Draft, random: Random, { operation, described }: Asked): void {
  const { name, schema } = random.of(operation.parameters.filter((one) => one.in === 'path'));
  const forms = formsOf(schema, described);
  const hasPattern = forms.every((form) => form.pattern !== undefined || form.enum !== undefined);
  const [value, isForbidden] = random.of<() => readonly [string, boolean]>([
    () => [encodeURIComponent(random.of(oddTexts).toWellFormed()).slice(0, 190), false],
    () => ['x'.repeat(65), hasPattern || forms.every((form) => form.maxLength !== undefined && form.maxLength < 65)],
    () => ['x'.repeat(2_000), true],
    () => ['%', true],
    () => ['%ff', true],
    () => ['%c3%28', true],
    () => ['%00', true],
    () => ['a%00b', true],
    () => ['%2e%2e%2f%2e%2e', hasPattern],
    () => ['a%2Fb', hasPattern],
    () => ['a b'.replace(' ', '%20'), hasPattern],
    () => ['nothing-known-here', false],
    () => ['%F0%9F%98%80', hasPattern],
    () => ['__proto__', hasPattern],
  ])();
  draft.path[name] = value;
  draft.how = `${name} in the path is ${value.slice(0, 40)}`;
  // Where it does not belong to the body's place, PUT of a new name is no fault.
  draft.isForbidden = isForbidden;
}

/** Paths that nobody serves. */
export function spoilUrl(draft: Draft, random: Random, { operation }: Asked): void {
  const filled = operation.path.replaceAll(/\{(\w+)\}/g, (_, name: string) => draft.path[name] ?? '');
  const [url, how] = random.of([
    [`${filled}/`, 'a slash at the end'],
    [`/${filled}`, 'two slashes at the beginning'],
    [filled.replace(/\/(\w)/, (_, letter: string) => `/${letter.toUpperCase()}`), 'another case'],
    [`${filled}/more`, 'more at the end'],
    [`${filled};x=1`, 'a parameter of the segment'],
    [`${filled}%`, 'half an escape'],
  ] as const);
  // What comes after the last name of a path is part of it.
  const isPartOfName = operation.path.endsWith('}') && how === 'a parameter of the segment';
  Object.assign(draft, { url, how, isForbidden: !isPartOfName });
}

export function spoilHeaders(draft: Draft, random: Random, { operation }: Asked): void {
  const odd: readonly (readonly [string, string, boolean])[] = [
    ['authorization', '', true],
    ['authorization', 'Bearer', true],
    ['authorization', 'Bearer a.b.c', true],
    ['authorization', 'Basic dXNlcjpwdw==', true],
    ['authorization', `Bearer ${'x'.repeat(9_000)}`, true],
    ['accept', 'text/html;q=x, */*;q=2', false],
    ['accept', 'text/html', false],
    ['accept', ','.repeat(2_000), false],
    ['accept-language', 'xx-YY;q=9, de;q=,', false],
    ['accept-language', 'de'.repeat(1_000), false],
    ['accept-encoding', 'gzip;q=1.5, br', false],
    ['if-none-match', '"x', false],
    ['range', 'bytes=0-1', false],
    ['expect', 'something', false],
    ['x-forwarded-for', '127.0.0.1, unknown, \u00e4', false],
    ['x-http-method-override', 'DELETE', false],
    ['cookie', 'a=b; c', false],
  ];
  const [name, value, isForbidden] = random.of(odd);
  draft.headers[name] = value;
  draft.how = `${name}: ${value.slice(0, 40)}`;
  draft.isForbidden = isForbidden && operation.path.startsWith('/v1/');
}

export function spoilKey(draft: Draft, random: Random): void {
  const key = random.of([
    undefined,
    '',
    ' ',
    'a b',
    '"a',
    '"a\\x"',
    'a"b"',
    '"a" "b"',
    'x'.repeat(256),
    `"${'x'.repeat(256)}"`,
    '\u00e4',
    '""',
    'a\tb',
  ]);
  if (key === undefined) delete draft.headers['idempotency-key'];
  else draft.headers['idempotency-key'] = key;
  draft.how = `the key is ${key?.slice(0, 20)}`;
  // Bare keys may hold a quote; and what is only judged needs none.
  draft.isForbidden = key !== 'a"b"' && !draft.query.some(([name]) => name === 'check');
}

export function spoilMethod(draft: Draft, random: Random, { operation, described }: Asked): void {
  draft.method = random.of(
    ['DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'PUT', 'POST', 'GET'].filter((one) => one !== draft.method),
  );
  draft.how = `the method is ${draft.method}`;
  // The same path may take it.
  const others = Object.keys(described.paths[operation.path] ?? {});
  draft.isForbidden = !others.includes(draft.method.toLowerCase());
}
