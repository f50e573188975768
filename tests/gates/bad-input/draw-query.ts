/** GraphQL documents drawn from the schema, and spoilt ones. */
import { readdirSync, readFileSync } from 'node:fs';
import {
  buildSchema,
  type GraphQLField,
  type GraphQLInputType,
  type GraphQLNamedType,
  type GraphQLSchema,
  getNamedType,
  isEnumType,
  isInputObjectType,
  isInterfaceType,
  isLeafType,
  isListType,
  isNonNullType,
  isObjectType,
  parse,
  validate,
} from 'graphql';
import type { Random } from '../random.ts';
import { oddTexts } from './spoil-value.ts';

export type Query = { readonly body: unknown; readonly how: string; readonly isForbidden: boolean };

const folder = new URL('../../../schema/', import.meta.url);
export const schema: GraphQLSchema = buildSchema(
  readdirSync(folder)
    .filter((name) => name.endsWith('.graphql'))
    .map((name) => readFileSync(new URL(name, folder), 'utf8'))
    .join('\n'),
);

export type Words = (name: string, random: Random) => string;

export function drawQuery(words: Words, random: Random): Query {
  const source = `query Drawn ${selection(schema.getQueryType() as GraphQLNamedType, words, random, 0)}`;
  if (random.oneIn(3)) return query(source, 'as the schema has it');
  return random.of<() => Query>([
    () => spoilText(source, random),
    () => spoilText(source, random),
    () => spoilText(source, random),
    () => query(hostile(random), 'a hostile document', true),
    () => spoilVariables(random),
    () => ({
      body: random.of([
        [{ query: source }],
        { queries: [source] },
        { query: { kind: 'Document' } },
        { query: source, extra: 1 },
        { query: source, report: 'held-by-shop' },
        { report: 'no such report' },
        {},
      ]),
      how: 'another body',
      isForbidden: true,
    }),
    () => query(source, 'a name that no operation has', true, { operationName: random.of(['Other', '', '__proto__']) }),
  ])();
}

/** What the library itself finds wrong with a document is forbidden whatever the service says. */
function query(source: string, how: string, isForbidden = isWrong(source), more: object = {}): Query {
  return { body: { query: source, ...more }, how: `${how}: ${source.slice(0, 300)}`, isForbidden };
}

function isWrong(source: string): boolean {
  try {
    return validate(schema, parse(source)).length > 0;
  } catch {
    return true;
  }
}

function selection(type: GraphQLNamedType, words: Words, random: Random, depth: number): string {
  if (!isObjectType(type) && !isInterfaceType(type)) return '{ __typename }';
  const fields = Object.values(type.getFields()).filter((one) => depth < 3 || isLeafType(getNamedType(one.type)));
  const wanted = fields.filter(() => random.oneIn(depth === 0 ? 5 : 3));
  const texts = (wanted.length === 0 ? fields.slice(0, 1) : wanted.slice(0, depth === 0 ? 3 : 6)).map((one) =>
    fieldText(one, words, random, depth),
  );
  return `{ ${texts.join(' ') || '__typename'} }`;
}

function fieldText(
  { name, args, type }: GraphQLField<unknown, unknown>,
  words: Words,
  random: Random,
  depth: number,
): string {
  const said = args
    .filter((one) => one.name === 'first' || isNonNullType(one.type) || random.oneIn(4))
    .map((one) => `${one.name}: ${argument(one.name, one.type, words, random)}`);
  const inside = isLeafType(getNamedType(type)) ? '' : ` ${selection(getNamedType(type), words, random, depth + 1)}`;
  return `${name}${said.length === 0 ? '' : `(${said.join(', ')})`}${inside}`;
}

function argument(name: string, type: GraphQLInputType, words: Words, random: Random): string {
  if (isNonNullType(type)) return argument(name, type.ofType, words, random);
  if (isListType(type)) return `[${argument(name, type.ofType, words, random)}]`;
  if (isEnumType(type)) return random.of(type.getValues()).name;
  if (isInputObjectType(type)) {
    const fields = Object.values(type.getFields()).filter((one) => isNonNullType(one.type) || random.oneIn(3));
    return `{${fields.map((one) => `${one.name}: ${argument(one.name, one.type, words, random)}`).join(', ')}}`;
  }
  switch (type.name) {
    case 'Int':
      return String(random.of([1, 2, 5]));
    case 'Boolean':
      return String(random.oneIn(2));
    case 'Instant':
      return '"2026-04-01T08:00:00Z"';
    default:
      return JSON.stringify(random.oneIn(5) ? random.of(oddTexts).toWellFormed() : words(name, random));
  }
}

function spoilText(source: string, random: Random): Query {
  const at = random.below(source.length);
  return random.of<() => Query>([
    () => query(source.slice(0, at), 'cut off'),
    () =>
      query(
        `${source.slice(0, at)}${random.of(['{', '}', '(', ')', '"', '"""', '$', '@', '...', '!', '#', '\u0000', '\ud83d', '\\', '&', '😀'])}${source.slice(at)}`,
        'a sign more',
      ),
    () => query(source.replace(/\w+(?= [({}]|\()/, 'noSuchField'), 'a field that is not there'),
    () =>
      query(
        source.replace(
          /first: \d+/,
          `first: ${random.of(['0', '-1', '201', '2147483648', '1e3', '"5"', 'null', '[1]', '$n'])}`,
        ),
        'an odd first',
      ),
    () =>
      query(
        source.replace(
          /"[^"]*"/,
          random.of([
            '""',
            '"\\u0000"',
            '"\\uD83D"',
            'null',
            '5',
            '{}',
            '[]',
            '"\\u{1F600}"',
            `"${'x'.repeat(5_000)}"`,
            '"""a\nb"""',
          ]),
        ),
        'an odd argument',
      ),
    () =>
      query(
        source.replace(
          'query Drawn',
          random.of([
            'mutation Drawn',
            'subscription Drawn',
            'query Drawn($a: Nothing)',
            'query Drawn @nothing',
            'query',
            '',
          ]),
        ),
        'another head',
      ),
    () => query(source.replace(/(\w+)(?= \{)/, '$1 @include(if: "yes")'), 'a directive of another type'),
    () =>
      query(
        source.replace(/(after|id): "[^"]*"/, `$1: ${JSON.stringify(random.of(oddTexts).toWellFormed())}`),
        'an odd cursor or id',
      ),
  ])();
}

/** Documents whose answer would cost more than anybody may ask for. */
function hostile(random: Random): string {
  const unit = 'control(maker: "ardenholm", serial: "K-1")';
  const deep = (depth: number) => `${`{ pump { control `.repeat(depth)}{ id }${'} }'.repeat(depth)}`;
  return random.of([
    `{ ${unit} ${deep(10)} }`,
    `{ ${unit} { ...A } } fragment A on Control { pump { control { ...A } } }`,
    `{ ${unit} { ...A } } ${Array.from({ length: 12 }, (_, nth) => `fragment ${'A'.repeat(nth + 1)} on Control { pump { control { ...${'A'.repeat(nth + 2)} } } }`).join(' ')} fragment ${'A'.repeat(13)} on Control { id }`,
    `{ ${Array.from({ length: 40 }, (_, nth) => `a${nth}: ${unit} { id }`).join(' ')} }`,
    `{ ${unit} { ${'id '.repeat(2_000)} } }`,
    `{ records(first: 200) { edges { node { units { history { entries(first: 200) { edges { node { record { units { history { entries(first: 200) { edges { node { kind } } } } } } } } } } } } } } }`,
    `${'{'.repeat(3_000)}`,
    `{ a: __typename ${'@include(if: true) '.repeat(600)} }`,
    `query ($a: [[[[[[Int]]]]]]) { __typename }`,
    `{ ${unit} { fit { record { units { mountings(first: 200) { edges { node { unit { history { entries(first: 200) { edges { node { record { id } } } } } } } } } } } } } }`,
    `${'#'.repeat(10)}\n${' '.repeat(100_000)}{`,
  ]);
}

function spoilVariables(random: Random): Query {
  const source = `query Pump($name: String!, $first: Int! = 5, $at: Instant, $filter: RecordFilter) {
    pump(maker: "ardenholm", serial: $name) { id history(performed: $at) { entries(first: $first) { edges { node { kind } } } } }
    records(filter: $filter, first: 2) { edges { node { id } } } }`;
  const good = { name: 'P-1', first: 5, at: '2026-04-01T08:00:00Z', filter: { shop: 'north' } };
  const bad: readonly object[] = [
    ...[null, 5, ['P-1'], { a: 1 }].map((name) => ({ name })),
    ...['5', 1.5, 0, -1, 1_000, 2 ** 40, null].map((first) => ({ first })),
    ...['yesterday', 5, '2026-02-30T00:00:00Z', {}, true].map((at) => ({ at })),
    ...['x', 5, { noSuchField: 1 }, { performedTo: 'x' }, { shop: 5 }, { kinds: { a: 1 } }].map((filter) => ({
      filter,
    })),
  ];
  const isBad = random.oneIn(2);
  const text = random.of(oddTexts).toWellFormed().replaceAll('\u0000', '');
  const odd = random.of([{ name: text }, { filter: { shop: text } }, { filter: { kitPart: text } }]);
  const variables = { ...good, ...(isBad ? random.of(bad) : odd) };
  return query(source, `variables ${JSON.stringify(variables).slice(0, 200)}`, isBad, { variables });
}
