/** What became of what was acknowledged, as the tables say, past every right. */
import { withSuperuser } from '../../support/test-server.ts';
import type { Acknowledged } from './writers.ts';

export type Verdict = {
  /** Acknowledged, and not there. */
  readonly lost: number;
  /** Of a reference that another record has too, or of a writer that was never told of it. */
  readonly duplicated: number;
  /** Parts that facts lack, and facts that parts lack. */
  readonly halfWritten: number;
  /** Keys that would be answered with other bytes. */
  readonly otherAnswers: number;
};

export const nothingWrong: Verdict = { lost: 0, duplicated: 0, halfWritten: 0, otherAnswers: 0 };

/** When every writer has been answered. `name` begins their keys and references. */
export async function judge(
  superuserUrl: string,
  name: string,
  acknowledged: ReadonlyMap<string, Acknowledged>,
): Promise<Verdict> {
  return await withSuperuser(superuserUrl, async (client) => {
    const kept = new Map<string, { fact: string; answer: string; isThere: boolean }>();
    const keys = await client.query<{ key: string; fact: string; answer: string; isThere: boolean }>(
      `select key, fact, encode(sha256(convert_to(answer, 'UTF8')), 'hex') as answer,
         exists (select from facts f where f.owner = k.owner and f.id = k.fact) as "isThere"
       from idempotency_keys k where key like $1`,
      [`key-${name}-%`],
    );
    for (const { key, ...row } of keys.rows) kept.set(key, row);
    let lost = 0;
    let otherAnswers = 0;
    for (const [key, { fact, answer }] of acknowledged) {
      const row = kept.get(key);
      if (row?.fact !== fact || !row.isThere) lost += 1;
      else if (row.answer !== answer) otherAnswers += 1;
    }
    const records = await client.query<{ id: string; reference: string }>(
      `select id, statement::jsonb ->> 'reference' as reference from facts where kind in ('conversion', 'inspection')
         and statement::jsonb ->> 'reference' like $1`,
      [`R-${name}-%`],
    );
    const told = new Set([...acknowledged.values()].map((one) => one.fact));
    const references = new Set<string>();
    let duplicated = 0;
    for (const { id, reference } of records.rows) {
      if (!told.has(id) || references.has(reference)) duplicated += 1;
      references.add(reference);
    }
    const { rows } = await client.query<{ n: number }>(halvesSql);
    return { lost, duplicated, otherAnswers, halfWritten: rows[0]?.n ?? 0 };
  });
}

/** Every table that one recording writes, beside the heads and states that `audit` compares. */
const parts = [
  ...[
    'idempotency_keys',
    'record_references',
    'fact_privates',
    'unit_events',
    'part_uses',
    'mentions',
    'registrations',
  ],
  ...['staged_leaves', 'log_leaves', 'outbox'],
];
const ofRecords = ['idempotency_keys', 'record_references', 'unit_events'];
const ids = (kinds: string) => `select id from facts ${kinds}`;
const those = (table: string) => `select fact from ${table}`;

/** As sets: looked up fact by fact, tens of thousands took longer than all that was recorded. */
const halves = [
  ...['fact_privates', 'outbox'].map((table) => `${ids('')} except ${those(table)}`),
  ...ofRecords.map((table) => `${ids(`where kind in ('conversion', 'inspection')`)} except ${those(table)}`),
  `${ids('')} except (${those('staged_leaves')} union ${those('log_leaves')})`,
  `select fact from (${those('staged_leaves')} union all ${those('log_leaves')}) as leaves group by fact having count(*) > 1`,
  ...parts.map((table) => `${those(table)} except ${ids('')}`),
];
const halvesSql = `select (${halves.map((half) => `(select count(*) from (${half}) as half)`).join(' + ')})::int as n`;
