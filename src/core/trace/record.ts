/** A record as a trace reads it: what it states, line by line, and how it was judged then and by now. */
import { z } from 'zod';
import type { Verdict } from '../judge/evidence.ts';
import { checkResult, fitted, found, removed, sealRenewed, settingReading, torque } from '../records/parts.ts';
import type { Finding } from '../rules/finding.ts';
import type { Instant, Interval } from '../time/instant.ts';

/** As the store has it; a statement names people by the service's ids. */
export type KeptRecord = {
  readonly id: string;
  readonly kind: string;
  /** The slug of the organisation whose record it is. */
  readonly distributor: string | null;
  readonly performed: Interval;
  readonly recordedAt: Instant;
  readonly edition: string | null;
  readonly entry: string;
  readonly statement: unknown;
  readonly judgement: unknown;
  /** The latest judgement on it that is known, with the fact that gave it; null: none but its own. */
  readonly since: { readonly fact: string; readonly cause: string | null; readonly judgement: unknown } | null;
};

export type TracedRecord = Omit<KeptRecord, 'statement' | 'judgement' | 'since'> & {
  readonly reference: string | null;
  readonly shop: string | null;
  readonly technician: string | { readonly unknown: string } | null;
  readonly lines: z.output<typeof lines>;
  readonly judgedThen: Judged;
  /** By what is known now: the same where nothing has changed it. */
  readonly judgedNow: Judged & { readonly cause: string | null };
};

/** Verdicts of earlier releases lack members. */
export type KeptVerdict = Pick<Verdict, 'pointer' | 'of' | 'place' | 'reading' | 'min' | 'max' | 'verdict'> &
  Partial<Verdict>;
export type Judged = {
  readonly status: string | null;
  readonly findings: readonly Pick<Finding, 'rule' | 'severity' | 'pointer' | 'because'>[];
  readonly verdicts: readonly KeptVerdict[];
};

const lines = z.object({
  removed: removed.array().default([]),
  fitted: fitted.array().default([]),
  seals: sealRenewed.array().default([]),
  torques: torque.array().default([]),
  settings: settingReading.array().default([]),
  checks: checkResult.array().default([]),
  found: found.optional(),
});
const said = z.object({
  reference: z.string().optional(),
  shop: z.string().optional(),
  technician: z.union([z.string(), z.object({ unknown: z.string() })]).optional(),
});

/** Of a correction what stands in the place of the record. Kinds of record that have no lines have none. */
export function tracedRecord({ statement, judgement, since, ...kept }: KeptRecord): TracedRecord {
  const { body = statement } = statement as { body?: unknown };
  const isWork = kept.kind !== 'registration' && kept.kind !== 'identity';
  const { reference = null, shop = null, technician = null } = said.safeParse(body).data ?? {};
  const judgedThen = judged(judgement);
  return {
    ...kept,
    ...{ reference, shop, technician, judgedThen },
    lines: (isWork ? lines.safeParse(body).data : undefined) ?? lines.parse({}),
    judgedNow: since === null ? { ...judgedThen, cause: null } : { ...judged(since.judgement), cause: since.cause },
  };
}

function judged(judgement: unknown): Judged {
  const { status = null, findings = [], verdicts = [] } = judgement as Partial<Judged>;
  return { status, findings, verdicts };
}
