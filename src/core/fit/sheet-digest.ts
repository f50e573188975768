/** The digest of a job sheet: of what is done, not of stock, units of display or wording. */
import { createHash } from 'node:crypto';
import { canonical } from '../log/canonical.ts';
import type { Fit } from './fit.ts';
import type { Plan } from './plan.ts';

/** `sha256:…` over the canonical JSON of changes, opened, joints, settings and steps. */
export function sheetDigest({ changes, opened, joints, settings, steps }: Plan): string {
  return digestOf({ changes, opened, joints, settings, steps });
}

/** `sha256:…` over what sits where, whatever the basis. */
export function fitDigest(fit: Fit): string {
  const contents = Object.fromEntries(Object.entries(fit).map(([station, { elements }]) => [station, elements]));
  return digestOf(contents);
}

function digestOf(value: unknown): string {
  return `sha256:${createHash('sha256').update(canonical(value)).digest('hex')}`;
}
