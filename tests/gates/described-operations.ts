/** The operations of schema/openapi.json as a gate draws requests from them. */
import { readFileSync } from 'node:fs';

/** JSON Schema 2020-12, as far as the description uses it. */
export type Schema = {
  readonly $ref?: string;
  readonly allOf?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly pattern?: string;
  readonly format?: string;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | Schema;
  readonly propertyNames?: Schema;
};

export type Parameter = {
  readonly in: 'path' | 'query' | 'header';
  readonly name: string;
  readonly required?: boolean;
  readonly schema: Schema;
};
export type DescribedOperation = {
  readonly method: 'GET' | 'PUT' | 'POST';
  readonly path: string;
  readonly id: string;
  readonly parameters: readonly Parameter[];
  readonly body: { readonly mediaTypes: readonly string[]; readonly schema: Schema; readonly example: unknown } | null;
};

type Media = {
  readonly schema: Schema;
  readonly example?: unknown;
  readonly examples?: Record<string, { value: unknown }>;
};
type Described = {
  readonly operationId: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly content: Readonly<Record<string, Media>> };
};
export type Description = {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Described>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
};

export const description = JSON.parse(
  readFileSync(new URL('../../schema/openapi.json', import.meta.url), 'utf8'),
) as Description;

export function operationsOf({ paths }: Description): DescribedOperation[] {
  return Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, { operationId, parameters = [], requestBody }]) => ({
      method: method.toUpperCase() as DescribedOperation['method'],
      path,
      id: operationId,
      parameters,
      body: requestBody === undefined ? null : bodyOf(requestBody.content),
    })),
  );
}

function bodyOf(content: Readonly<Record<string, Media>>): DescribedOperation['body'] {
  const mediaTypes = Object.keys(content);
  const [media] = Object.values(content);
  if (media === undefined) return null;
  return { mediaTypes, schema: media.schema, example: media.example ?? Object.values(media.examples ?? {})[0]?.value };
}

/** The schemas that a value may meet: references followed, a lone `allOf` opened, `anyOf` and `oneOf` side by side. */
export function formsOf(schema: Schema, { components }: Description = description): readonly Schema[] {
  if (schema.$ref !== undefined) {
    const named = components.schemas[schema.$ref.split('/').at(-1) ?? ''];
    if (named === undefined) throw new Error(`${schema.$ref} is not described`);
    return formsOf(named, { components, paths: {} });
  }
  const { allOf, anyOf, oneOf } = schema;
  if (allOf !== undefined) return allOf.flatMap((one) => formsOf(one, { components, paths: {} }));
  const several = anyOf ?? oneOf;
  if (several === undefined) return [schema];
  return several.flatMap((one) => formsOf(one, { components, paths: {} }));
}
