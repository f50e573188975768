/** Nobody affected, or nothing come in, is a heavy answer: it is given of a lot that is known, not of a slip of the pen. */
import { type LotName, lotKey } from '../core/records/lot-name.ts';
import { Problem } from '../errors.ts';
import { isLotStated } from '../store/sql/is-lot-stated.ts';
import { readStock } from '../store/sql/read-stock.ts';
import type { Tx } from '../store/transaction.ts';
import type { Asker } from './asker.ts';

/** To a distributor a lot is known that it has stated; to the maker's people one of their make that anybody has. */
export async function requireLot(tx: Tx, asker: Asker, { maker, number }: LotName): Promise<void> {
  const owner = asker.organisations.distributor;
  if (owner === null) {
    if (!(await isLotStated(tx, maker, number)))
      throw new Problem('not-found', 'Nobody has stated a lot of this maker and number.');
    return;
  }
  const [stated] = await readStock(tx, [{ owner, kind: 'lot', key: lotKey(maker, number) }]);
  if (stated === undefined) throw new Problem('not-found', 'You have stated no lot of this maker and number.');
}
