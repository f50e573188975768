/** A file that a distributor has taken in, as it was. */
import type { AttachmentBody } from '../core/records/attachment.ts';
import { Problem } from '../errors.ts';
import { readStock } from '../store/sql/read-stock.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { isAnalyst, readingContext } from './read-unit.ts';

/** @throws Problem where it is not the asker's, as where there is none. */
export async function readAttachment(app: App, asker: Asker, digest: string) {
  const owner = asker.organisations.distributor;
  const [stated] =
    owner === null || isAnalyst(asker)
      ? []
      : await withTransaction(app.pools.reading, readingContext(asker), (tx) =>
          readStock(tx, [{ owner, kind: 'attachment', key: digest }]),
        );
  const bytes = stated === undefined ? null : await app.attachments.read(digest);
  if (stated === undefined || bytes === null) throw new Problem('not-found', `There is no attachment ${digest}.`);
  const { mediaType } = JSON.parse(stated.statement) as AttachmentBody;
  return { mediaType, bytes };
}
