/**
 * A measured value: the decimals as they were read, and their unit. "61.0" and "61" are the same size but not the
 * same reading, so the digits are kept as text. Sums and comparisons are in `exact.ts`.
 */
import { z } from 'zod';
import { absurdity } from './bounds.ts';
import { decimalOf } from './decimal.ts';
import { likelyUnits, units } from './unit.ts';

/** `value` is a plain decimal such as "61.0"; `unit` one of `units`. */
export type Quantity = { value: string; unit: string };

/** A double keeps any decimal of so many digits apart from its neighbours; no instrument of the trade shows more. */
export const mostDigits = 15;

const decimal = /^-?(0|[1-9]\d{0,14})(\.\d{1,15})?$/;
const example = '"61.0"';

const value = z
  .union(
    [
      z.string().regex(decimal, { error: (issue) => valueProblem(issue.input) }),
      z.number().describe('Kept as its shortest decimal; send a string to keep trailing zeros'),
    ],
    { error: (issue) => valueProblem(issue.input) },
  )
  .transform((input, context) => {
    const text = typeof input === 'number' ? decimalOf(input) : input;
    if (!decimal.test(text) || significantDigits(text) > mostDigits) {
      context.addIssue({
        code: 'custom',
        message: `write a decimal of at most ${mostDigits} digits, such as ${example}`,
      });
      return z.NEVER;
    }
    return text;
  })
  .pipe(z.string().regex(decimal));

/** Takes the value as text or number; gives it as text. A field beside the two is refused. */
export const quantitySchema = z
  .strictObject({ value, unit: z.enum(units, { error: (issue) => unitProblem(issue.input) }) })
  .refine((quantity) => absurdity(quantity) === null, {
    error: (issue) => String(absurdity(issue.input as Quantity)),
    path: ['value'],
    when: ({ issues }) => issues.length === 0,
  })
  .meta({ description: 'A measured value: the decimals as read, and the unit' });

/** Digits from the first that isn't zero: "0.060" has two, "61.0" three, "1500" four, "0.0" one. */
export function significantDigits(plainDecimal: string): number {
  return Math.max(1, plainDecimal.replaceAll(/[-.]/g, '').replace(/^0+/, '').length);
}

function valueProblem(input: unknown): string {
  if (typeof input === 'number') return `this is not a number that can be measured: write a decimal such as ${example}`;
  if (typeof input !== 'string') return `write a decimal as text, such as ${example}, or as a number`;
  if (/^\s|\s$|\d\s+\d/.test(input)) return `leave out the spaces: write the digits alone, such as ${example}`;
  if (/^[+-]?\d+,\d+$/.test(input)) return `write a decimal point, not a comma: "${input.replace(',', '.')}"`;
  if (input.includes(',')) return `write a decimal point and no commas, such as ${example}`;
  if (/^[+-]?[\d.]+e[+-]?\d+$/i.test(input)) return `write the digits out, without an exponent, such as ${example}`;
  if (/^\+/.test(input)) return 'leave out the plus sign';
  if (/^-?\.\d+$/.test(input)) return `write a digit before the decimal point: "${input.replace('.', '0.')}"`;
  if (/^-?\d+\.$/.test(input))
    return `write a digit after the decimal point, or leave the point out: "${input.slice(0, -1)}"`;
  if (/^-?0\d+(\.\d+)?$/.test(input)) return `leave out the leading zeros: "${input.replace(/^(-?)0+(?=\d)/, '$1')}"`;
  if (/^-?\d+(\.\d+)?$/.test(input)) return `write a decimal of at most ${mostDigits} digits, such as ${example}`;
  return `write a decimal such as ${example}`;
}

function unitProblem(input: unknown): string {
  const all = `one of ${units.join(', ')}`;
  if (typeof input !== 'string') return `write the unit as text: ${all}`;
  const likely = likelyUnits(input);
  const shown = JSON.stringify(input.slice(0, 20));
  if (likely.length === 0) return `${shown} is not a unit used here: write ${all}`;
  return `${shown} is not a unit used here: write ${likely.map((unit) => `"${unit}"`).join(' or ')}`;
}
