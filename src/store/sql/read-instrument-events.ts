import type { InstrumentFactKind } from '../../core/records/instrument-bodies.ts';
import type { Tx } from '../transaction.ts';

export type InstrumentEventRow = {
  readonly owner: string;
  readonly instrument: string;
  readonly fact: string;
  readonly kind: InstrumentFactKind;
  readonly performedFrom: string;
  readonly performedTo: string;
  readonly statement: string;
};
type Named = { readonly owner: string; readonly key: string };

const columns = `
  owner, instrument, fact, kind, performed_from as "performedFrom", performed_to as "performedTo", statement`;

/** All that is stated of these instruments over time. */
export async function readInstrumentEvents(tx: Tx, instruments: readonly Named[]): Promise<InstrumentEventRow[]> {
  if (instruments.length === 0) return [];
  const { rows } = await tx.query<InstrumentEventRow>({
    name: 'read-instrument-events',
    text: `
      select ${columns} from instrument_events
      where (owner, instrument) in (select * from unnest($1::uuid[], $2::text[])) order by performed_to, fact`,
    values: [instruments.map((one) => one.owner), instruments.map((one) => one.key)],
  });
  return rows;
}

/**
 * Who states something of an instrument locks it against everybody (`update`), who judges by it against those alone
 * (`share`): so what was judged without it is found when it is judged again. After people and shops, by owner and key.
 */
export async function lockInstruments(tx: Tx, mode: 'share' | 'update', instruments: readonly Named[]): Promise<void> {
  if (instruments.length === 0) return;
  await tx.query({
    name: `lock-instruments-for-${mode}`,
    text: `
      select from stock_items
      where kind = 'instrument' and (owner, key) in (select * from unnest($1::uuid[], $2::text[]))
      order by owner, key for ${mode}`,
    values: [instruments.map((one) => one.owner), instruments.map((one) => one.key)],
  });
}
