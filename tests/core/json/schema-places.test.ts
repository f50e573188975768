/** What is wrong with a value, in words and by place. The words are ours; the kinds of fault are those of zod 4. */
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { explain, placesOf } from '../../../src/core/json/schema-places.ts';

function said(schema: z.ZodType, value: unknown): [place: string, detail: string][] {
  const issues = schema.safeParse(value, { error: explain }).error?.issues ?? [];
  return placesOf(issues).map(({ path, detail }) => [path.join('/'), detail]);
}

const form = z.union([z.string(), z.strictObject({ unknown: z.string() }), z.strictObject({ a: z.int(), b: z.int() })]);

describe('what is wrong with one value', () => {
  it.each<[what: string, schema: z.ZodType, value: unknown, detail: string]>([
    ['it is missing', z.string(), undefined, 'is required: text'],
    ['it has another type', z.array(z.string()), {}, 'must be a list, not an object'],
    ['it has a type without a word of ours', z.date(), null, 'must be date, not null'],
    ['it is a fraction', z.int(), 1.5, 'must be a whole number'],
    ['it is no number at all', z.int(), [], 'must be a number, not a list'],
    ['it is not on the list', z.enum(['set', 'indicated']), 'read', 'must be "set" or "indicated"'],
    ['a text is too short', z.string().min(2), 'x', 'must have at least 2 characters'],
    ['a text is too long', z.string().max(1), 'xx', 'must have at most 1 character'],
    ['a list is too short', z.array(z.int()).min(1), [], 'must have at least 1 entry'],
    ['a list is too long', z.array(z.int()).max(2), [1, 2, 3], 'must have at most 2 entries'],
    ['a number is below its least', z.number().min(2), 1, 'must be at least 2'],
    ['a number is at what it must be above', z.number().gt(2), 2, 'must be more than 2'],
    ['a number is above its most', z.number().max(2), 3, 'must be at most 2'],
    ['a number is at what it must be below', z.number().lt(2), 2, 'must be less than 2'],
    ['a text has another pattern', z.string().regex(/^a$/), 'b', 'is not written as expected'],
    ['a text has another format', z.uuid(), 'b', 'is not a valid uuid'],
    ['none of several forms is there', form, undefined, 'is required'],
    [
      'it has none of several forms',
      z.union([z.literal('none'), z.array(z.int())]),
      5,
      'must be "none", or must be a list, not a number',
    ],
    [
      'two forms say the same',
      z.union([z.strictObject({ a: z.int() }), z.strictObject({ b: z.int() })]),
      5,
      'must be an object, not a number',
    ],
    ['the schema has words of its own', z.string().regex(/^a$/, { error: 'write a' }), 'b', 'write a'],
    ['a union has words of its own', z.union([z.string(), z.int()], { error: 'write it out' }), true, 'write it out'],
    ['a check has words of its own', z.string().refine(() => false, 'is never right'), 'b', 'is never right'],
    ['a kind of fault has no words here', z.int().multipleOf(5), 3, 'Invalid number: must be a multiple of 5'],
  ])('%s', (_, schema, value, detail) => {
    expect(said(schema, value)).toEqual([['', detail]]);
  });
});

describe('where it is wrong', () => {
  const object = z.strictObject({
    list: z.array(form),
    map: z.record(z.string().regex(/^[a-z]$/), z.int()).optional(),
  });

  it('is told of every place, each for itself', () => {
    expect(said(object, { list: ['x', 5], map: { a: 'x' }, mpa: 1, lsit: [] })).toEqual([
      ['list/1', 'must be text, not a number, or must be an object, not a number'],
      ['map/a', 'must be a number, not text'],
      ['mpa', 'is not known here'],
      ['lsit', 'is not known here'],
    ]);
  });

  it('is the name itself, where it is a name that is wrong', () => {
    expect(said(object, { list: [], map: { A: 1 } })).toEqual([['map/A', 'is not written as expected']]);
  });

  it('is told of the form that came nearest, unknown fields counted one by one', () => {
    expect(said(form, { a: 1 })).toEqual([['b', 'is required: a number']]);
    expect(said(form, { unknown: 7 })).toEqual([['unknown', 'must be text, not a number']]);
    expect(said(form, { unknown: 'why', c: 1, d: 2 })).toEqual([
      ['c', 'is not known here'],
      ['d', 'is not known here'],
    ]);
  });

  it('is under the place where the value stands', () => {
    const { error } = z.strictObject({ value: z.string() }).safeParse({ value: 1 }, { error: explain });
    expect(placesOf(error?.issues ?? [], ['sum', 0])).toEqual([
      { path: ['sum', 0, 'value'], detail: 'must be text, not a number' },
    ]);
  });
});
