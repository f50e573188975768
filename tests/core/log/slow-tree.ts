/** RFC 6962 sections 2.1, 2.1.1 and 2.1.2 as they are written, on whole lists: to hold the quick ones against. */
import { createHash } from 'node:crypto';

const sha256 = (...parts: Uint8Array[]) => createHash('sha256').update(Buffer.concat(parts)).digest();
const split = (count: number) => 2 ** Math.ceil(Math.log2(count) - 1);

/** MTH(D[n]). */
export function mth(entries: readonly Uint8Array[]): Buffer {
  if (entries.length === 0) return sha256();
  if (entries.length === 1) return sha256(Uint8Array.of(0), entries[0] as Uint8Array);
  const k = split(entries.length);
  return sha256(Uint8Array.of(1), mth(entries.slice(0, k)), mth(entries.slice(k)));
}

/** PATH(m, D[n]). */
export function pathTo(m: number, entries: readonly Uint8Array[]): Buffer[] {
  if (entries.length === 1) return [];
  const k = split(entries.length);
  return m < k
    ? [...pathTo(m, entries.slice(0, k)), mth(entries.slice(k))]
    : [...pathTo(m - k, entries.slice(k)), mth(entries.slice(0, k))];
}

/** PROOF(m, D[n]). */
export function proofOf(m: number, entries: readonly Uint8Array[]): Buffer[] {
  return subproof(m, entries, true);
}

function subproof(m: number, entries: readonly Uint8Array[], isWhole: boolean): Buffer[] {
  if (m === entries.length) return isWhole ? [] : [mth(entries)];
  const k = split(entries.length);
  return m <= k
    ? [...subproof(m, entries.slice(0, k), isWhole), mth(entries.slice(k))]
    : [...subproof(m - k, entries.slice(k), false), mth(entries.slice(0, k))];
}
