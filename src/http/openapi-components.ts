/** Makes what the schema compiler gives readable: names without suffix, nothing unused, no description lost. */
import { isDeepStrictEqual } from 'node:util';

type Json = null | boolean | number | string | Json[] | { [name: string]: Json };
type JsonObject = { [name: string]: Json };
type Components = { readonly schemas?: object; readonly [kind: string]: unknown };

const prefix = '#/components/schemas/';

/**
 * The describer drops what stands beside a `$ref`, such as the description of a field whose shape is described
 * elsewhere; inside `allOf` the reference leaves its place to it.
 */
export function keepSiblings(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(keepSiblings);
  if (!isPlainObject(value)) return value;
  const members = Object.fromEntries(Object.entries(value).map(([name, member]) => [name, keepSiblings(member)]));
  const { $ref, ...beside } = members;
  return typeof $ref !== 'string' || Object.keys(beside).length === 0 ? members : { ...beside, allOf: [{ $ref }] };
}

/**
 * Every shape comes twice, as it is sent (`…Input`) and as it is answered. What is the same, or referred to in one of
 * the two alone, has its plain name; what nothing refers to goes. A response says what its component says.
 */
export function tidyComponents<T extends { components?: Components }>(document: T): T {
  const schemas = (document.components?.schemas ?? {}) as JsonObject;
  const used = usedIn({ ...document, components: { ...document.components, schemas: {} } } as unknown as Json, schemas);
  const plain = (name: string) => {
    const short = name.replace(/Input$/, '');
    return used.has(short) && !isDeepStrictEqual(schemas[short], schemas[name]) ? name : short;
  };
  const kept = Object.entries(schemas).filter(([name]) => used.has(name));
  const named = Object.fromEntries(
    kept.map(([name, schema]): [string, Json] => [plain(name), schema]).sort(([a], [b]) => (a < b ? -1 : 1)),
  );
  const whole = { ...document, components: { ...document.components, schemas: named } } as unknown as Json;
  return withDescriptions(renamed(whole, plain), named) as unknown as T;
}

/** Names that the document refers to, and those that these refer to. */
function usedIn(document: Json, schemas: JsonObject): ReadonlySet<string> {
  const used = new Set<string>();
  const open = refsIn(document);
  for (const name of open) {
    if (used.has(name)) continue;
    used.add(name);
    open.push(...refsIn(schemas[name] ?? null));
  }
  return used;
}

function refsIn(value: Json): string[] {
  if (Array.isArray(value)) return value.flatMap(refsIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, member]) => {
    if (name === '$ref' && typeof member === 'string') return [member.replace(prefix, '')];
    return refsIn(member);
  });
}

function renamed(value: Json, plain: (name: string) => string): Json {
  if (Array.isArray(value)) return value.map((one) => renamed(one, plain));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, member]): [string, Json] => {
      const isRef = name === '$ref' && typeof member === 'string' && member.startsWith(prefix);
      return [name, isRef ? prefix + plain(member.slice(prefix.length)) : renamed(member, plain)];
    }),
  );
}

/** The describer says "Default Response" where it doesn't look into a reference. */
function withDescriptions(value: Json, schemas: JsonObject): Json {
  if (Array.isArray(value)) return value.map((one) => withDescriptions(one, schemas));
  if (typeof value !== 'object' || value === null) return value;
  const members = Object.fromEntries(
    Object.entries(value).map(([name, member]): [string, Json] => [name, withDescriptions(member, schemas)]),
  );
  if (members['description'] !== 'Default Response') return members;
  const schema = schemas[refsIn(members['content'] ?? null)[0] ?? ''];
  const description = isPlainObject(schema) ? schema['description'] : undefined;
  return typeof description === 'string' ? { ...members, description } : members;
}

function isPlainObject(value: unknown): value is { [name: string]: unknown } {
  return typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype;
}
