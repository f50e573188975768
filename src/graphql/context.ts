/** What the resolvers of one request share: who asks, and the loaders. */

import type { GraphQLResolveInfo } from 'graphql';
import type { Asker } from '../app/asker.ts';
import { type ContainedSought, listContained } from '../app/containing/list-contained.ts';
import type { App } from '../app/context.ts';
import { type ConversionsAsked, countConversions, countRulesOfConversions } from '../app/count-conversions.ts';
import { inTurn } from '../app/in-turn.ts';
import { listFindings } from '../app/list-findings.ts';
import { countDue, countHeld } from '../app/list-held.ts';
import { listStock } from '../app/list-own.ts';
import { listRecords, type RecordsAsked } from '../app/list-records.ts';
import { type ClaimedLotsAsked, type Exposure, listClaimedLots, readExposures } from '../app/lot-exposure.ts';
import type { PageAsked } from '../app/page.ts';
import { type Past, type PastAsked, readPasts } from '../app/read-history.ts';
import { type LotUse, type LotView, readLots, readLotUses } from '../app/read-lots.ts';
import { readRecords } from '../app/read-record.ts';
import { isAnalyst, type UnitPath, type UnitView } from '../app/read-unit.ts';
import { readUnits, readUnitsByName, readUnitsWithPasts } from '../app/read-units.ts';
import { nothingSeen, type RecordParts, wholeRecord } from '../app/record-views.ts';
import type { LotName } from '../core/records/lot-name.ts';
import { Problem } from '../errors.ts';
import { batched, type Loader } from './batched.ts';
import { partsAsked, type RecordSeen } from './record-parts.ts';

export type GraphContext = {
  readonly asker: Asker;
  readonly unit: (id: string) => Promise<UnitView | null>;
  readonly unitNamed: (path: UnitPath) => Promise<UnitView | null>;
  /** The same; its past as it stands now is then at hand, and whom its records name where that is asked for below the field. */
  readonly unitWithPast: (path: UnitPath, info: GraphQLResolveInfo) => Promise<UnitView | null>;
  readonly past: (asked: PastAsked) => Promise<Past>;
  readonly record: (id: string) => Promise<RecordSeen | null>;
  /** No more of it than what is asked for below the field. */
  readonly recordAsked: (id: string, info: GraphQLResolveInfo) => Promise<RecordSeen | null>;
  readonly lot: (lot: LotName) => Promise<LotView | null>;
  readonly lotUses: (lot: LotName) => Promise<LotUse[]>;
  readonly exposure: (lot: LotName) => Promise<Exposure>;
  /** Lists stand at the root, of which a document has few: they are asked one by one. */
  readonly records: (
    sought: RecordsAsked,
    page: PageAsked & { readonly order: 'oldest' | 'newest' },
  ) => ReturnType<typeof listRecords>;
  readonly findings: (
    sought: Parameters<typeof listFindings>[2],
    page: PageAsked,
    known: string | null,
  ) => ReturnType<typeof listFindings>;
  readonly lots: (page: PageAsked) => ReturnType<typeof listStock>;
  readonly claimedLots: (asked: ClaimedLotsAsked) => ReturnType<typeof listClaimedLots>;
  readonly contained: (sought: ContainedSought) => ReturnType<typeof listContained>;
  readonly conversions: (asked: ConversionsAsked) => ReturnType<typeof countConversions>;
  readonly rulesOfConversions: (asked: ConversionsAsked) => ReturnType<typeof countRulesOfConversions>;
  readonly standing: (
    severity: 'hold' | 'due',
    sought: Parameters<typeof countHeld>[2],
  ) => ReturnType<typeof countHeld>;
};

/**
 * Every batch is a short transaction of its own, and a request has one at a time: nothing is held between resolvers, so a
 * request that is cut off leaves nothing behind. `isCut` says that nobody waits for the answer any more.
 * @throws Problem forbidden
 */
export function contextFor(app: App, asker: Asker, isCut: () => boolean): GraphContext {
  requireReading(asker);
  const turn = inTurn();
  const read = <T>(work: () => Promise<T>) =>
    turn(async () => {
      if (isCut()) throw new Problem('malformed-request', 'The request was broken off.');
      return await work();
    });
  const seen = nothingSeen();
  const byId = (id: string) => id;
  const byLot = ({ maker, number }: LotName) => `${maker}/${number}`;
  const past = batched<PastAsked, Past>(byText, (asked) => read(() => readPasts(app, asker, async () => asked, seen)));
  const withPast = batched<{ path: UnitPath; people: boolean }, UnitView | null>(byText, async (asked) => {
    const paths = asked.map(({ path }) => path);
    const asksPeople = asked.some(({ people }) => people);
    return (await read(() => readUnitsWithPasts(app, asker, paths, seen, asksPeople))).map((found) => {
      if (found !== null && !(found.past instanceof Problem)) past.tell(pastAsked(found.unit, {}), found.past);
      return found?.unit ?? null;
    });
  });
  const loaders = new Map<string, Loader<string, RecordSeen | null>>();
  const recordsWith = (parts: RecordParts) => {
    const before = loaders.get(byText(parts));
    if (before !== undefined) return before;
    const load = batched(byId, async (ids: readonly string[]) =>
      (await read(() => readRecords(app, asker, ids, seen, parts))).map((view) => view && { ...view, parts }),
    );
    loaders.set(byText(parts), load);
    return load;
  };
  return {
    asker,
    unit: batched(byId, (ids) => read(() => readUnits(app, asker, ids))),
    unitNamed: batched<UnitPath, UnitView | null>(byText, (paths) => read(() => readUnitsByName(app, asker, paths))),
    unitWithPast: (path, info) => withPast({ path, people: partsAsked(info).people }),
    past,
    record: recordsWith(wholeRecord),
    recordAsked: (id, info) => recordsWith(partsAsked(info))(id),
    lot: batched(byLot, (lots) => read(() => readLots(app, asker, lots))),
    lotUses: batched(byLot, (lots) => read(() => readLotUses(app, asker, lots))),
    exposure: batched(byLot, (lots) => read(() => readExposures(app, asker, lots))),
    records: (sought, page) => read(() => listRecords(app, asker, sought, page)),
    findings: (sought, page, known) => read(() => listFindings(app, asker, sought, page, known)),
    lots: (page) => read(() => listStock(app, asker, 'lot', page)),
    claimedLots: (asked) => read(() => listClaimedLots(app, asker, asked)),
    contained: (sought) => read(() => listContained(app, asker, sought)),
    conversions: (asked) => read(() => countConversions(app, asker, asked)),
    rulesOfConversions: (asked) => read(() => countRulesOfConversions(app, asker, asked)),
    standing: (severity, sought) =>
      read(() => (severity === 'hold' ? countHeld(app, asker, sought) : countDue(app, asker, sought))),
  };
}

/** As for REST's reads and its export: a distributor's own records by record:read or report:read, the maker's by warranty:read. */
function requireReading(asker: Asker): void {
  const enough = isAnalyst(asker) ? ['warranty:read' as const] : ['record:read' as const, 'report:read' as const];
  if (enough.some((scope) => asker.scopes.has(scope))) return;
  throw new Problem('forbidden', `The token lacks the scope ${enough.join(' or ')}.`, { extra: { scopes: enough } });
}

/** Asked of a unit alone it is the past as it stands now, and so one with the history that asks for no time. */
export function pastAsked(
  { unit, kind, maker }: Pick<UnitView, 'unit' | 'kind' | 'maker'>,
  { performed = null, known = null }: { performed?: string | null | undefined; known?: string | null | undefined },
): PastAsked {
  return { unit, kind, maker, performed, known };
}

function byText(key: object): string {
  return JSON.stringify(key);
}
