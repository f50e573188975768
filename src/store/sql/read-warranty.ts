/** Claims under warranty, what was said of them since, and the terms of makers; as far as the transaction may see. */
import type { ClaimedPart } from '../../core/claims/claim-body.ts';
import type { ClaimStatus } from '../../core/claims/status.ts';
import type { UnitKind } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';

export type ClaimRow = {
  readonly owner: string;
  /** By slug. */
  readonly distributor: string;
  readonly fact: string;
  readonly maker: string;
  readonly unit: string;
  readonly unitKind: UnitKind;
  readonly part: ClaimedPart;
  readonly symptom: string;
  readonly failureMode: string;
  readonly failedFrom: string;
  readonly failedTo: string;
  readonly replaces: string | null;
  readonly recordedAt: string;
};

const claimColumns = `
  c.owner, whose.slug as distributor, c.fact, c.maker, c.unit_id as unit, c.unit_kind as "unitKind", c.part, c.symptom,
  c.failure_mode as "failureMode", c.failed_from as "failedFrom", c.failed_to as "failedTo", c.replaces,
  c.recorded_at as "recordedAt"`;

/** These claims, and those that correct one of them. */
export async function readClaims(tx: Tx, ids: readonly string[]): Promise<ClaimRow[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.query<ClaimRow>({
    name: 'read-claims',
    text: `
      select ${claimColumns} from claims c join organisations whose on whose.id = c.owner
      where c.fact = any ($1::uuid[]) or c.replaces = any ($1::uuid[]) order by c.fact`,
    values: [ids],
  });
  return rows;
}

export type ClaimEntryRow = {
  readonly owner: string;
  readonly claim: string;
  readonly fact: string;
  /** Null: it is evidence. */
  readonly decision: string | null;
  /** Canonical JSON of what a decision tells the distributor; null: it is evidence. */
  readonly told: string | null;
  readonly recordedAt: string;
};

/** What was said of these claims, in the order of recording. */
export async function readClaimEntries(tx: Tx, claims: readonly string[]): Promise<ClaimEntryRow[]> {
  if (claims.length === 0) return [];
  const { rows } = await tx.query<ClaimEntryRow>({
    name: 'read-claim-entries',
    text: `
      select owner, claim, fact, decision, told, recorded_at as "recordedAt" from claim_entries
      where claim = any ($1::uuid[]) order by recorded_at, fact`,
    values: [claims],
  });
  return rows;
}

/** The free text of these facts, by fact; one that is erased is left out. */
export async function readClaimTexts(tx: Tx, facts: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const { rows } = await tx.query<{ fact: string; told: string }>({
    name: 'read-claim-texts',
    text: 'select fact, told from claim_texts where fact = any ($1::uuid[])',
    values: [facts],
  });
  return new Map(rows.map(({ fact, told }) => [fact, told]));
}

export type ClaimsSought = {
  /** Where the transaction may see all of one maker: so the index by maker gives them in order. */
  readonly maker?: string;
  readonly units?: readonly string[];
  readonly status?: ClaimStatus;
  readonly part?: string;
  /** Of the failure: from counts, to does not. A time that is not known exactly is sought by its end. */
  readonly from?: string;
  readonly to?: string;
};
export type ListedClaim = ClaimRow & {
  readonly reference: string;
  readonly raisedFrom: string;
  readonly raisedTo: string;
  readonly replacedBy: string | null;
};

/** As core/claims/status.ts has it: the last word counts. */
const statusNow = `
  case when exists (select from claims r where r.owner = c.owner and r.replaces = c.fact) then 'replaced'
    else coalesce((
      select e.decision from claim_entries e where e.owner = c.owner and e.claim = c.fact
      order by e.recorded_at desc, e.fact desc limit 1), 'open')
  end`;

/**
 * In the order in which they were made, which is that of their ids. `most`: null for all. What a claim was
 * replaced by, and whose it is, is looked up for the page at once: for each of 50 by itself every claim and organisation
 * was read again, 15,700 rows; the same as an outer join still read 10,500. Without its maker's name a maker's page read
 * every claim.
 */
export async function listClaims(
  tx: Tx,
  { maker, units, status, part, from, to }: ClaimsSought,
  after: string | null,
  most: number | null,
): Promise<ListedClaim[]> {
  const values: unknown[] = [];
  const of = (value: unknown, type: string) => `$${values.push(value)}::${type}`;
  const conditions = [
    'true',
    maker !== undefined && `c.maker = ${of(maker, 'text')}`,
    units !== undefined && `c.unit_id = any (${of(units, 'uuid[]')})`,
    part !== undefined && `c.part = ${of(part, 'text')}`,
    from !== undefined && `c.failed_to >= ${of(from, 'timestamptz')}`,
    to !== undefined && `c.failed_to < ${of(to, 'timestamptz')}`,
    status !== undefined && `${statusNow} = ${of(status, 'text')}`,
    after !== null && `c.fact > ${of(after, 'uuid')}`,
  ];
  const { rows } = await tx.query<ListedClaim>(
    `with page as materialized (
       select * from claims c where ${conditions.filter((one) => one !== false).join(' and ')}
       order by c.fact limit ${of(most, 'int')}
     ), replaced as materialized (
       select owner, replaces, fact from claims where replaces = any (array(select fact from page))
     )
     select ${claimColumns}, f.statement::jsonb ->> 'reference' as reference,
       f.performed_from as "raisedFrom", f.performed_to as "raisedTo", r.fact as "replacedBy"
     from page c join facts f on f.owner = c.owner and f.id = c.fact join organisations whose on whose.id = c.owner
     left join replaced r on r.owner = c.owner and r.replaces = c.fact
     order by c.fact`,
    values,
  );
  return rows;
}

export type TermsRow = {
  readonly maker: string;
  readonly id: string;
  readonly version: number;
  readonly fact: string;
  readonly validFrom: string;
  readonly validUntil: string | null;
  /** Canonical JSON: what the service calls them, and the limits by part. */
  readonly content: string;
  readonly fingerprint: string;
  readonly recordedAt: string;
};

/** Every version of what these makers have stated. */
export async function readTerms(tx: Tx, makers: readonly string[]): Promise<TermsRow[]> {
  if (makers.length === 0) return [];
  const { rows } = await tx.query<TermsRow>({
    name: 'read-terms',
    text: `
      select maker, id, version, fact, valid_from as "validFrom", valid_until as "validUntil", content, fingerprint,
        recorded_at as "recordedAt"
      from terms where maker = any ($1::text[]) order by maker, id, version`,
    values: [makers],
  });
  return rows;
}
