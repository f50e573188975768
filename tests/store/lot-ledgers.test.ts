/** What a lot is reckoned from is found by its owner and name, however much else there is. */
import { expect, it } from 'vitest';
import { lotsOfFacts, readMoves, readUses } from '../../src/store/sql/lot-ledgers.ts';
import { sumsOf, sumUses } from '../../src/store/sql/lot-sums.ts';
import { judgedUses } from '../../src/store/sql/records-of-lot.ts';
import type { Tx } from '../../src/store/transaction.ts';
import { testDatabase } from '../support/database.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase({ verified: false });

/** Forty lots of each of fifty distributors, fifty uses of each. */
const many = `
  insert into part_uses (owner, fact, line, maker, unit_id, role, place, item, quantity, lot_maker, lot_number, shop, reference, performed_to)
  select ('00000000-0000-7000-8000-0000000000' || lpad(o::text, 2, '0'))::uuid, gen_random_uuid(), 1, 'ardenholm',
    gen_random_uuid(), 'element', 'bleed-seat', 'orifice-0.6', 1, 'ardenholm', 'L-' || l, 'north', u::text, now()
  from generate_series(1, 50) o, generate_series(1, 40) l, generate_series(1, 50) u`;
const lot = { owner: '00000000-0000-7000-8000-000000000007', lot: 'ardenholm/L-7' };

it('reads no table from end to end that grows with the records', async () => {
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query(many);
    await client.query(
      `insert into lot_sums (owner, lot_maker, lot_number, shop, item, quantity) ${sumsOf('part_uses')}`,
    );
    await client.query('analyze part_uses, lot_sums');
    const scans: string[] = [];
    const tx: Tx = {
      query: async (query: unknown, values?: readonly unknown[]) => {
        const { text, values: given } = query as { text: string; values: readonly unknown[] };
        const { rows } = await client.query(`explain ${text}`, [...(given ?? values ?? [])]);
        scans.push(
          ...rows
            .map((row) => String(row['QUERY PLAN']))
            .filter((line) => /Seq Scan on (part_uses|lot_sums|facts)/.test(line)),
        );
        return await client.query(text, [...(given ?? values ?? [])]);
      },
    } as unknown as Tx;
    expect(await readUses(tx, [lot])).toHaveLength(50);
    expect(await sumUses(tx, [lot])).toMatchObject([{ ...lot, item: 'orifice-0.6', quantity: 50 }]);
    await readMoves(tx, [lot]);
    await judgedUses(tx, lot);
    await lotsOfFacts(tx, [lot.owner]);
    expect(scans).toEqual([]);
  });
});
