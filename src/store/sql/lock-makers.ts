import type { Tx } from '../transaction.ts';

/**
 * Who publishes for these makers takes turns until the end of the transaction: what is read next is all that was
 * published before. In one order, so that two batches with two makers don't lock each other out.
 */
export async function lockMakers(tx: Tx, makers: readonly string[]): Promise<void> {
  if (makers.length === 0) return;
  await tx.query({
    name: 'lock-makers',
    text: `select from organisations where slug = any ($1::text[]) and kind = 'maker' order by id for update`,
    values: [makers],
  });
}
