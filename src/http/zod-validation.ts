/** Validation by zod whose errors name the place: a JSON pointer into the body, a parameter, a header. */
import type { FastifySchemaCompiler } from 'fastify';
import type { z } from 'zod';
import { pointerOf } from '../core/json/pointer.ts';
import { type InputError, Problem } from '../errors.ts';

/** Fastify's validator compiler for routes whose schemas are zod's. Answers `invalid-input` with every wrong place. */
export const zodValidator: FastifySchemaCompiler<z.ZodType> = ({ schema, httpPart }) => {
  return (data) => {
    // Fastify hands on null where no body came; the schema should see that nothing is there.
    const read = readAs(schema, data ?? undefined, httpPart);
    return read instanceof Problem ? { error: read } : read;
  };
};

/** The value as the schema gives it, or the problem with every wrong place. */
export function readAs<Value>(
  schema: z.ZodType<Value>,
  data: unknown,
  httpPart: string | undefined,
): { readonly value: Value } | Problem {
  const parsed = schema.safeParse(data, { error: explain });
  if (parsed.success) return { value: parsed.data };
  const errors = parsed.error.issues.flatMap((issue) => places(issue)).map((place) => toInputError(place, httpPart));
  return new Problem('invalid-input', summary(errors), { errors });
}

type Place = { path: readonly PropertyKey[]; detail: string };

function toInputError({ path, detail }: Place, httpPart: string | undefined): InputError {
  if (httpPart === 'body') return { pointer: pointerOf(path), detail };
  const name = path.map(String).join('.');
  return httpPart === 'headers' ? { header: name, detail } : { parameter: name, detail };
}

function summary(errors: readonly InputError[]): string {
  return errors.length === 1
    ? 'One place of the request is wrong; see errors.'
    : `${errors.length} places of the request are wrong; see errors.`;
}

/** One entry per place: unknown fields one by one, and of a union the form that came nearest. */
function places(issue: z.core.$ZodIssue, base: readonly PropertyKey[] = []): Place[] {
  const path = [...base, ...issue.path];
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({ path: [...path, key], detail: 'is not known here' }));
  }
  if (issue.code === 'invalid_union') {
    const nearest = nearestForm(issue.errors);
    if (nearest !== null) return nearest.flatMap((inner) => places(inner, path));
  }
  return [{ path, detail: issue.message }];
}

/** The form whose complaints all lie inside the value, fewest first: the others don't even have its type. */
function nearestForm(forms: readonly (readonly z.core.$ZodIssue[])[]): readonly z.core.$ZodIssue[] | null {
  const inside = forms.filter((issues) =>
    issues.every((issue) => issue.path.length > 0 || issue.code === 'unrecognized_keys'),
  );
  const sorted = inside.toSorted((a, b) => weight(a) - weight(b));
  return sorted[0] ?? null;
}

function weight(issues: readonly z.core.$ZodIssue[]): number {
  return issues.reduce((sum, issue) => sum + (issue.code === 'unrecognized_keys' ? issue.keys.length : 1), 0);
}

/** Words for what zod found. A message that a schema states itself comes before these. */
function explain(issue: z.core.$ZodRawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      return typeDetail(issue.expected, issue.input);
    case 'invalid_value':
      return `must be ${issue.values.map((value) => JSON.stringify(value)).join(' or ')}`;
    case 'too_small':
      return isCounted(issue.origin)
        ? `must have at least ${counted(Number(issue.minimum), issue.origin)}`
        : `must be ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`;
    case 'too_big':
      return isCounted(issue.origin)
        ? `must have at most ${counted(Number(issue.maximum), issue.origin)}`
        : `must be ${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}`;
    case 'invalid_format':
      return issue.format === 'regex' ? 'is not written as expected' : `is not a valid ${issue.format}`;
    case 'invalid_union':
      return issue.input === undefined ? 'is required' : 'has none of the forms that are allowed here';
    default:
      return undefined;
  }
}

function typeDetail(expected: string, input: unknown): string {
  if (input === undefined) return `is required: ${typeName(expected)}`;
  if (expected === 'int' && typeof input === 'number') return 'must be a whole number';
  return `must be ${typeName(expected)}, not ${typeOf(input)}`;
}

const typeNames: Readonly<Record<string, string>> = {
  string: 'text',
  object: 'an object',
  record: 'an object',
  array: 'a list',
  boolean: 'true or false',
  number: 'a number',
  int: 'a whole number',
  null: 'null',
};

function typeName(expected: string): string {
  return typeNames[expected] ?? expected;
}

function typeOf(input: unknown): string {
  if (input === null) return 'null';
  return typeName(Array.isArray(input) ? 'array' : typeof input);
}

function isCounted(origin: string): boolean {
  return origin === 'string' || origin === 'array';
}

function counted(count: number, origin: string): string {
  if (origin === 'string') return `${count} character${count === 1 ? '' : 's'}`;
  return `${count} ${count === 1 ? 'entry' : 'entries'}`;
}
