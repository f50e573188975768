/** Requests to an operation, good and bad, drawn from its description. */
import { randomBytes } from 'node:crypto';
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import type { DescribedOperation, Description, Parameter, Schema } from '../described-operations.ts';
import type { Random } from '../random.ts';
import { type Drawing, drawValue } from './draw-value.ts';
import { spoilBytes } from './spoil-bytes.ts';
import {
  addQuery,
  type Draft,
  spoilHeaders,
  spoilKey,
  spoilMethod,
  spoilPath,
  spoilQuery,
  spoilType,
  spoilUrl,
  takes,
} from './spoil-request.ts';
import { spoilValue } from './spoil-value.ts';

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

export class CaseMaker {
  readonly #operation: DescribedOperation;
  readonly #described: Description;
  readonly #drawing: Omit<Drawing, 'random'>;
  readonly #values: (name: string, random: Random, path?: string) => string;
  readonly #isValid: ValidateFunction | null;
  readonly #lines: ReadonlyMap<string, Schema>;

  /** `values` gives what is known here for a parameter of path or query; `path`: of which operation. */
  constructor(
    operation: DescribedOperation,
    drawing: Omit<Drawing, 'random'>,
    values: (name: string, random: Random, path?: string) => string,
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
    return takes(this.#operation, 'application/json');
  }

  #takesLines(): boolean {
    return takes(this.#operation, 'application/x-ndjson');
  }

  #good(random: Random, nth: number): Draft {
    const { method, path, parameters, body } = this.#operation;
    const of = (place: Parameter['in']) => parameters.filter((one) => one.in === place);
    const draft: Draft = {
      path: Object.fromEntries(
        of('path').map(({ name }) => [name, encodeURIComponent(this.#values(name, random, path))]),
      ),
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
      ...(['lot', 'intake', 'scrapping', 'return', 'count'].includes(kind) && {
        lot: { maker: 'ardenholm', number: 'L-1' },
      }),
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
    const asked = { operation: this.#operation, described: this.#described };
    const around = [
      ...(body === null ? [] : [spoilType]),
      ...(has('query') ? [spoilQuery, spoilQuery] : []),
      ...(has('path') ? [spoilPath] : []),
      ...(has('header') ? [spoilKey] : []),
      ...[addQuery, spoilUrl, spoilHeaders, spoilMethod],
    ].map((spoil) => (draft: Draft, random: Random) => spoil(draft, random, asked));
    const ofJson = [this.#spoilBody, this.#spoilBody, this.#spoilBody, this.#spoilBody, this.#spoilText];
    const inside = body === null ? [] : this.#takesJson() ? ofJson : [this.#spoilOther, this.#spoilOther];
    return [...inside.map((spoil) => spoil.bind(this)), ...around];
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
