import { buildSchema, graphql } from 'graphql';
import { expect, it } from 'vitest';
import { asksFor } from '../../src/graphql/asks-for.ts';

const schema = buildSchema('type Query { unit: Unit } type Unit { name: String history: Unit partner: Unit }');

async function asksForHistory(source: string): Promise<boolean[]> {
  const seen: boolean[] = [];
  const rootValue = {
    unit: (_: unknown, __: unknown, info: Parameters<typeof asksFor>[0]) => {
      seen.push(asksFor(info, 'history'));
      return {};
    },
  };
  const { errors } = await graphql({ schema, source, rootValue });
  expect(errors).toBeUndefined();
  return seen;
}

/** Walked along every way, the last would be met a thousand million times. */
function doubled(levels: number): string {
  const each = Array.from({ length: levels }, (_, nth) => `fragment f${nth} on Unit { ...f${nth + 1} ...f${nth + 1} }`);
  return `${each.join(' ')} fragment f${levels} on Unit { name }`;
}

it.each([
  ['itself', '{ unit { name history { name } } }', [true]],
  ['under another name', '{ unit { past: history { name } } }', [true]],
  ['in a fragment', '{ unit { ... on Unit { history { name } } } }', [true]],
  [
    'in a fragment within one that has a name',
    '{ unit { ...a } } fragment a on Unit { ...b } fragment b on Unit { history { name } }',
    [true],
  ],
  ['in the second of two selections', '{ unit { name } unit { history { name } } }', [true]],
  ['of one field and not of another', '{ a: unit { name } b: unit { history { name } } }', [false, true]],
  ['not at all by fragments that each have the next one twice', `{ unit { ...f0 } } ${doubled(30)}`, [false]],
  ['further down alone', '{ unit { partner { history { name } } } }', [false]],
  ['not at all', '{ unit { history: name } }', [false]],
])('a field is asked for %s', async (_, source, expected) => {
  expect(await asksForHistory(source)).toEqual(expected);
});
