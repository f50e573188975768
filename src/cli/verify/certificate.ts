import { certificateFaults, certificateSchema, withheldOf } from '../../core/log/certificate.ts';
import { sections } from '../../core/log/leaf.ts';
import type { VerifierKey } from '../../core/log/note.ts';
import { type Kept, keptFaults, notShownWithout, upTo } from './kept.ts';
import type { Outcome } from './outcome.ts';
import { readJson, shaped } from './read-file.ts';
import { sentenceOf } from './sentences.ts';

/** @throws Unreadable */
export async function verifyCertificate(
  path: string,
  keys: readonly VerifierKey[],
  kept: Kept | null,
): Promise<Outcome> {
  const certificate = shaped(certificateSchema, await readJson(path), path, 'a certificate');
  const { leaf, proof } = certificate;
  const found = certificateFaults(certificate, keys);
  const isProofGood = found.every(({ pointer }) => pointer !== '/proof');
  const withheld = withheldOf(certificate);
  const shown = sections.filter((section) => !withheld.includes(section));
  const log = isProofGood ? upTo(proof.checkpoint, keys) : '';
  return {
    proven: `record ${leaf.id} (${leaf.kind}), recorded at ${leaf.recordedAt}, is leaf ${proof.index} in ${log}; ${
      shown.length === 0 ? 'none of its sections is given' : `as it was recorded: ${shown.join(', ')}`
    }`,
    faults: [
      ...found.map(({ fault, pointer }) => sentenceOf(fault, pointer, expectedAt(pointer))),
      ...(isProofGood ? keptFaults(proof.checkpoint, kept, keys) : []),
    ],
    notShown: [
      ...(withheld.length === 0 ? [] : [`what is withheld: ${withheld.join(', ')}`]),
      `whether it still stands: it is proven up to ${log}, and later records may correct it or say otherwise`,
      ...notShownWithout(kept),
    ],
  };

  function expectedAt(pointer: string): string | null {
    const section = sections.find((one) => pointer === `/sections/${one}`);
    if (section !== undefined) return `the digest ${leaf.digests[section]}`;
    return pointer === '/leaf' ? `the entry ${proof.entry}` : null;
  }
}
