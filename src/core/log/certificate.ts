/**
 * A record with its proof: what it says, checked against the log without the service. Sections may be withheld: their
 * digests stay, and whoever is given one with its salt can check that one.
 */
import { z } from 'zod';
import { canonical } from './canonical.ts';
import { entryOf, leafHead, type Section, sectionDigest, sections } from './leaf.ts';
import type { VerifierKey } from './note.ts';
import { inclusionFault, inclusionSchema, type ProofFault } from './proof.ts';

const hexDigits = (count: number) => z.string().regex(new RegExp(`^[0-9a-f]{${count}}$`));
const digest = hexDigits(64);
const given = z
  .strictObject({ salt: hexDigits(32), content: z.unknown() })
  .describe('Its digest is SHA-256 over the salt and the canonical JSON (RFC 8785) of the content');

/** What is hashed to the entry of a fact: see leaf.ts. */
export const leafSchema = z.strictObject({
  id: z.uuid(),
  kind: z.string().max(100),
  subjects: z.array(z.strictObject({ unit: z.uuid(), seq: z.int().min(1), prev: digest.nullable() })).max(10),
  recordedAt: z.string().max(40),
  edition: z.string().max(200).nullable(),
  ruleset: z.string().max(200).nullable(),
  digests: z.strictObject({ origin: digest, statement: digest, judgement: digest, private: digest }),
});

export type GivenLeaf = z.infer<typeof leafSchema>;

export const certificateSchema = z.strictObject({
  v: z.literal(1),
  leaf: leafSchema.describe('Hashed to the entry'),
  sections: z
    .strictObject({
      origin: given.optional(),
      statement: given.optional(),
      judgement: given.optional(),
      private: given.optional(),
    })
    .describe('Those that are not withheld'),
  proof: inclusionSchema,
});
export type Certificate = z.infer<typeof certificateSchema>;

export type CertificateFault = {
  readonly fault: ProofFault | 'section-changed' | 'entry-of-another-record';
  /** JSON pointer (RFC 6901) into the certificate. */
  readonly pointer: string;
};

/** All that is not as the log has it; empty: everything that is given is what was kept. */
export function certificateFaults(
  { leaf, sections: parts, proof }: Certificate,
  keys: readonly VerifierKey[],
): CertificateFault[] {
  const changed = sections.flatMap((section): CertificateFault[] => {
    const part = parts[section];
    return part === undefined || isOf(part, leaf.digests[section])
      ? []
      : [{ fault: 'section-changed', pointer: `/sections/${section}` }];
  });
  const isItsEntry = entryOf(leafHead(leaf)) === proof.entry;
  const fault = inclusionFault(proof, keys);
  return [
    ...changed,
    ...(isItsEntry ? [] : [{ fault: 'entry-of-another-record' as const, pointer: '/leaf' }]),
    ...(fault === null ? [] : [{ fault, pointer: '/proof' }]),
  ];
}

/** What may be read of a certificate: the sections that are given. */
export function withheldOf({ sections: parts }: Certificate): Section[] {
  return sections.filter((section) => parts[section] === undefined);
}

/** With none of these sections; what is left is proven as before. */
export function withhold(certificate: Certificate, some: readonly Section[]): Certificate {
  const left = Object.entries(certificate.sections).filter(([section]) => !some.includes(section as Section));
  return { ...certificate, sections: Object.fromEntries(left) };
}

/** Whether the content with its salt has this digest. */
export function isOf({ salt, content }: { salt: string; content?: unknown }, expected: string): boolean {
  return sectionDigest(canonical(content), Buffer.from(salt, 'hex')) === expected;
}
