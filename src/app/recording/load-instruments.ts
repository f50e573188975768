/** Locks the instruments that requests name, and loads all that is stated of them over time. */
import { lockStock } from '../../store/sql/lock-stock.ts';
import { type InstrumentEventRow, readInstrumentEvents } from '../../store/sql/read-instrument-events.ts';
import type { Tx } from '../../store/transaction.ts';
import { isInstrumentFact } from '../derived/instrument-event-row.ts';
import type { Request } from './request.ts';
import type { Wants } from './wants.ts';

type Wanted = { readonly request: Request; readonly wants: Wants };

export async function loadInstruments(tx: Tx, wanted: readonly Wanted[]): Promise<InstrumentEventRow[]> {
  const states = ({ kind }: Request) => kind === 'instrument' || isInstrumentFact(kind);
  const [, , events] = await Promise.all([
    lockStock(tx, 'instrument', 'update', wanted.filter((one) => states(one.request)).flatMap(named)),
    lockStock(tx, 'instrument', 'share', wanted.filter((one) => !states(one.request)).flatMap(named)),
    readInstrumentEvents(tx, wanted.flatMap(named)),
  ]);
  return events;
}

function named({ request: { owner }, wants }: Wanted): { owner: string; key: string }[] {
  return wants.stock.filter((one) => one.kind === 'instrument').map(({ key }) => ({ owner, key }));
}
