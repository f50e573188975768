/** What is proven without the service: a receipt, a certificate and a unit's chain, and what the check says of a forger. */
import { setTimeout as pause } from 'node:timers/promises';
import { canonical } from '../../core/log/canonical.ts';
import { type Certificate, certificateFaults } from '../../core/log/certificate.ts';
import { type Chain, chainFault, untied } from '../../core/log/chain.ts';
import { openCheckpoint } from '../../core/log/checkpoint.ts';
import { entryOf, leafHead, sectionDigest } from '../../core/log/leaf.ts';
import { type VerifierKey, verifierKeyIn } from '../../core/log/note.ts';
import { inclusionFault } from '../../core/log/proof.ts';
import { verifyReceipt } from '../../core/log/receipt.ts';
import { publicKeyOf } from '../../core/log/signature.ts';
import type { Caller } from './caller.ts';
import { type Callers, maker } from './scene.ts';
import type { Outcome } from './shapes.ts';

/** `made` is the answer to a conversion of Brackwater's that was released; K-20950 was worked on by both distributors. */
export async function proofLines({ brackwater, tollan, analyst }: Callers, made: Outcome): Promise<string[]> {
  const key = verifierKeyIn((await brackwater.get<{ verifierKey: string }>('/log/key')).verifierKey);
  if (key === null) throw new Error('/log/key gives no key');
  const path = `/v1/records/${made.id}/certificate`;
  const certificate = await whenThere(() => brackwater.find<Certificate>(path));
  const checkpoint = openCheckpoint(await brackwater.text('/log/checkpoint', 'text/plain'), [key]);
  if ('fault' in checkpoint) throw new Error(`the checkpoint: ${checkpoint.fault}`);
  const [title] = /(?<=<title>)[^<]*/.exec(await brackwater.text(path, 'text/html')) ?? [];
  return [
    receiptLine(made, key),
    `checkpoint, signed by ${checkpoint.origin}: ${checkpoint.size} facts, root ${Buffer.from(checkpoint.root).toString('hex').slice(0, 16)}…`,
    `certificate: fact ${certificate.proof.index + 1} of the log; checked without the service: ${faults(certificate, key)}`,
    `as a page to print, "${title}": GET ${path} with Accept: text/html`,
    ...forgeries(certificate, key),
    await chainLine('the maker', analyst, key),
    await chainLine('Tollan', tollan, key),
  ];
}

function receiptLine({ receipt }: Outcome, key: VerifierKey): string {
  if (receipt === undefined) throw new Error('what was recorded has a receipt');
  const isSigned = verifyReceipt(receipt, publicKeyOf(key.publicKey));
  const places = receipt.subjects.map(({ seq }) => seq).join(' and ');
  return `receipt of K-20931's conversion: entry ${receipt.entry.slice(0, 16)}…, place ${places} of its units, ${isSigned ? 'signed' : 'not signed'} by ${key.name}`;
}

/** Each goes further than the one before, and is found out all the same. */
function forgeries(certificate: Certificate, key: VerifierKey): string[] {
  const { leaf, sections, proof } = certificate;
  const { statement } = sections;
  if (statement === undefined) throw new Error('nothing is withheld from who recorded it');
  const content = JSON.parse(JSON.stringify(statement.content).replace('"61.0"', '"67.0"'));
  const changed = { ...certificate, sections: { ...sections, statement: { ...statement, content } } };
  const digest = sectionDigest(canonical(content), Buffer.from(statement.salt, 'hex'));
  const hashed = { ...changed, leaf: { ...leaf, digests: { ...leaf.digests, statement: digest } } };
  const entry = entryOf(leafHead(hashed.leaf));
  return [
    `one digit changed in a copy, 61.0 to 67.0 N·m: ${faults(changed, key)}`,
    `its digest changed too: ${faults(hashed, key)}`,
    `and its entry: ${inclusionFault({ ...proof, entry }, [key]) ?? 'nothing is otherwise'}`,
  ];
}

function faults(certificate: Certificate, key: VerifierKey): string {
  const found = certificateFaults(certificate, [key]).map(({ fault, pointer }) => `${fault} at ${pointer}`);
  return found.join(', ') || 'nothing is otherwise';
}

/** Of K-20950, which Brackwater registered and converted, and Tollan mounted. */
async function chainLine(who: string, caller: Caller, key: VerifierKey): Promise<string> {
  const chain = await whenThere(async () => {
    const read = await caller.find<Chain>(`/v1/controls/${maker}/K-20950/chain`);
    return read !== null && read.entries.length >= 3 ? read : null;
  });
  const places = chain.entries.map(({ seq, leaf }) => `${seq} ${leaf?.kind ?? "another's"}`);
  const fault = chainFault(chain, [key]);
  const loose = untied(chain);
  const whole = fault === null ? 'no place is missing' : `${fault.fault} at ${fault.seq}`;
  const but = loose.length === 0 ? '' : `, though the service alone says that ${loose.join(', ')} is of this unit`;
  return `all that was recorded of K-20950, as ${who} reads it: ${places.join(', ')}; ${whole}${but}`;
}

/** The log is a moment behind what is recorded. */
async function whenThere<T>(read: () => Promise<T | null>): Promise<T> {
  const until = Date.now() + 20_000;
  while (Date.now() < until) {
    const found = await read();
    if (found !== null) return found;
    await pause(100);
  }
  throw new Error('the log did not show within 20 s what was recorded');
}
