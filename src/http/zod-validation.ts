/** Validation by zod whose errors name the place: a JSON pointer into the body, a parameter, a header. */
import type { FastifySchemaCompiler } from 'fastify';
import type { z } from 'zod';
import { pointerOf } from '../core/json/pointer.ts';
import { explain, type Place, placesOf } from '../core/json/schema-places.ts';
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
  const places = parsed.success ? [] : placesOf(parsed.error.issues);
  const errors = [...places, ...(httpPart === 'body' ? [] : withNul(data))].map((place) =>
    toInputError(place, httpPart),
  );
  if (parsed.success && errors.length === 0) return { value: parsed.data };
  return new Problem('invalid-input', summary(errors), { errors });
}

/** Texts of path and query that can't be kept or looked up. In bodies the strict reader sees to it. */
function withNul(data: unknown): Place[] {
  return Object.entries((data ?? {}) as object).flatMap(([name, value]) =>
    [value].flat().some((text) => String(text).includes('\0'))
      ? [{ path: [name], detail: 'may not hold NUL (%00)' }]
      : [],
  );
}

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
