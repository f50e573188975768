/** What is derived within the database, once every fact has put down what it says. */
import { sumsOf } from '../sql/lot-sums.ts';
import { findingsOf } from '../sql/unit-findings.ts';
import type { Tx } from '../transaction.ts';

/**
 * The chain of each unit: its events in the order of recording, which recordings keep strictly, without a gap and each
 * with the entry of the one before.
 */
export async function chainEvents(tx: Tx): Promise<void> {
  await tx.query('analyze expected_effects');
  await tx.query(
    `create temp table expected_unit_events on commit drop as
     select owner, entry, maker, unit_id, row_number() over chain as seq, lag(entry) over chain as prev, fact, kind,
       performed_from, performed_to, recorded_at, after, effect
     from expected_effects
     window chain as (partition by unit_id order by recorded_at, owner, fact)`,
  );
  await tx.query('create index on expected_unit_events (unit_id, seq)');
  await tx.query('create index on expected_unit_events (owner, fact)');
  await tx.query('create index on expected_facts (owner, id)');
  await tx.query('analyze expected_unit_events');
  await tx.query('analyze expected_facts');
}

export async function setEntries(
  tx: Tx,
  entries: readonly { owner: string; id: string; entry: string }[],
): Promise<void> {
  await tx.query(
    `update expected_facts e set entry = row.entry
     from jsonb_to_recordset($1::jsonb) as row (owner uuid, id uuid, entry text)
     where e.owner = row.owner and e.id = row.id`,
    [JSON.stringify(entries)],
  );
}

/** A kept answer that fits its fact stands for itself: key and signature of its receipt can't be derived. */
export async function setAnswers(
  tx: Tx,
  answers: readonly { owner: string; unit: string; answer: string }[],
): Promise<void> {
  await tx.query(
    `update expected_registrations e set answer = row.answer
     from jsonb_to_recordset($1::jsonb) as row (owner uuid, unit uuid, answer text)
     where e.owner = row.owner and e.unit_id = row.unit`,
    [JSON.stringify(answers)],
  );
}

/**
 * Every statement of stock has put down its version, and every fact what a name leads to: the latest stays. And what can't be derived is taken over from
 * the row that is there, where it fits its fact; else the expected row keeps the words that say what should be there.
 */
export async function completeRows(tx: Tx): Promise<void> {
  await tx.query(
    `insert into expected_unit_findings (unit_id, nth, fact, severity, finding) ${findingsOf('expected_unit_states')}`,
  );
  await tx.query(
    `insert into expected_lot_sums (owner, lot_maker, lot_number, shop, item, quantity) ${sumsOf('expected_part_uses')}`,
  );
  await tx.query('create index on expected_stock_items (owner, kind, key)');
  await tx.query('analyze expected_stock_items');
  await tx.query(
    `delete from expected_stock_items e using expected_stock_items later
     where later.owner = e.owner and later.kind = e.kind and later.key = e.key and later.version > e.version`,
  );
  await tx.query('create index on expected_unit_names (maker, unit_kind, name_key)');
  await tx.query('analyze expected_unit_names');
  await tx.query(
    `delete from expected_unit_names e
     using facts said, expected_unit_names other join facts later on later.id = other.fact
     where said.id = e.fact and (other.maker, other.unit_kind, other.name_key) = (e.maker, e.unit_kind, e.name_key)
       and (later.recorded_at, later.id) > (said.recorded_at, said.id)`,
  );
  await tx.query(
    `update expected_stock_items e set fingerprint = s.fingerprint from stock_items s
     where e.fingerprint is null and s.owner = e.owner and s.kind = e.kind and s.key = e.key and s.fact = e.fact`,
  );
  await tx.query(
    `update expected_registrations e set fingerprint = r.fingerprint from registrations r
     where e.fingerprint is null and r.owner = e.owner and r.unit_id = e.unit_id and r.fact = e.fact`,
  );
  await tx.query(
    `update expected_editions e set content = p.content from editions p
     where p.maker = e.maker and p.edition = e.edition
       and e.digest = 'sha256:' || encode(sha256(convert_to(p.content, 'UTF8')), 'hex')`,
  );
}
