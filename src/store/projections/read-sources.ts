/** What projections are derived from, in batches in the order of keys. */
import type { Effect, UnitEvent } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';

/** A fact with its salts, its free text where that isn't erased, and the record that it concerns. */
export type SourceFact = {
  readonly owner: string;
  readonly id: string;
  readonly kind: string;
  readonly recordedAt: string;
  readonly origin: string;
  readonly statement: string;
  readonly judgement: string;
  readonly originSalt: Buffer;
  readonly statementSalt: Buffer;
  readonly judgementSalt: Buffer;
  readonly privateDigest: string | null;
  readonly entry: string;
  readonly private: string | null;
  readonly privateSalt: Buffer | null;
  readonly recordMaker: string | null;
  readonly recordEdition: string | null;
};

export async function countFacts(tx: Tx): Promise<number> {
  const { rows } = await tx.query<{ count: string }>('select count(*) as count from facts');
  return Number(rows[0]?.count ?? 0);
}

/** The next facts after this one, at most so many. */
export async function nextFacts(
  tx: Tx,
  after: Pick<SourceFact, 'owner' | 'id'> | null,
  most: number,
): Promise<SourceFact[]> {
  const { rows } = await tx.query<SourceFact>(
    `select f.owner, f.id, f.kind, f.recorded_at as "recordedAt", f.origin, f.statement, f.judgement,
       f.origin_salt as "originSalt", f.statement_salt as "statementSalt", f.judgement_salt as "judgementSalt",
       f.private_digest as "privateDigest", f.entry, p.section as private, p.salt as "privateSalt",
       record.maker as "recordMaker", record.edition as "recordEdition"
     from facts f
     left join fact_privates p on p.owner = f.owner and p.fact = f.id
     left join facts record on record.owner = f.owner and record.id = f.concerns
     where $1::uuid is null or (f.owner, f.id) > ($1::uuid, $2::uuid)
     order by f.owner, f.id limit $3`,
    [after?.owner ?? null, after?.id ?? null, most],
  );
  return rows;
}

/** The shops' own ids of these people, by `owner/id`. Names are not read. */
export async function ownIdsOf(
  tx: Tx,
  people: readonly { owner: string; id: string }[],
): Promise<ReadonlyMap<string, string>> {
  if (people.length === 0) return new Map();
  const { rows } = await tx.query<{ person: string; ownId: string }>(
    `select owner || '/' || id as person, own_id as "ownId" from people
     where (owner, id) in (select * from unnest($1::uuid[], $2::uuid[]))`,
    [people.map((one) => one.owner), people.map((one) => one.id)],
  );
  return new Map(rows.map(({ person, ownId }) => [person, ownId]));
}

/** What the entry of a fact is made of, with the places of its units as their chains have them. */
export type SourceLeaf = {
  readonly owner: string;
  readonly id: string;
  readonly kind: string;
  readonly recordedAt: string;
  readonly edition: string | null;
  readonly ruleset: string;
  readonly digests: string;
  readonly subjects: readonly { readonly unit: string; readonly seq: number; readonly prev: string | null }[];
};

export async function nextLeaves(
  tx: Tx,
  after: Pick<SourceLeaf, 'owner' | 'id'> | null,
  most: number,
): Promise<SourceLeaf[]> {
  const { rows } = await tx.query<SourceLeaf>(
    `select f.owner, f.id, f.kind, f.recorded_at as "recordedAt", f.edition, f.ruleset, e.digests,
       coalesce(s.subjects, '[]') as subjects
     from expected_facts e
     join facts f on f.owner = e.owner and f.id = e.id
     left join lateral (
       select json_agg(json_build_object('unit', unit_id, 'seq', seq, 'prev', prev)) as subjects
       from expected_unit_events where owner = e.owner and fact = e.id) s on true
     where $1::uuid is null or (e.owner, e.id) > ($1::uuid, $2::uuid)
     order by e.owner, e.id limit $3`,
    [after?.owner ?? null, after?.id ?? null, most],
  );
  return rows;
}

/** A kept answer beside what it should say: all but the key and signature of the receipt. */
export type SourceAnswer = {
  readonly owner: string;
  readonly unit: string;
  readonly answer: string;
  readonly stated: string;
  readonly entry: string;
  readonly recordedAt: string;
  readonly digests: string;
  /** Hexadecimal, by section; null where the free text is erased with its salt. */
  readonly salts: Readonly<Record<string, string | null>>;
  readonly subjects: SourceLeaf['subjects'];
};

export async function nextAnswers(
  tx: Tx,
  after: Pick<SourceAnswer, 'owner' | 'unit'> | null,
  most: number,
): Promise<SourceAnswer[]> {
  const { rows } = await tx.query<SourceAnswer>(
    `select r.owner, r.unit_id as unit, r.answer, e.stated, f.entry, f.recorded_at as "recordedAt", d.digests,
       json_build_object('origin', encode(f.origin_salt, 'hex'), 'statement', encode(f.statement_salt, 'hex'),
         'judgement', encode(f.judgement_salt, 'hex'), 'private', encode(p.salt, 'hex')) as salts,
       (select json_agg(json_build_object('unit', unit_id, 'seq', seq, 'prev', prev))
        from expected_unit_events where owner = f.owner and fact = f.id) as subjects
     from registrations r
     join expected_registrations e on e.owner = r.owner and e.unit_id = r.unit_id
     join facts f on f.owner = e.owner and f.id = e.fact
     join expected_facts d on d.owner = f.owner and d.id = f.id
     left join fact_privates p on p.owner = f.owner and p.fact = f.id
     where $1::uuid is null or (r.owner, r.unit_id) > ($1::uuid, $2::uuid)
     order by r.owner, r.unit_id limit $3`,
    [after?.owner ?? null, after?.unit ?? null, most],
  );
  return rows;
}

/** An event with the entry of its fact, and the maker of the fact. */
export type SourceEvent = UnitEvent & { readonly entry: string; readonly maker: string | null };

/** All events of the next units after this one, by unit and seq. */
export async function nextUnits(tx: Tx, after: string | null, mostUnits: number): Promise<SourceEvent[]> {
  const { rows } = await tx.query<Omit<SourceEvent, 'seq' | 'effect'> & { seq: string; effect: string }>(
    `select unit_id as unit, seq, prev, fact, kind, performed_from as "performedFrom", performed_to as "performedTo",
       recorded_at as "recordedAt", after, effect, entry, maker
     from expected_unit_events
     where unit_id in (
       select distinct unit_id from expected_unit_events where $1::uuid is null or unit_id > $1 order by 1 limit $2)
     order by unit_id, seq`,
    [after, mostUnits],
  );
  return rows.map((row) => ({ ...row, seq: Number(row.seq), effect: JSON.parse(row.effect) as Effect }));
}
