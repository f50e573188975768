/** Writes what a batch decided, one statement a table. Whatever was taken meanwhile makes the whole batch begin again. */
import { canonical } from '../../core/log/canonical.ts';
import { fingerprint } from '../../core/log/fingerprint.ts';
import { erasePerson } from '../../store/sql/erase-person.ts';
import { type AppendedTable, insertRows, type Row } from '../../store/sql/insert-rows.ts';
import { addToSums } from '../../store/sql/lot-sums.ts';
import { renewFindings } from '../../store/sql/unit-findings.ts';
import { type ReplacedRow, type ReplacedTable, upsertRows } from '../../store/sql/upsert-rows.ts';
import { allInOrder, type Tx } from '../../store/transaction.ts';
import { mentionRows } from '../derived/mention-rows.ts';
import { ConcurrentChange } from './concurrent-change.ts';
import type { KeptFact } from './keep.ts';
import { keyInUse } from './key-in-use.ts';

/**
 * In one order for all batches, rows of a table in the order of their keys: what two batches both want is waited for
 * in the same order by both. Keys come first, because they are what a repeated request meets.
 */
export async function commit(tx: Tx, kept: readonly KeptFact[], attempts: readonly Row<'attempts'>[]): Promise<void> {
  await allInOrder(inserting(tx, kept, attempts));
  for (const { request, draft } of kept) {
    if (draft.erases !== undefined) await erasePerson(tx, { owner: request.owner, ...draft.erases });
  }
}

/** Asked at once, in one write; done one after the other. */
function inserting(tx: Tx, kept: readonly KeptFact[], attempts: readonly Row<'attempts'>[]): Promise<void>[] {
  return [
    append(tx, 'idempotency_keys', keyRows(kept)).catch((error: unknown) => {
      throw isLockTimeout(error) ? keyInUse(error) : error;
    }),
    append(
      tx,
      'record_references',
      kept.flatMap(({ request, draft }) =>
        draft.reference === null ? [] : [{ owner: request.owner, ...draft.reference, fact: request.fact }],
      ),
    ),
    append(
      tx,
      'unit_names',
      kept.flatMap(({ request, draft }) => draft.names.map((name) => ({ ...name, fact: request.fact }))),
    ),
    replace(
      tx,
      'unit_names',
      kept.flatMap(({ request, draft }) => (draft.moved ?? []).map((name) => ({ ...name, fact: request.fact }))),
    ),
    append(
      tx,
      'facts',
      kept.map((one) => one.fact),
    ),
    append(
      tx,
      'fact_privates',
      kept.flatMap((one) => one.private ?? []),
    ),
    append(
      tx,
      'unit_events',
      kept.flatMap((one) => one.events.map(eventRow)),
    ),
    replace(tx, 'unit_heads', lastPerUnit(kept.flatMap((one) => one.heads))),
    replace(tx, 'unit_states', lastPerUnit(kept.flatMap((one) => one.states))),
    renewFindings(
      tx,
      kept.flatMap((one) => one.events.map(({ unit }) => unit)),
    ),
    append(tx, 'part_uses', kept.flatMap(useRows)),
    addToSums(
      tx,
      kept
        .filter(({ draft }) => draft.uses.length > 0 || draft.kind === 'correction')
        .map(({ request: { owner, fact } }) => ({ owner, fact })),
    ),
    append(tx, 'mentions', kept.flatMap(mentionsOf)),
    append(tx, 'pending_judgements', kept.flatMap(pendingRows)),
    append(
      tx,
      'registrations',
      kept.flatMap(({ request, draft, answer }) =>
        draft.registers === undefined
          ? []
          : [
              {
                owner: request.owner,
                unit_id: draft.registers.unit,
                fact: request.fact,
                fingerprint: draft.registers.fingerprint,
                answer,
              },
            ],
      ),
    ),
    replace(
      tx,
      'people',
      kept.flatMap(({ request, draft: { person } }) =>
        person === undefined
          ? []
          : [{ owner: request.owner, id: person.id, own_id: person.ownId, name: person.name, subject: person.subject }],
      ),
    ),
    replace(
      tx,
      'stock_items',
      kept.flatMap(({ request, draft: { stock } }) =>
        stock === undefined
          ? []
          : [{ owner: request.owner, fact: request.fact, ...stock, statement: canonical(stock.statement) }],
      ),
    ),
    append(
      tx,
      'intakes',
      kept.flatMap(({ request, draft: { intake }, performed }) =>
        intake === undefined
          ? []
          : [{ owner: request.owner, fact: request.fact, ...intake, performed_to: performed.to }],
      ),
    ),
    append(
      tx,
      'instrument_events',
      kept.flatMap(({ draft: { instrumentEvent }, performed: { from, to } }) =>
        instrumentEvent === undefined ? [] : [{ ...instrumentEvent, performed_from: from, performed_to: to }],
      ),
    ),
    ...(['authorisations', 'approvals', 'leave_ends'] as const).map((table) =>
      append(
        tx,
        table,
        kept.flatMap(({ draft }): readonly Row<typeof table>[] => draft.leave?.[table] ?? []),
      ),
    ),
    ...(['claims', 'claim_entries', 'terms'] as const).map((table) =>
      append(
        tx,
        table,
        kept.flatMap(({ draft, recordedAt }) =>
          (draft.claim?.[table] ?? []).map((row) => ({ ...row, recorded_at: recordedAt }) as Row<typeof table>),
        ),
      ),
    ),
    append(
      tx,
      'claim_texts',
      kept.flatMap(({ draft }) => draft.claim?.claim_texts ?? []),
    ),
    append(
      tx,
      'editions',
      kept.flatMap(({ request, draft, recordedAt }) =>
        draft.edition_row === undefined ? [] : [{ ...draft.edition_row, fact: request.fact, published_at: recordedAt }],
      ),
    ),
    append(
      tx,
      'staged_leaves',
      kept.map(({ request, fact }) => ({ fact: request.fact, entry: fact.entry })),
    ),
    append(
      tx,
      'outbox',
      kept.map(({ request, draft, recordedAt }) => ({
        owner: request.owner,
        fact: request.fact,
        kind: draft.kind,
        recorded_at: recordedAt,
      })),
    ),
    append(tx, 'attempts', attempts),
  ];
}

/** The keys by which two batches can want the same row; rows of other tables are named by ids made for this batch. */
const claimedBy: Partial<Record<AppendedTable | ReplacedTable, readonly string[]>> = {
  idempotency_keys: ['owner', 'client', 'key'],
  record_references: ['owner', 'kind', 'reference'],
  unit_names: ['maker', 'unit_kind', 'name_key'],
  unit_heads: ['unit_id'],
  unit_states: ['unit_id'],
  registrations: ['owner', 'unit_id'],
  people: ['owner', 'own_id'],
  stock_items: ['owner', 'kind', 'key'],
  claims: ['owner', 'replaces'],
  terms: ['maker', 'id', 'version'],
  editions: ['maker', 'edition'],
};

async function append<T extends AppendedTable>(tx: Tx, table: T, rows: readonly Row<T>[]): Promise<void> {
  const count = await insertRows(tx, table, inOrder(table, rows));
  if (count !== rows.length)
    throw new ConcurrentChange(`${rows.length - count} of ${rows.length} rows of ${table} were taken`);
}

async function replace(tx: Tx, table: ReplacedTable, rows: readonly ReplacedRow[]): Promise<void> {
  const count = await upsertRows(tx, table, inOrder(table, rows)).catch((error: unknown) => {
    // Somebody was forgotten between our look and our write: the own id leads to nobody any more.
    throw table === 'people' && codeOf(error) === '23505' ? new ConcurrentChange('a person was forgotten') : error;
  });
  if (count !== rows.length)
    throw new ConcurrentChange(`${rows.length - count} of ${rows.length} rows of ${table} were replaced`);
}

function inOrder<R extends ReplacedRow>(table: AppendedTable | ReplacedTable, rows: readonly R[]): readonly R[] {
  const columns = claimedBy[table];
  if (columns === undefined) return rows;
  const keyed = rows.map((row) => ({ row, key: JSON.stringify(columns.map((column) => row[column])) }));
  return keyed.sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0)).map(({ row }) => row);
}

/** Another transaction inserted the key and is still open. */
function isLockTimeout(error: unknown): boolean {
  return codeOf(error) === '55P03';
}

function codeOf(error: unknown): unknown {
  return error instanceof Error && 'code' in error ? error.code : null;
}

function keyRows(kept: readonly KeptFact[]): Row<'idempotency_keys'>[] {
  return kept.flatMap(({ request, draft, answer }) =>
    request.key === null
      ? []
      : [
          {
            owner: request.owner,
            client: request.client,
            key: request.key,
            route: request.route,
            fingerprint: fingerprint(request.sent),
            fact: request.fact,
            status: draft.status,
            answer,
          },
        ],
  );
}

function eventRow(event: KeptFact['events'][number]): Row<'unit_events'> {
  return {
    unit_id: event.unit,
    seq: event.seq,
    prev: event.prev,
    fact: event.fact,
    kind: event.kind,
    performed_from: event.performedFrom,
    performed_to: event.performedTo,
    recorded_at: event.recordedAt,
    after: event.after,
    effect: canonical(event.effect),
  };
}

function useRows({ request, draft }: KeptFact): Row<'part_uses'>[] {
  return draft.uses.map((use, index) => ({ owner: request.owner, fact: request.fact, line: index + 1, ...use }));
}

function mentionsOf({ request, draft, fact, performed }: KeptFact): Row<'mentions'>[] {
  return mentionRows(draft.kind, draft.statement).map((row) => ({
    ...{ owner: request.owner, fact: request.fact, performed_to: performed.to, maker: fact.maker },
    ...row,
  }));
}

function pendingRows({ request, draft }: KeptFact): Row<'pending_judgements'>[] {
  if (draft.judgesAgain === undefined || draft.judgesAgain.length === 0) return [];
  const { owner, fact: cause, client, subject } = request;
  return [{ owner, cause, client, subject, touched: canonical(draft.judgesAgain) }];
}

/** A unit that several records of the batch touched is written once, as the last one left it. */
function lastPerUnit(rows: readonly ReplacedRow[]): ReplacedRow[] {
  return [...new Map(rows.map((row) => [row['unit_id'], row])).values()];
}
