/** What a reader would rather have: a page or JSON, which languages, which units (RFC 9110 §12.5). */
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { type UnitSystem, unitSystems } from '../core/quantity/display.ts';

export const unitsQuery = {
  units: z
    .enum(unitSystems)
    .optional()
    .describe('Adds to every reading what it is in these units, rounded, as "display"; the reading stays as it is'),
};
export const languageQuery = {
  lang: z
    .string()
    .regex(/^[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8}){0,4}$/, { error: 'name a language by its tag, such as de or en-GB' })
    .optional()
    .describe('The language of texts, before Accept-Language; what is not translated is in English'),
};

/** Says of an operation what OpenAPI has no simple place for: its answer is JSON, or a page of the same. */
export const orAsPage = 'With Accept: text/html the answer is a page of the same, to read and to print.';

/** Whether a page is wanted more than JSON. Whoever takes both alike, or anything, gets JSON. */
export function wantsPage(request: FastifyRequest): boolean {
  return prefers(request, 'text/html', 'application/json');
}

/** Whether one media type is wanted more than another. */
export function prefers(request: FastifyRequest, type: string, other: string): boolean {
  const accepted = ranges(request.headers.accept);
  return qualityOf(accepted, type) > qualityOf(accepted, other);
}

/** The first preferred. */
export function languagesWanted(request: FastifyRequest): readonly string[] {
  const { lang } = request.query as { lang?: string };
  const accepted = ranges(request.headers['accept-language'])
    .filter(({ value, quality }) => value !== '*' && quality > 0)
    .toSorted((one, other) => other.quality - one.quality)
    .map(({ value }) => value);
  return lang === undefined ? accepted : [lang, ...accepted];
}

export function unitsWanted(request: FastifyRequest): UnitSystem | null {
  return (request.query as { units?: UnitSystem }).units ?? null;
}

type Range = { readonly value: string; readonly quality: number };

/** What can't be read is passed over: a header that is badly written asks for nothing. */
function ranges(header: string | undefined): readonly Range[] {
  return (header ?? '').split(',').flatMap((part): Range[] => {
    const [value = '', ...parameters] = part.split(';').map((one) => one.trim().toLowerCase());
    const weight = parameters.find((one) => one.startsWith('q='))?.slice(2) ?? '1';
    return value !== '' && /^(0(\.\d{0,3})?|1(\.0{0,3})?)$/.test(weight) ? [{ value, quality: Number(weight) }] : [];
  });
}

/** The most specific range that covers the type decides. */
function qualityOf(accepted: readonly Range[], type: string): number {
  const [kind] = type.split('/');
  for (const covering of [type, `${kind}/*`, '*/*']) {
    const range = accepted.find(({ value }) => value === covering);
    if (range !== undefined) return range.quality;
  }
  return 0;
}
