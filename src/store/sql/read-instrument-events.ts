import type { InstrumentFactKind } from '../../core/records/instrument-bodies.ts';
import type { Tx } from '../transaction.ts';

export type InstrumentEventRow = {
  readonly owner: string;
  readonly instrument: string;
  readonly fact: string;
  readonly kind: InstrumentFactKind | 'instrument-void';
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
