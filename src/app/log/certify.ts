/** A record with its proof, and all that was recorded of a unit with its proofs: to be checked without the service. */
import type { Certificate, GivenLeaf } from '../../core/log/certificate.ts';
import type { Chain } from '../../core/log/chain.ts';
import { type Section, type Subject, sectionDigest } from '../../core/log/leaf.ts';
import { Problem } from '../../errors.ts';
import { type KeptRow, readKept, readPlaces, readPrivates, readSubjects } from '../../store/sql/read-kept.ts';
import { withTransaction } from '../../store/transaction.ts';
import type { Asker } from '../asker.ts';
import type { App } from '../context.ts';
import { readRecord } from '../read-record.ts';
import { isAnalyst, readingContext, requireSight, requireUnit, type UnitPath } from '../read-unit.ts';
import { proveInclusion, proveOne, requirePublished } from './prove.ts';

/**
 * Of a record that stands and is released. The maker is whose edition it was judged by; the certificate need not name it.
 * @throws Problem not-released for another; not-found for what is not the asker's to see, or not in the log yet
 */
export async function certify(
  app: App,
  asker: Asker,
  id: string,
  withheld: readonly Section[],
): Promise<{ readonly certificate: Certificate; readonly maker: string | null }> {
  const { status, correctedBy, maker } = await readRecord(app, asker, id);
  if (correctedBy !== null)
    throw new Problem('not-released', `This record was replaced by ${correctedBy}: ask for that one's certificate.`);
  if (status !== 'released')
    throw new Problem('not-released', `This record is ${status}: a certificate is of what was judged to be in order.`);
  const [kept] = await keptOf(app, asker, [id]);
  if (kept === undefined) throw new Problem('not-found', `There is no record ${id}.`);
  const { fact, leaf, hidden } = kept;
  const parts = {
    origin: { salt: fact.originSalt, content: JSON.parse(fact.origin) as unknown },
    statement: { salt: fact.statementSalt, content: JSON.parse(fact.statement) as unknown },
    judgement: { salt: fact.judgementSalt, content: JSON.parse(fact.judgement) as unknown },
    ...(hidden !== null && { private: { salt: hidden.salt, content: JSON.parse(hidden.section) as unknown } }),
  };
  const given = Object.entries(parts).filter(([section]) => !withheld.includes(section as Section));
  const proof = await proveOne(app, fact.entry);
  return { certificate: { v: 1, leaf, sections: Object.fromEntries(given), proof }, maker };
}

/** Up to the checkpoint that is published: what is not in the log yet is not in the chain. */
export async function readChain(app: App, asker: Asker, path: UnitPath): Promise<Chain> {
  requireSight(asker, path.maker);
  const { unit } = await withTransaction(app.pools.reading, readingContext(asker), (tx) => requireUnit(tx, path));
  const { note } = await requirePublished(app);
  const places = await asRecorder(app, (tx) => readPlaces(tx, unit));
  const entries = places.map(({ last }, at) => places[at + 1]?.prev ?? last);
  const leaves = new Map(
    (
      await keptOf(
        app,
        asker,
        places.map((one) => one.fact),
      )
    ).map(({ fact, leaf }) => [fact.id, leaf]),
  );
  const proofs = await proveInclusion(app, entries);
  const until = proofs.indexOf(null);
  return {
    unit,
    checkpoint: proofs[0]?.checkpoint ?? note,
    entries: proofs.slice(0, until < 0 ? proofs.length : until).flatMap((proof, at) => {
      const place = places[at];
      if (proof === null || place === undefined) return [];
      const { entry, index, hashes } = proof;
      return [{ seq: place.seq, leaf: leaves.get(place.fact) ?? null, entry, index, hashes }];
    }),
  };
}

/** What the asker may see of these, with the leaf of each; what is kept apart is for who recorded it. */
async function keptOf(app: App, asker: Asker, ids: readonly string[]) {
  const subjects = Map.groupBy(await asRecorder(app, (tx) => readSubjects(tx, ids)), ({ fact }) => fact);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const facts = await readKept(tx, ids);
    const privates = isAnalyst(asker) ? [] : await readPrivates(tx, ids);
    return facts.map((fact) => ({
      fact,
      leaf: leafOf(fact, subjects.get(fact.id) ?? []),
      hidden: privates.find((one) => one.fact === fact.id) ?? null,
    }));
  });
}

function leafOf(fact: KeptRow, subjects: readonly Subject[]): GivenLeaf {
  const { id, kind, recordedAt, edition, ruleset } = fact;
  const digest = (section: string, salt: string) => sectionDigest(section, Buffer.from(salt, 'hex'));
  return {
    ...{ id, kind, recordedAt, edition, ruleset },
    subjects: subjects.map(({ unit, seq, prev }) => ({ unit, seq, prev })),
    digests: {
      origin: digest(fact.origin, fact.originSalt),
      statement: digest(fact.statement, fact.statementSalt),
      judgement: digest(fact.judgement, fact.judgementSalt),
      private: fact.privateDigest,
    },
  };
}

async function asRecorder<T>(app: App, work: Parameters<typeof withTransaction<T>>[2]): Promise<T> {
  return await withTransaction(app.pools.reading, { role: 'recorder', orgs: [], readOnly: true }, work);
}
