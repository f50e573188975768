/** A unit as it is now: what sits in it, what it is on or has on it, whether it is held and by which rule. */
import type { UnitKind } from '../core/history/event.ts';
import type { UnitState } from '../core/history/fold.ts';
import { nameKey } from '../core/records/name-key.ts';
import { Problem } from '../errors.ts';
import { findUnits, namesOfUnits, type UnitName } from '../store/sql/find-units.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { noteShown } from './journal-access.ts';
import { placeOf } from './recording/loaded.ts';
import { concessionRecords, type FindingView, viewsOfFindings } from './view-findings.ts';

export type UnitPath = { readonly kind: UnitKind; readonly maker: string; readonly name: string };

export type CustodyView = {
  readonly record: string;
  readonly is: 'in' | 'out';
  /** That said so. */
  readonly shop: string;
  readonly since: string;
};

export type UnitView = {
  readonly unit: string;
  readonly kind: UnitKind;
  readonly maker: string;
  /** The serial or tag; null for a control that is known by its pump alone. */
  readonly name: string | null;
} & Omit<UnitState, 'unit' | 'seq' | 'open' | 'mounted' | 'stations' | 'custody'> & {
    readonly fit: UnitState['stations'];
    readonly findings: readonly FindingView[];
    readonly custody: CustodyView | null;
    readonly mounted: {
      readonly unit: string;
      readonly kind: UnitKind;
      readonly name: string | null;
      readonly since: string;
    } | null;
  };

/** A pump comes with the control on it, a control with the pump under it. */
export async function readUnit(
  app: App,
  asker: Asker,
  path: UnitPath,
): Promise<{ unit: UnitView; partner: UnitView | null }> {
  requireSight(asker, path.maker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const name = await requireUnit(tx, path);
    const [own] = await readCurrent(tx, [name.unit]);
    if (own === undefined) throw notFound(path);
    const partnerId = own.mounted?.with ?? null;
    const [partner] = partnerId === null ? [] : await readCurrent(tx, [partnerId]);
    const names = await namesOfUnits(tx, [name.unit, ...(partnerId === null ? [] : [partnerId])]);
    const facts = await readFacts(tx, recordsBehind([own, ...(partner === undefined ? [] : [partner])]));
    return {
      unit: viewOf(own, path.kind, path.maker, names, facts),
      partner: partner === undefined ? null : viewOf(partner, otherKind(path.kind), path.maker, names, facts),
    };
  });
}

/**
 * A distributor reads as itself; the maker's people across distributors, but only their own make, and what they are
 * shown is noted.
 */
export function readingContext(asker: Asker): {
  role: 'reader' | 'analyst';
  orgs: string[];
  makers: string[];
  readOnly: true;
  watch?: (row: Readonly<Record<string, unknown>>) => void;
} {
  const { distributor } = asker.organisations;
  if (distributor !== null && asker.distributor !== null)
    return { role: 'reader', orgs: [distributor], makers: [], readOnly: true };
  const makers = asker.maker === null ? [] : [asker.maker];
  return { role: 'analyst', orgs: [], makers, readOnly: true, watch: (row) => noteShown(asker.shown, row) };
}

export function isAnalyst(asker: Asker): boolean {
  return asker.distributor === null;
}

/** Any unit that can be named may be looked up; the maker's people see their own make. */
export function requireSight(asker: Asker, maker: string): void {
  requireOwnMake(asker, maker);
  requireReading(asker);
}

/** Records are read by their distributor, and by the people of the maker. */
export function requireReading(asker: Asker): void {
  if (!asker.scopes.has(isAnalyst(asker) ? 'warranty:read' : 'record:read'))
    throw new Problem('forbidden', 'The token lacks the scope record:read, or warranty:read for the maker.');
}

/** Whatever else a token may do, it shows its maker's people no unit of another make, nor whether there is one. */
export function requireOwnMake(asker: Asker, maker: string): void {
  if (isAnalyst(asker) && asker.maker !== maker)
    throw new Problem('not-found', 'No unit of this maker is yours to see.');
}

export async function requireUnit(tx: Tx, path: UnitPath): Promise<UnitName> {
  const { kind, maker, name } = path;
  const [found] = await findUnits(tx, [{ unitKind: kind, maker, nameKey: nameKey(name) }]);
  if (found === undefined) throw notFound(path);
  return found;
}

/** `own`: the facts that the asker may see. Where a unit is, and some limits, stand in a record alone, and are for who may read that. */
export function viewOf(
  state: UnitState,
  kind: UnitKind,
  maker: string,
  names: readonly UnitName[],
  own: readonly FactRow[],
): UnitView {
  const { unit, seq: _, open, stations, mounted, custody, ...rest } = state;
  const partner =
    mounted === null
      ? null
      : { unit: mounted.with, kind: otherKind(kind), name: nameOf(names, mounted.with), since: mounted.since };
  const name = nameOf(names, unit);
  const seen = {
    fit: stations,
    findings: viewsOfFindings(open, own),
    mounted: partner,
    custody: custodyOf(custody, own),
  };
  return { unit, kind, maker, name, ...rest, ...seen };
}

/** The same null for a unit of which nobody has said where it is and for one that somebody else holds. */
function custodyOf(custody: UnitState['custody'], own: readonly FactRow[]): CustodyView | null {
  const movement = own.find((one) => one.id === custody?.record);
  const [place] = movement === undefined ? [] : placeOf(movement.owner, JSON.parse(movement.statement));
  if (custody === null || movement === undefined || place === undefined) return null;
  return { ...custody, shop: place.shop, since: movement.performedTo };
}

/** The records that say where these units are, and within what they may be used. */
export function recordsBehind(states: readonly UnitState[]): string[] {
  return states.flatMap(({ custody, open }) => [
    ...(custody === null ? [] : [custody.record]),
    ...concessionRecords(open),
  ]);
}

export function nameOf(names: readonly UnitName[], unit: string): string | null {
  return names.find((one) => one.unit === unit)?.asWritten ?? null;
}

function otherKind(kind: UnitKind): UnitKind {
  return kind === 'pump' ? 'control' : 'pump';
}

function notFound({ kind, maker, name }: UnitPath): Problem {
  return new Problem('not-found', `No ${kind} of ${maker} is known as ${name}.`);
}
