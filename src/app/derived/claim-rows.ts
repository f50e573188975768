/** The rows of claims, their evidence and decisions, and of terms; when recording and when verifying. */
import type { UnitKind } from '../../core/history/event.ts';
import { canonical } from '../../core/log/canonical.ts';
import { parseTime, type TimeInput } from '../../core/time/instant.ts';
import type { Row } from '../../store/sql/insert-rows.ts';

export const claimKinds = ['claim', 'claim-evidence', 'claim-decision', 'terms'] as const;
export type ClaimKind = (typeof claimKinds)[number];

type Timeless<T extends 'claims' | 'claim_entries' | 'terms'> = Omit<Row<T>, 'recorded_at'>;
/** Without the time at which they were recorded. */
export type ClaimRows = {
  readonly claims?: readonly Timeless<'claims'>[];
  readonly claim_entries?: readonly Timeless<'claim_entries'>[];
  readonly claim_texts?: readonly Row<'claim_texts'>[];
  readonly terms?: readonly Timeless<'terms'>[];
};

type Members = Readonly<Record<string, unknown>>;
type Kept = { readonly owner: string; readonly fact: string; readonly maker: string };
/** What the judgement has that the statement hasn't: the unit by the service's id, whose claim it is, which version. */
export type Placed = {
  readonly unit?: { readonly unit: string; readonly kind: UnitKind };
  readonly distributor?: string;
  readonly version?: number;
  readonly fingerprint?: string;
};

/** Statements are kept as sent: what the schemas bring into one spelling is brought into it again here. */
export function claimRows(
  kind: ClaimKind,
  { owner, fact, maker }: Kept,
  statement: unknown,
  { unit, distributor = owner, version = 1, fingerprint = '' }: Placed,
  told: unknown,
): ClaimRows {
  const said = statement as Members;
  const text = (name: string) => String(said[name]);
  const texts = told === null ? [] : [{ owner, fact, maker, told: canonical(told) }];
  switch (kind) {
    case 'claim': {
      if (unit === undefined) throw new Error('the judgement names no unit');
      const failed = parseTime(said['failedAt'] as TimeInput);
      const replaces = said['replaces'] === undefined ? null : text('replaces').toLowerCase();
      const words = { part: text('part'), symptom: text('symptom'), failure_mode: text('failureMode') };
      const times = { failed_from: failed.from, failed_to: failed.to };
      const row = { owner, fact, maker, unit_id: unit.unit, unit_kind: unit.kind, ...words, ...times, replaces };
      return { claims: [row], claim_texts: texts };
    }
    case 'claim-evidence': {
      const row = { owner, fact, maker, claim: text('claim'), decision: null, told: null };
      return { claim_entries: [row], claim_texts: texts };
    }
    case 'claim-decision': {
      const { performedAt, reference, reasons, cost, asks } = said;
      const tells = { performedAt, reference, reasons, cost, asks };
      const defined = Object.fromEntries(Object.entries(tells).filter(([, value]) => value !== undefined));
      const row = { fact, maker, claim: text('claim'), decision: text('decision'), told: canonical(defined) };
      return { claim_entries: [{ owner: distributor, ...row }] };
    }
    case 'terms': {
      const { validFrom, validUntil, text: called, parts } = said;
      const times = {
        valid_from: parseTime(validFrom as string).from,
        valid_until: validUntil === undefined ? null : parseTime(validUntil as string).from,
      };
      const content = canonical({ ...(called !== undefined && { text: called }), parts });
      return { terms: [{ maker, id: text('terms'), version, fact, ...times, content, fingerprint }] };
    }
  }
}
