/** The hashes of the tree (RFC 6962 section 2.1): SHA-256, leaves and nodes apart by their first byte. */
import { createHash } from 'node:crypto';

export const hashBytes = 32;
const leafMark = Uint8Array.of(0);
const nodeMark = Uint8Array.of(1);

/** MTH of a list of one: SHA-256( 0x00 ‖ entry ). */
export function hashOfLeaf(entry: Uint8Array): Buffer {
  return createHash('sha256').update(leafMark).update(entry).digest();
}

/** SHA-256( 0x01 ‖ left ‖ right ). */
export function hashOfNode(left: Uint8Array, right: Uint8Array): Buffer {
  return createHash('sha256').update(nodeMark).update(left).update(right).digest();
}

/** MTH of no leaves: SHA-256 of nothing. */
export const emptyRoot: Buffer = createHash('sha256').digest();
