/** The digest of a job sheet: of what is done, not of stock, units of display or wording. */
import { createHash } from 'node:crypto';
import { canonical } from '../log/canonical.ts';
import type { Plan } from './plan.ts';

/** `sha256:…` over the canonical JSON of changes, opened, joints, settings and the steps without their text. */
export function sheetDigest({ changes, opened, joints, settings, steps }: Plan): string {
  const done = { changes, opened, joints, settings, steps: steps.map(({ text: _, ...step }) => step) };
  return `sha256:${createHash('sha256').update(canonical(done)).digest('hex')}`;
}
