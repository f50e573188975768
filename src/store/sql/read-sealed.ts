import type { Tx } from '../transaction.ts';

/** What the receipt of a fact is made of; salts as hexadecimal. */
export type SealedRow = {
  readonly fact: string;
  readonly recordedAt: string;
  readonly entry: string;
  readonly origin: string;
  readonly statement: string;
  readonly judgement: string;
  readonly private: string;
  readonly originSalt: string;
  readonly statementSalt: string;
  readonly judgementSalt: string;
  readonly privateSalt: string;
};

/** These facts of the transaction's organisations, but for those of which something was erased. */
export async function readSealed(tx: Tx, facts: readonly string[]): Promise<SealedRow[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<SealedRow>({
    name: 'read-sealed',
    text: `
      select f.id as fact, f.recorded_at as "recordedAt", f.entry, f.origin, f.statement, f.judgement,
        p.section as private, encode(f.origin_salt, 'hex') as "originSalt",
        encode(f.statement_salt, 'hex') as "statementSalt", encode(f.judgement_salt, 'hex') as "judgementSalt",
        encode(p.salt, 'hex') as "privateSalt"
      from facts f join fact_privates p on p.owner = f.owner and p.fact = f.id
      where f.id = any ($1::uuid[])`,
    values: [facts],
  });
  return rows;
}
