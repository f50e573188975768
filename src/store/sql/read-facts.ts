import type { Tx } from '../transaction.ts';
import type { WhichUnits } from './which-units.ts';

export type FactRow = {
  readonly owner: string;
  readonly id: string;
  readonly kind: string;
  readonly maker: string | null;
  readonly edition: string | null;
  readonly ruleset: string;
  readonly performedFrom: string;
  readonly performedTo: string;
  readonly recordedAt: string;
  readonly after: string | null;
  readonly concerns: string | null;
  readonly origin: string;
  readonly statement: string;
  readonly judgement: string;
  readonly entry: string;
};

export const factColumns = `
  owner, id, kind, maker, edition, ruleset, performed_from as "performedFrom", performed_to as "performedTo",
  recorded_at as "recordedAt", after, concerns, origin, statement, judgement, entry`;

/** These facts, as far as this transaction may see them: row security does the rest. */
export async function readFacts(tx: Tx, ids: readonly string[]): Promise<FactRow[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.query<FactRow>({
    name: 'read-facts',
    text: `select ${factColumns} from facts where id = any ($1::uuid[]) order by id`,
    values: [ids],
  });
  return rows;
}

/** All facts about these units that this transaction may see, and the records that a judgement brought to them. */
export async function readFactsOfUnits(tx: Tx, { as, ids, values }: WhichUnits): Promise<FactRow[]> {
  const { rows } = await tx.query<FactRow>({
    name: `read-facts-of-units-${as}`,
    text: `
      with dated as materialized (select fact from unit_dates where unit_id = any (${ids})),
      about as materialized (
        select fact from dated
        union
        select concerns from facts where id = any (array(select fact from dated)) and kind = 'judgement')
      select ${factColumns} from facts where id = any (array(select fact from about)) order by id`,
    values: [...values],
  });
  return rows;
}

/** Which of these facts this transaction may see. */
export async function visibleAmong(tx: Tx, ids: readonly string[]): Promise<Set<string>> {
  if (ids.length === 0) return new Set();
  const { rows } = await tx.query<{ id: string }>({
    name: 'visible-among',
    text: 'select id from facts where id = any ($1::uuid[])',
    values: [ids],
  });
  return new Set(rows.map(({ id }) => id));
}

/** Which facts about these units this transaction may see, of all or of those recorded until then. */
export async function visibleFacts(tx: Tx, units: readonly string[], known: string | null): Promise<Set<string>> {
  const { rows } = await tx.query<{ owner: string; id: string }>({
    name: 'visible-facts',
    text: `
      select owner, id from facts
      where id = any (array(
        select fact from unit_dates
        where unit_id = any ($1::uuid[]) and ($2::timestamptz is null or recorded_at <= $2)))`,
    values: [units, known],
  });
  return new Set(rows.map(({ id }) => id));
}

export type MovementRow = Pick<FactRow, 'id' | 'owner' | 'performedTo' | 'statement'>;

/** Of these facts, as far as this transaction may see them, no more than what says where a unit is. */
export async function readMovements(tx: Tx, ids: readonly string[]): Promise<MovementRow[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.query<MovementRow>({
    name: 'read-movements',
    text: 'select id, owner, performed_to as "performedTo", statement from facts where id = any ($1::uuid[])',
    values: [ids],
  });
  return rows;
}

export type PrivateRow = { readonly owner: string; readonly fact: string; readonly section: string };

/** The private sections of these facts, where there is one and it is not erased. */
export async function readPrivates(tx: Tx, facts: readonly string[]): Promise<PrivateRow[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<PrivateRow>({
    name: 'read-private-texts',
    text: 'select owner, fact, section from fact_privates where fact = any ($1::uuid[])',
    values: [facts],
  });
  return rows;
}

export type RegistrationRow = {
  readonly owner: string;
  readonly unit: string;
  readonly fingerprint: string;
  readonly answer: string;
};

/** How these units were registered, where that was by one of the transaction's organisations. */
export async function readRegistrations(tx: Tx, units: readonly string[]): Promise<RegistrationRow[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<RegistrationRow>({
    name: 'read-registrations',
    text: 'select owner, unit_id as unit, fingerprint, answer from registrations where unit_id = any ($1::uuid[])',
    values: [units],
  });
  return rows;
}
