/** Requests to an operation, good and bad, drawn from its description. */
import { randomBytes } from 'node:crypto';
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import {
  type DescribedOperation,
  type Description,
  formsOf,
  type Parameter,
  type Schema,
} from '../described-operations.ts';
import type { Random } from '../random.ts';
import { type Drawing, drawValue } from './draw-value.ts';
import { spoilBytes } from './spoil-bytes.ts';
import { oddTexts, spoilValue } from './spoil-value.ts';

export type Case = {
  readonly operation: string;
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly payload: Buffer | undefined;
  /** The body as a value, where it is one: places of errors are looked up in it. */
  readonly body: unknown;
  readonly how: string;
  /** The description forbids it; where false, it may be taken or not. */
  readonly isForbidden: boolean;
  readonly isLines: boolean;
};

export type Cases = { readonly operation: DescribedOperation; readonly draw: (random: Random) => Case };

type Draft = {
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

export class CaseMaker {
  readonly #operation: DescribedOperation;
  readonly #described: Description;
  readonly #drawing: Omit<Drawing, 'random'>;
  readonly #values: (name: string, random: Random) => string;
  readonly #isValid: ValidateFunction | null;
  readonly #lines: ReadonlyMap<string, Schema>;

  /** `values` gives what is known here for a parameter of path or query. */
  constructor(
    operation: DescribedOperation,
    drawing: Omit<Drawing, 'random'>,
    values: (name: string, random: Random) => string,
    lines: ReadonlyMap<string, Schema>,
  ) {
    this.#operation = operation;
    this.#described = drawing.described;
    this.#drawing = drawing;
    this.#values = values;
    this.#lines = lines;
    this.#isValid = this.#takesJson() ? validator(operation.body?.schema ?? {}, drawing.described) : null;
  }

  draw(random: Random, nth: number): Case {
    const draft = this.#good(random, nth);
    const spoil = random.of(this.#spoils());
    if (!random.oneIn(12)) spoil(draft, random);
    const { path } = this.#operation;
    const filled = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => draft.path[name] ?? '');
    const query = draft.query.map(([name, value]) => `${name}=${value}`).join('&');
    return {
      operation: `${this.#operation.method} ${path}`,
      ...{ method: draft.method, url: draft.url ?? (query === '' ? filled : `${filled}?${query}`) },
      ...{
        headers: draft.headers,
        payload: draft.payload,
        body: draft.body,
        how: draft.how,
        isForbidden: draft.isForbidden,
      },
      isLines: this.#takesLines(),
    };
  }

  #takesJson(): boolean {
    return this.#operation.body?.mediaTypes[0] === 'application/json';
  }

  #takesLines(): boolean {
    return this.#operation.body?.mediaTypes[0] === 'application/x-ndjson';
  }

  #good(random: Random, nth: number): Draft {
    const { method, parameters, body } = this.#operation;
    const of = (place: Parameter['in']) => parameters.filter((one) => one.in === place);
    const draft: Draft = {
      path: Object.fromEntries(of('path').map(({ name }) => [name, encodeURIComponent(this.#values(name, random))])),
      query: of('query')
        .filter((one) => one.required === true || random.oneIn(6))
        .map((one) => [one.name, encodeURIComponent(this.#queryValue(one, random))]),
      headers: { ...(method === 'POST' && { 'idempotency-key': `case-${nth}` }) },
      ...{ method, url: null, payload: undefined, body: undefined, how: 'as described', isForbidden: false },
    };
    if (body === null) return draft;
    draft.headers['content-type'] = random.of(body.mediaTypes);
    if (this.#takesJson()) this.#setBody(draft, this.#goodBody(random));
    else if (this.#takesLines()) this.#setLine(draft, random, nth, false);
    else draft.payload = fileOf(draft.headers['content-type'], random);
    return draft;
  }

  #goodBody(random: Random): unknown {
    const { body } = this.#operation;
    if (body?.example !== undefined && random.oneIn(3)) return body.example;
    return drawValue(body?.schema ?? {}, { ...this.#drawing, random });
  }

  #queryValue({ name, schema }: Parameter, random: Random): string {
    const known = this.#values(name, random);
    return known !== 'none' && random.oneIn(2) ? known : String(drawValue(schema, { ...this.#drawing, random }, name));
  }

  #setBody(draft: Draft, body: unknown): void {
    const json = JSON.stringify(body);
    draft.body = body;
    draft.payload = Buffer.from(json);
    // Beside what a schema can say: names and texts that may not be kept.
    const mayNotBeKept = /\\u0000|\\ud[89a-f]/.test(json);
    if (mayNotBeKept || (this.#isValid?.(body) === false && !this.#isValid(trimmed(body)))) draft.isForbidden = true;
  }

  #setLine(draft: Draft, random: Random, nth: number, isBad: boolean): void {
    const kind = random.of([...this.#lines.keys()]);
    const schema = this.#lines.get(kind) ?? {};
    const good = drawValue(schema, { ...this.#drawing, random });
    const address = {
      ...(['shop', 'technician', 'instrument'].includes(kind) && { id: 'own-1' }),
      ...(['lot', 'intake'].includes(kind) && { lot: { maker: 'ardenholm', number: 'L-1' } }),
      ...(kind === 'pump-registration' && { pump: { maker: 'ardenholm', serial: 'P-1' } }),
      ...(kind === 'control-registration' && { control: { maker: 'ardenholm', serial: 'K-1' } }),
      ...(['correction', 'disposition'].includes(kind) && { record: this.#values('id', random) }),
    };
    const line = (body: unknown) => JSON.stringify({ key: `line-${nth}`, kind, ...address, body });
    if (!isBad) {
      draft.payload = Buffer.from(`${line(good)}\n`);
      return;
    }
    if (random.oneIn(3)) {
      const { bytes, how } = spoilBytes(line({ note: 'x' }), random);
      // A line that is empty, or cut in two by its own break, is not the line that is meant.
      const isOne = bytes.length > 4 && !bytes.includes(0x0a);
      draft.payload = isOne ? Buffer.concat([bytes, Buffer.from('\n')]) : Buffer.from('{\n');
      draft.how = `a line: ${isOne ? how : 'cut off'}`;
      draft.isForbidden = true;
      return;
    }
    const { value, how } = spoilValue(good, schema, random, this.#described);
    const text = line(value);
    draft.payload = Buffer.from(`${text}\n`);
    draft.how = `a line of kind ${kind}: ${how}`;
    const isValid = validator(schema, this.#described);
    draft.isForbidden = /\\u0000|\\ud[89a-f]/.test(text) || !(isValid(value) || isValid(trimmed(value)));
  }

  #spoils(): readonly ((draft: Draft, random: Random) => void)[] {
    const { parameters, body } = this.#operation;
    const has = (place: Parameter['in']) => parameters.some((one) => one.in === place);
    const ofBody = [
      this.#spoilBody,
      this.#spoilBody,
      this.#spoilBody,
      this.#spoilBody,
      this.#spoilText,
      this.#spoilType,
    ];
    return [
      ...(body === null ? [] : this.#takesJson() ? ofBody : [this.#spoilOther, this.#spoilOther, this.#spoilType]),
      ...(has('query') ? [this.#spoilQuery, this.#spoilQuery] : []),
      ...(has('path') ? [this.#spoilPath] : []),
      ...(has('header') ? [this.#spoilKey] : []),
      ...[this.#addQuery, this.#spoilUrl, this.#spoilHeaders, this.#spoilMethod],
    ].map((spoil) => spoil.bind(this));
  }

  #spoilBody(draft: Draft, random: Random): void {
    const { value, how } = spoilValue(draft.body, this.#operation.body?.schema ?? {}, random, this.#described);
    draft.how = `the body has ${how}`;
    draft.isForbidden = false;
    this.#setBody(draft, value);
  }

  #spoilText(draft: Draft, random: Random): void {
    const isEmpty = typeof draft.body !== 'object' || draft.body === null || Object.keys(draft.body).length === 0;
    const { bytes, how } = spoilBytes(isEmpty ? '{"note":"x"}' : JSON.stringify(draft.body), random);
    Object.assign(draft, { payload: bytes, body: undefined, how: `the body is ${how}`, isForbidden: true });
  }

  #spoilOther(draft: Draft, random: Random): void {
    if (this.#takesLines()) this.#setLine(draft, random, random.below(1_000_000_000), true);
    else {
      const said = draft.headers['content-type'] ?? '';
      const others = ['image/jpeg', 'image/png', 'application/pdf'].filter((one) => one !== said);
      draft.payload = random.of([
        Buffer.alloc(0),
        Buffer.from('plain text'),
        randomBytes(64),
        fileOf(random.of(others), random),
      ]);
      draft.how = 'a file that is not what is said';
      draft.isForbidden = true;
    }
  }

  #spoilType(draft: Draft, random: Random): void {
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
    draft.isForbidden = name === 'content-type' || this.#takesJson() || this.#takesLines();
  }

  /** A parameter of the query as its schema forbids it, or twice, or an odd cursor. */
  #spoilQuery(draft: Draft, random: Random): void {
    const parameter = random.of(this.#operation.parameters.filter((one) => one.in === 'query'));
    const forms = formsOf(parameter.schema, this.#described);
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

  #addQuery(draft: Draft, random: Random): void {
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
    const isKnown = this.#operation.parameters.some((one) => one.in === 'query' && one.name === name);
    draft.query.push([name, value]);
    draft.how = `the query has ${name}=${value} more`;
    draft.isForbidden = name !== '' && (!isKnown || value !== '1') && this.#operation.path.startsWith('/v1/');
  }

  #spoilPath(draft: Draft, random: Random): void {
    const { name, schema } = random.of(this.#operation.parameters.filter((one) => one.in === 'path'));
    const forms = formsOf(schema, this.#described);
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
  #spoilUrl(draft: Draft, random: Random): void {
    const filled = this.#operation.path.replaceAll(/\{(\w+)\}/g, (_, name: string) => draft.path[name] ?? '');
    const [url, how] = random.of([
      [`${filled}/`, 'a slash at the end'],
      [`/${filled}`, 'two slashes at the beginning'],
      [filled.replace(/\/(\w)/, (_, letter: string) => `/${letter.toUpperCase()}`), 'another case'],
      [`${filled}/more`, 'more at the end'],
      [`${filled};x=1`, 'a parameter of the segment'],
      [`${filled}%`, 'half an escape'],
    ] as const);
    // What comes after the last name of a path is part of it.
    const isPartOfName = this.#operation.path.endsWith('}') && how === 'a parameter of the segment';
    Object.assign(draft, { url, how, isForbidden: !isPartOfName });
  }

  #spoilHeaders(draft: Draft, random: Random): void {
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
    draft.isForbidden = isForbidden && this.#operation.path.startsWith('/v1/');
  }

  #spoilKey(draft: Draft, random: Random): void {
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

  #spoilMethod(draft: Draft, random: Random): void {
    draft.method = random.of(
      ['DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'PUT', 'POST', 'GET'].filter((one) => one !== draft.method),
    );
    draft.how = `the method is ${draft.method}`;
    // The same path may take it.
    const others = Object.keys(this.#described.paths[this.#operation.path] ?? {});
    draft.isForbidden = !others.includes(draft.method.toLowerCase());
  }
}

/** Space around a text is taken off before the text is measured. */
function trimmed(value: unknown): unknown {
  if (typeof value === 'string') return value.trim();
  if (Array.isArray(value)) return value.map(trimmed);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([member, one]) => [member, trimmed(one)]));
}

const validators = new Map<string, ValidateFunction>();
const ajv = new Ajv2020({ strict: false, validateFormats: false, allErrors: false });

/** JSON Schema 2020-12 by a validator that is not ours. Formats are not looked at. */
function validator(schema: Schema, { components }: Description): ValidateFunction {
  const key = JSON.stringify(schema);
  const known = validators.get(key) ?? ajv.compile({ ...schema, components: { schemas: components.schemas } });
  validators.set(key, known);
  return known;
}

function fileOf(type: string, random: Random): Buffer {
  const salt = String(random.below(1_000_000));
  if (type === 'image/png') return Buffer.concat([Buffer.from('89504e470d0a1a0a', 'hex'), Buffer.from(salt)]);
  if (type === 'image/jpeg') return Buffer.concat([Buffer.from('ffd8ffe000104a4649460001', 'hex'), Buffer.from(salt)]);
  return Buffer.from(`%PDF-1.4\n${salt}\n%%EOF\n`);
}
