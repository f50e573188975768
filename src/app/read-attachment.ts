/** A file that a distributor has taken in, as it was. The maker's people get what a claim of their make, or its evidence, names. */
import { typeOfBytes } from '../core/records/attachment.ts';
import { Problem } from '../errors.ts';
import { claimsNamingFile } from '../store/sql/claims-naming-file.ts';
import { readStock } from '../store/sql/read-stock.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { isAnalyst, readingContext, requireReading } from './read-unit.ts';

/** @throws Problem where it is not the asker's to see, as where there is none. */
export async function readAttachment(app: App, asker: Asker, digest: string) {
  requireReading(asker);
  const mayRead = isAnalyst(asker) ? await isTold(app, asker, digest) : await isOwn(app, asker, digest);
  const bytes = mayRead ? await app.attachments.read(digest) : null;
  const mediaType = bytes === null ? null : typeOfBytes(bytes);
  if (bytes === null || mediaType === null) throw new Problem('not-found', `There is no attachment ${digest}.`);
  return { mediaType, bytes };
}

async function isOwn(app: App, asker: Asker, digest: string): Promise<boolean> {
  const owner = asker.organisations.distributor;
  if (owner === null) return false;
  const sought = [{ owner, kind: 'attachment' as const, key: digest }];
  const stated = await withTransaction(app.pools.reading, readingContext(asker), (tx) => readStock(tx, sought));
  return stated.length > 0;
}

/** Each claim or piece of evidence that names it is journalled as shown. */
async function isTold(app: App, asker: Asker, digest: string): Promise<boolean> {
  const naming = await withTransaction(app.pools.reading, readingContext(asker), (tx) => claimsNamingFile(tx, digest));
  return naming.length > 0;
}
