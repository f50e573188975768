/** One place of a value changed into what its schema mostly forbids. Whether it does, is for a validator to say. */
import { type Description, formsOf, type Schema } from '../described-operations.ts';
import type { Random } from '../random.ts';
import { textsOf } from './draw-value.ts';

export type Spoilt = { readonly value: unknown; readonly how: string };
type Spot = { readonly path: readonly (string | number)[]; readonly value: unknown; readonly schema: Schema };

export function spoilValue(value: unknown, schema: Schema, random: Random, described: Description): Spoilt {
  const spots = spotsOf(value, schema, described);
  const spot = random.of(spots);
  const forms = formsOf(spot.schema, described);
  const changed = change(spot.value, forms, random);
  return { value: replaced(value, spot.path, changed.value), how: `${changed.how} at /${spot.path.join('/')}` };
}

function spotsOf(value: unknown, schema: Schema, described: Description, path: Spot['path'] = []): Spot[] {
  const here: Spot = { path, value, schema };
  const forms = formsOf(schema, described);
  if (Array.isArray(value)) {
    const items = forms.find((form) => form.items !== undefined)?.items ?? {};
    return [here, ...value.flatMap((one, nth) => spotsOf(one, items, described, [...path, nth]))];
  }
  if (typeof value !== 'object' || value === null) return [here];
  return [
    here,
    ...Object.entries(value).flatMap(([member, one]) =>
      spotsOf(one, memberOf(forms, member), described, [...path, member]),
    ),
  ];
}

function memberOf(forms: readonly Schema[], member: string): Schema {
  const named = forms.find((form) => form.properties?.[member] !== undefined)?.properties?.[member];
  const others = forms.find((form) => typeof form.additionalProperties === 'object')?.additionalProperties;
  return named ?? (typeof others === 'object' ? others : {});
}

function replaced(value: unknown, [first, ...rest]: Spot['path'], by: unknown): unknown {
  if (first === undefined) return by;
  if (Array.isArray(value)) return value.map((one, nth) => (nth === first ? replaced(one, rest, by) : one));
  const object = value as Record<string, unknown>;
  return { ...object, [first]: replaced(object[first], rest, by) };
}

const otherTypes: readonly unknown[] = [
  null,
  true,
  false,
  0,
  -1,
  1.5,
  '',
  'x',
  '0',
  'null',
  [],
  {},
  [[]],
  [null],
  { a: { b: 1 } },
];
export const oddNumbers = [
  -1,
  0,
  1.5,
  -0,
  1e-7,
  1e21,
  1e308,
  -1e308,
  5e-324,
  2 ** 53,
  2 ** 53 + 2,
  2 ** 31,
  2 ** 63,
  0.1 + 0.2,
];
export const oddTexts = [
  ...[
    '',
    ' ',
    '\n',
    '\t',
    'a\nb',
    ' a',
    'a ',
    '\u0000',
    'a\u0000b',
    '\ud800',
    'x\udc00y',
    '\ufeff',
    '\u202eabc',
    '\u200b',
    'a\u0301'.repeat(40),
  ],
  ...[
    '__proto__',
    'constructor',
    'toString',
    'null',
    'undefined',
    'NaN',
    '../..',
    '%00',
    '$1',
    "' or 1=1 --",
    '{{7*7}}',
    '-',
    '.',
    '+1',
    '1e5',
    '61,0',
    '٣',
    '0x10',
    '１',
  ],
  ...[
    '2026-13-45T99:99:99Z',
    '2026-02-30T00:00:00Z',
    '2026-03-14',
    '99999-01-01T00:00:00Z',
    '0000-01-01T00:00:00Z',
    '2026-03-14T10:25:00',
  ],
  ...['00000000-0000-0000-0000-000000000000', 'FFFFFFFF-FFFF-FFFF-FFFF-FFFFFFFFFFFF', 'sha256:', 'x'.repeat(5_000)],
];
const oddNames = [
  'unexpected',
  '',
  ' ',
  'constructor',
  'toString',
  'hasOwnProperty',
  'ID',
  'a.b',
  'a/b~c',
  '0',
  '-1',
  'x'.repeat(300),
  'größe',
  '\u0000',
  '\ud83d',
  'kind',
  'owner',
  'id',
];

function change(value: unknown, forms: readonly Schema[], random: Random): Spoilt {
  if (random.oneIn(4)) return { value: random.of(otherTypes), how: 'another type' };
  if (Array.isArray(value)) return changeList(value, forms, random);
  if (typeof value === 'object' && value !== null) return changeObject(value as Record<string, unknown>, forms, random);
  if (typeof value === 'number') return { value: random.of([...oddNumbers, ...boundsOf(forms)]), how: 'an odd number' };
  if (typeof value === 'string') return changeText(value, forms, random);
  return { value: random.of(otherTypes), how: 'another type' };
}

function boundsOf(forms: readonly Schema[]): number[] {
  return forms.flatMap(({ minimum, maximum }) => [
    ...(minimum === undefined ? [] : [minimum - 1]),
    ...(maximum === undefined ? [] : [maximum + 1]),
  ]);
}

function changeList(value: readonly unknown[], forms: readonly Schema[], random: Random): Spoilt {
  const most = forms.find((form) => form.maxItems !== undefined)?.maxItems ?? 100;
  const one = value[0] ?? null;
  return random.of<() => Spoilt>([
    () => ({ value: [], how: 'an empty list' }),
    () => ({ value: Array(most + 1).fill(one), how: 'a list too long' }),
    () => ({ value: [...value, random.of(otherTypes)], how: 'another item' }),
    () => ({ value: [...value, ...value], how: 'every item twice' }),
  ])();
}

function changeObject(value: Record<string, unknown>, forms: readonly Schema[], random: Random): Spoilt {
  const members = Object.keys(value);
  const needed = forms.flatMap((form) => form.required ?? []).filter((one) => one in value);
  const without = (name: string) => Object.fromEntries(Object.entries(value).filter(([member]) => member !== name));
  const unknown = random.of(oddNames);
  return random.of<() => Spoilt>([
    () =>
      needed.length === 0
        ? { value: null, how: 'null' }
        : { value: without(random.of(needed)), how: 'a member missing' },
    () =>
      members.length === 0
        ? { value: null, how: 'null' }
        : { value: without(random.of(members)), how: 'a member left out' },
    () => ({ value: { ...value, [unknown]: random.of([...otherTypes, value]) }, how: 'a member more' }),
    () => ({ value: {}, how: 'nothing in it' }),
  ])();
}

function changeText(value: string, forms: readonly Schema[], random: Random): Spoilt {
  const most = forms.find((form) => form.maxLength !== undefined)?.maxLength ?? 200;
  const pattern = forms.find((form) => form.pattern !== undefined)?.pattern;
  return random.of<() => Spoilt>([
    () => ({ value: random.of(oddTexts), how: 'an odd text' }),
    () => ({ value: 'x'.repeat(most + 1), how: 'a text too long' }),
    () => ({
      value: `${value}${random.of(['\u0000', '\ud800', '\n', ' ', '!', '\u00e9', 'x'.repeat(300)])}`,
      how: 'a text with more at its end',
    }),
    () => ({ value: pattern === undefined ? value.toUpperCase() : random.of(textsOf(pattern)), how: 'another text' }),
    () => ({ value: value.slice(0, -1), how: 'a text cut' }),
  ])();
}
