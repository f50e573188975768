/** A value that a schema allows, drawn; with the words of the vocabulary where it names something. */
import fc from 'fast-check';
import { type Description, formsOf, type Schema } from '../described-operations.ts';
import type { Random } from '../random.ts';
import { type Vocabulary, wordFor } from './vocabulary.ts';

export type Drawing = { readonly random: Random; readonly vocabulary: Vocabulary; readonly described: Description };

export function drawValue(schema: Schema, drawing: Drawing, member = '', depth = 0): unknown {
  const { random, described } = drawing;
  const form = random.of(formsOf(schema, described));
  const known = wordFor(drawing.vocabulary, member, random, form.format === 'uuid');
  if (known !== undefined && (typeof known === form.type || schema.anyOf !== undefined)) return known;
  if (form.const !== undefined) return form.const;
  if (form.enum !== undefined) return random.of(form.enum);
  switch (Array.isArray(form.type) ? random.of(form.type as string[]) : form.type) {
    case 'object':
      return drawObject(form, drawing, member, depth);
    case 'array':
      return drawList(form, drawing, member, depth);
    case 'string':
      return drawText(form, random);
    case 'integer':
      return drawWhole(form, random);
    case 'number':
      return random.of([0, 1, -1, 0.1, 61.5, 1e-7, 123456789, -0]);
    case 'boolean':
      return random.oneIn(2);
    case 'null':
      return null;
    default:
      return random.of([null, true, 'text', 1, [], {}]);
  }
}

function drawObject(form: Schema, drawing: Drawing, member: string, depth: number): unknown {
  const { random, vocabulary } = drawing;
  const object: Record<string, unknown> = {};
  for (const [name, inside] of Object.entries(form.properties ?? {})) {
    const isNeeded = form.required?.includes(name) === true;
    // Deeper down less of what may be left out, so that bodies end.
    if (isNeeded || random.oneIn(2 + depth)) object[name] = drawValue(inside, drawing, name, depth + 1);
  }
  if (typeof form.additionalProperties === 'object' && form.properties === undefined) {
    for (let left = random.below(4); left > 0; left--) {
      const name = String(
        wordFor(vocabulary, member, random) ?? drawText(form.propertyNames ?? { type: 'string' }, random),
      );
      object[name] = drawValue(form.additionalProperties, drawing, '', depth + 1);
    }
  }
  return onOneUnit(object, form, random);
}

/** Most bodies take a control or a pump, which a schema doesn't say. */
function onOneUnit(
  object: Record<string, unknown>,
  { properties = {}, required = [] }: Schema,
  random: Random,
): unknown {
  const isEither = ['control', 'pump'].every((name) => name in properties && !required.includes(name));
  if (!isEither || random.oneIn(8)) return object;
  const { control: _, pump: __, ...rest } = object;
  return random.oneIn(2)
    ? { control: { maker: 'ardenholm', serial: random.of(['K-1', 'K-2', 'K-3']) }, ...rest }
    : { pump: { maker: 'ardenholm', serial: random.of(['P-1', 'P-2']) }, ...rest };
}

function drawList(
  { items = {}, minItems = 0, maxItems = 10 }: Schema,
  drawing: Drawing,
  member: string,
  depth: number,
): unknown[] {
  const length = Math.max(minItems, Math.min(maxItems, drawing.random.below(depth > 2 ? 2 : 4)));
  return Array.from({ length }, () => drawValue(items, drawing, member, depth + 1));
}

function drawWhole({ minimum = 0, maximum = 1_000_000 }: Schema, random: Random): number {
  return random.of([minimum, minimum + 1, Math.min(maximum, minimum + 40), maximum]);
}

const times = [
  '2026-03-14T10:25:00+01:00',
  '2026-02-28T23:59:59.999999Z',
  '1999-12-31T00:00:00-23:59',
  '2024-02-29T12:00:00Z',
];
const words = [
  'a',
  'seat cleaned',
  'Größe – 61 Ω',
  '日本',
  'a\u0301',
  '😀',
  "'; drop table facts; --",
  '<b>&amp;</b>',
  '=1+1',
  'ı',
  '\u202e',
];

function drawText({ format, pattern, minLength = 0, maxLength = 500 }: Schema, random: Random): string {
  if (format === 'date-time') return random.of(times);
  if (pattern !== undefined) return random.of(textsOf(pattern));
  const text = random.oneIn(12) ? 'x'.repeat(maxLength) : random.of(words).slice(0, maxLength);
  return text.padEnd(minLength, 'x');
}

const drawn = new Map<string, readonly string[]>();

/** Some texts of a pattern, drawn once: the same in every run. */
export function textsOf(pattern: string): readonly string[] {
  const texts = drawn.get(pattern) ?? fc.sample(fc.stringMatching(new RegExp(pattern)), { numRuns: 40, seed: 1 });
  drawn.set(pattern, texts);
  return texts;
}
