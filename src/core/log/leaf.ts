/**
 * What the log keeps of a fact. The log itself is public and shows 32 bytes; whoever is given the head and some of
 * the sections with their salts can check those, and learns nothing of a section withheld or erased.
 *
 *     digest of a section = SHA-256( salt (16 bytes) ‖ section (UTF-8) )
 *     head                = canonical JSON (RFC 8785) of {v, id, kind, subjects, recordedAt, edition, ruleset, digests}
 *     entry               = SHA-256( head (UTF-8) )
 *     leaf hash           = SHA-256( 0x00 ‖ entry (32 bytes) )      (RFC 6962 section 2.1)
 *
 * All of them are written as lower-case hexadecimal.
 */
import { createHash } from 'node:crypto';
import { canonical } from './canonical.ts';

export const sections = ['origin', 'statement', 'judgement', 'private'] as const;
export type Section = (typeof sections)[number];

/** A digest of every section, none left out: a fact without a private text has the digest of an empty one. */
export type Digests = Readonly<Record<Section, string>>;

/** A unit that the fact touched, its place in that unit's events, and the entry of the one before; null at the first. */
export type Subject = { readonly unit: string; readonly seq: number; readonly prev: string | null };

/** `recordedAt` is UTC text with six decimals; edition and ruleset are null for a fact judged by none. */
export type Leaf = {
  readonly id: string;
  readonly kind: string;
  readonly subjects: readonly Subject[];
  readonly recordedAt: string;
  readonly edition: string | null;
  readonly ruleset: string | null;
  readonly digests: Digests;
};

export const saltBytes = 16;

/**
 * The digest of one section with its own salt. The salt comes first and has a fixed length, so no other pair of salt
 * and section gives the same bytes. Throws a RangeError for a salt of another length and for text that has no UTF-8.
 */
export function sectionDigest(section: string, salt: Uint8Array): string {
  if (salt.length !== saltBytes) throw new RangeError(`a salt has ${saltBytes} bytes, not ${salt.length}`);
  if (!section.isWellFormed()) throw new RangeError('a section with half of a surrogate pair has no UTF-8');
  return createHash('sha256').update(salt).update(section, 'utf8').digest('hex');
}

/** The text that is hashed to the entry. Subjects are put in the order of their unit, however they are given. */
export function leafHead({ id, kind, subjects, recordedAt, edition, ruleset, digests }: Leaf): string {
  return canonical({
    v: 1,
    id,
    kind,
    subjects: subjectsInOrder(subjects),
    recordedAt,
    edition,
    ruleset,
    digests: bySection(digests),
  });
}

/** The 32 bytes that the log carries, from the text of `leafHead`. */
export function entryOf(head: string): string {
  return createHash('sha256').update(head, 'utf8').digest('hex');
}

/** The hash of the log's leaf. Throws a RangeError for what isn't lower-case hexadecimal. */
export function leafHash(entry: string): string {
  if (!/^([0-9a-f]{2})*$/.test(entry)) throw new RangeError(`${JSON.stringify(entry)} is not hexadecimal`);
  return createHash('sha256').update(Uint8Array.of(0)).update(entry, 'hex').digest('hex');
}

/** The members that are hashed and no others, in the order of unit: a fact has one event per unit. */
export function subjectsInOrder(subjects: readonly Subject[]): Subject[] {
  return subjects.map(({ unit, seq, prev }) => ({ unit, seq, prev })).sort((a, b) => (a.unit < b.unit ? -1 : 1));
}

/** One text per section and nothing else: digests, or salts. */
export function bySection(texts: Readonly<Record<Section, string>>): Record<Section, string> {
  return { origin: texts.origin, statement: texts.statement, judgement: texts.judgement, private: texts.private };
}
