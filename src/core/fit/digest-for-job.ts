/**
 * The digest of the sheet for a job. Shops give the same few contents the same few functions over and over, and every
 * record that names its sheet asks for it: so what was reckoned is remembered beside its edition, by all that a plan is
 * derived from.
 */
import type { Edition } from '../catalogue/edition.ts';
import { onceFor } from '../once-for.ts';
import { type ConversionJob, planConversion } from './plan-conversion.ts';
import { sheetDigest } from './sheet-digest.ts';

/** Of an edition, a megabyte or two. */
export const mostRemembered = 500;

/** Null where there is no plan. */
export function digestForJob(job: ConversionJob): string | null {
  const { edition, ...asked } = job;
  const known = digestsOf(edition);
  const key = JSON.stringify(asked);
  const remembered = known.get(key);
  if (remembered !== undefined) return remembered;
  const plan = planConversion(job);
  const digest = 'refused' in plan ? null : sheetDigest(plan);
  if (known.size === mostRemembered) known.clear();
  known.set(key, digest);
  return digest;
}

const digestsOf = onceFor((_: Edition) => new Map<string, string | null>());
