/** The description of the interface, as an integrator has it, and what in an answer it does not describe. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import type { Answer } from './over-http.ts';

type Media = { readonly schema: object; readonly example?: unknown };
type Body = { readonly content: Readonly<Record<string, Media>> };
export type Operation = {
  readonly operationId?: string;
  readonly requestBody?: Body;
  readonly responses: Readonly<Record<string, { readonly description: string } & Partial<Body>>>;
};
type Description = {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: {
    readonly schemas: Readonly<Record<string, object>>;
    readonly responses: Readonly<Record<string, Body>>;
  };
};

export const described = JSON.parse(
  readFileSync(new URL('../../schema/openapi.json', import.meta.url), 'utf8'),
) as Description;

/** Every operation under its name here, such as `get /v1/shops`. */
export const operations: ReadonlyMap<string, Operation> = new Map(
  Object.entries(described.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, one]): [string, Operation] => [`${method} ${path}`, one]),
  ),
);

export function exampleOf(operation: string): unknown {
  return operations.get(operation)?.requestBody?.content['application/json']?.example;
}

/** What one line of an upload or an answer has that the description doesn't say, or lacks that it does. */
export function undescribedLine(schemaOf: 'BulkLine' | 'LineOutcome' | 'Record', line: unknown): string[] {
  const check = compiled({ $ref: `#/components/schemas/${schemaOf}` });
  check(line);
  return (check.errors ?? []).map(
    ({ instancePath, message, params }) => `${instancePath} ${message} ${JSON.stringify(params)}`,
  );
}

/** What the answer's body has that the description doesn't say, or lacks that it does; a line each. */
export function undescribed(operation: string, { status, body }: Answer): string[] {
  const one = operations.get(operation);
  if (one === undefined) return [`${operation} is not described`];
  const schema =
    one.responses[status]?.content?.['application/json']?.schema ??
    one.responses[status]?.content?.['text/plain']?.schema ??
    (status >= 400 ? { $ref: '#/components/schemas/Problem' } : undefined);
  if (schema === undefined) return [`${operation}: ${status} is not described`];
  const check = compiled(schema);
  check(body);
  return (check.errors ?? []).map(
    ({ instancePath, message, params }) =>
      `${operation} ${status}: ${instancePath} ${message} ${JSON.stringify(params)}`,
  );
}

/** Formats are not looked at: where one counts, a pattern says it. */
const ajv = new Ajv2020({ strict: false, validateFormats: false, allErrors: true });
const checks = new Map<string, ReturnType<typeof ajv.compile>>();

function compiled(schema: object) {
  const key = JSON.stringify(schema);
  const check = checks.get(key) ?? ajv.compile({ ...schema, components: { schemas: described.components.schemas } });
  checks.set(key, check);
  return check;
}
