/**
 * How clean a fluid is, as ISO 4406:2021 codes it: three scale numbers for how many particles of at least 4, 6 and 14 µm
 * are in a millilitre, such as 20/18/15. Particles of 6 µm are among those of 4 µm, so no number is higher than the one
 * before it. "*" stands for too many to count; a first number that was not counted at all is written "-", as in -/18/15
 * for a count under the microscope. Scale numbers run from 0 to 28. All of this is from memory of the standard.
 */
import { z } from 'zod';

/** A scale number; `uncountable` for "*", null for "-". */
export type ScaleNumber = number | 'uncountable' | null;

const highest = 28;

/** The three scale numbers; or what is wrong with the text, in a sentence. */
export function parseCleanliness(text: string): readonly ScaleNumber[] | string {
  const parts = text.split('/');
  if (parts.length !== 3) return 'write three numbers with strokes between them, such as "20/18/15"';
  const numbers = parts.map(scaleNumber);
  const wrong = numbers.indexOf(undefined);
  if (wrong >= 0) return `"${parts[wrong]}" is none of 0 to ${highest}, * or, in the first place, -`;
  const read = numbers as ScaleNumber[];
  if (read.indexOf(null, 1) > 0) return 'only the first number may be left out as "-"';
  const counted = read.map((one) => (one === 'uncountable' ? highest + 1 : one)).filter((one) => one !== null);
  if (counted.some((one, at) => counted.slice(at + 1).some((next) => next > one)))
    return 'no number is higher than the one before it: larger particles are among the smaller ones';
  return read;
}

export const cleanlinessCode = z
  .string()
  .max(20)
  .superRefine((text, context) => {
    const read = parseCleanliness(text);
    if (typeof read === 'string') context.addIssue({ code: 'custom', message: read });
  })
  .meta({
    description: 'ISO 4406 code of particles of at least 4, 6 and 14 µm, such as 20/18/15',
    examples: ['20/18/15'],
  });

function scaleNumber(text: string): ScaleNumber | undefined {
  if (text === '*') return 'uncountable';
  if (text === '-') return null;
  return /^(0|[1-9]\d?)$/.test(text) && Number(text) <= highest ? Number(text) : undefined;
}
