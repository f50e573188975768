/** Hashes the entries that lie in a log's folder: each as a leaf, then each pair up to the root, and looks at nothing else. */
import { hash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const [folder = ''] = process.argv.slice(2);
const entryBytes = 32;
const leafPrefix = Buffer.from([0]);
const nodePrefix = Buffer.from([1]);

const bundles = readdirSync(join(folder, 'tile/entries'), { recursive: true, withFileTypes: true })
  .filter((one) => one.isFile())
  .map((one) => join(one.parentPath, one.name))
  .sort();
let level: Buffer[] = [];
for (const bundle of bundles) {
  const bytes = readFileSync(bundle);
  // Each entry after its length, in two bytes.
  for (let at = 0; at < bytes.length; at += 2 + entryBytes)
    level.push(hash('sha256', Buffer.concat([leafPrefix, bytes.subarray(at + 2, at + 2 + entryBytes)]), 'buffer'));
}
while (level.length > 1) {
  const above: Buffer[] = [];
  for (let at = 0; at < level.length; at += 2) {
    const [left, right] = [level[at], level[at + 1]];
    if (left !== undefined) above.push(right === undefined ? left : pair(left, right));
  }
  level = above;
}
console.log(level[0]?.toString('hex'));

function pair(left: Buffer, right: Buffer): Buffer {
  return hash('sha256', Buffer.concat([nodePrefix, left, right]), 'buffer');
}
