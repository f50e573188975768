import type { Subject } from '../../core/log/leaf.ts';
import type { Tx } from '../transaction.ts';

/** A fact as the log has it: what its leaf is made of. Salts as hexadecimal. */
export type KeptRow = {
  readonly owner: string;
  readonly id: string;
  readonly kind: string;
  readonly recordedAt: string;
  readonly edition: string | null;
  readonly ruleset: string | null;
  readonly origin: string;
  readonly statement: string;
  readonly judgement: string;
  readonly originSalt: string;
  readonly statementSalt: string;
  readonly judgementSalt: string;
  readonly privateDigest: string;
  readonly entry: string;
};

/** These facts, as far as this transaction may see them. */
export async function readKept(tx: Tx, ids: readonly string[]): Promise<KeptRow[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.query<KeptRow>({
    name: 'read-kept',
    text: `
      select owner, id, kind, recorded_at as "recordedAt", edition, ruleset, origin, statement, judgement,
        encode(origin_salt, 'hex') as "originSalt", encode(statement_salt, 'hex') as "statementSalt",
        encode(judgement_salt, 'hex') as "judgementSalt", private_digest as "privateDigest", entry
      from facts where id = any ($1::uuid[]) order by id`,
    values: [ids],
  });
  return rows;
}

/** What is kept apart of these facts of the transaction's organisations, where it was not erased. */
export async function readPrivates(
  tx: Tx,
  ids: readonly string[],
): Promise<{ fact: string; section: string; salt: string }[]> {
  const { rows } = await tx.query<{ fact: string; section: string; salt: string }>({
    name: 'read-privates',
    text: `select fact, section, encode(salt, 'hex') as salt from fact_privates where fact = any ($1::uuid[])`,
    values: [ids],
  });
  return rows;
}

/** The places of these facts in the chains of their units. Only the recorder may. */
export async function readSubjects(tx: Tx, ids: readonly string[]): Promise<(Subject & { readonly fact: string })[]> {
  const { rows } = await tx.query<Subject & { fact: string }>({
    name: 'read-subjects',
    text: `
      select fact, unit_id as unit, seq::float8 as seq, prev from unit_events
      where fact = any ($1::uuid[]) order by fact, unit_id`,
    values: [ids],
  });
  return rows;
}

/** The facts of a unit in the order of its chain, and the entry of the last. Only the recorder may. */
export async function readPlaces(
  tx: Tx,
  unit: string,
): Promise<{ fact: string; seq: number; prev: string | null; last: string }[]> {
  const { rows } = await tx.query<{ fact: string; seq: number; prev: string | null; last: string }>({
    name: 'read-places',
    text: `
      select e.fact, e.seq::float8 as seq, e.prev, h.entry as last
      from unit_events e join unit_heads h on h.unit_id = e.unit_id
      where e.unit_id = $1::uuid order by e.seq`,
    values: [unit],
  });
  return rows;
}
