/** A log of a few entries with a key from a fixed seed; its proofs are those of slow-tree.ts. */
import { createPrivateKey, createPublicKey, sign } from 'node:crypto';
import { signCheckpoint } from '../../../src/core/log/checkpoint.ts';
import { Frontier } from '../../../src/core/log/frontier.ts';
import { hashOfLeaf } from '../../../src/core/log/hash.ts';
import { entryOf, type Leaf, leafHead, type Section, sectionDigest, sections } from '../../../src/core/log/leaf.ts';
import { keyIdOf, type Signing, type VerifierKey, verifierKeyText } from '../../../src/core/log/note.ts';
import type { Consistency, Inclusion } from '../../../src/core/log/proof.ts';
import { pathTo, proofOf } from './slow-tree.ts';

export type TestKey = VerifierKey & Signing & { readonly vkey: string };

/** The Ed25519 key whose seed is this byte 32 times (PKCS #8 of RFC 8410 section 7). */
export function testKey(seed: number, name = 'asfitted.example/log'): TestKey {
  const der = Buffer.concat([Buffer.from('302e020100300506032b657004220420', 'hex'), Buffer.alloc(32, seed)]);
  const privateKey = createPrivateKey({ key: der, format: 'der', type: 'pkcs8' });
  const spki = createPublicKey(privateKey).export({ type: 'spki', format: 'der' });
  const publicKey = new Uint8Array(spki.subarray(-32));
  const verifier = { name, publicKey, keyId: keyIdOf(name, publicKey) };
  return {
    ...verifier,
    vkey: verifierKeyText(verifier),
    sign: (bytes) => new Uint8Array(sign(null, bytes, privateKey)),
  };
}

/** `entries`: 64 hexadecimal digits each. */
export function smallLog(entries: readonly string[], key: TestKey) {
  const bytes = entries.map((entry) => Buffer.from(entry, 'hex'));
  const checkpoint = (size = entries.length, origin = key.name): string => {
    const tree = new Frontier();
    for (const entry of bytes.slice(0, size)) tree.add(hashOfLeaf(entry));
    return signCheckpoint({ origin, size, root: tree.root() }, [key]);
  };
  return {
    checkpoint,
    inclusion: (index: number, size = entries.length): Inclusion => ({
      entry: entries[index] as string,
      index,
      hashes: pathTo(index, bytes.slice(0, size)).map(hexOf),
      checkpoint: checkpoint(size),
    }),
    consistency: (from: number, to = entries.length): Consistency => ({
      ...{ from, to, hashes: proofOf(from, bytes.slice(0, to)).map(hexOf) },
    }),
  };
}

export const unit = '01975b3e-8f00-7000-8000-00000000000a';
export const contents: Readonly<Record<Section, unknown>> = {
  origin: { owner: 'brackwater' },
  statement: { reference: 'BR-1', torque: { value: '61.0', unit: 'N.m' } },
  judgement: { status: 'released' },
  private: { note: 'for the file' },
};
export const saltOf = (section: Section) => String(sections.indexOf(section)).repeat(32);

export const digests = Object.fromEntries(
  sections.map((section) => [
    section,
    sectionDigest(JSON.stringify(sorted(contents[section])), Buffer.from(saltOf(section), 'hex')),
  ]),
) as Record<Section, string>;

/** The nth fact about the unit, with all of the sections above. */
export function leafNumber(
  seq: number,
  prev: string | null,
): Leaf & { subjects: { unit: string; seq: number; prev: string | null }[] } {
  return {
    id: `01975b3e-8f00-7000-8000-00000000010${seq}`,
    kind: 'inspection',
    subjects: [{ unit, seq, prev }],
    recordedAt: `2026-03-14T09:25:00.00000${seq}Z`,
    edition: '2026-1',
    ruleset: '1',
    digests,
  };
}

export function entryOfLeaf(leaf: Leaf): string {
  return entryOf(leafHead(leaf));
}

/** Entries of nothing in particular. */
export function strangers(count: number): string[] {
  return Array.from({ length: count }, (_, at) => entryOf(`stranger ${at}`));
}

/** The members of the few objects here in the order that canonical JSON has. */
function sorted(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, member]) => [name, sorted(member)]),
  );
}

function hexOf(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('hex');
}
