/** Takes a file in: its bytes first, then the fact that it is this distributor's. */
import { attachmentTypes, digestOfBytes, typeOfBytes } from '../core/records/attachment.ts';
import { Problem } from '../errors.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type FactAnswer, recordFact } from './record-fact.ts';

/** The same content again is answered as the first time. @throws Problem for content of another type than is said. */
export async function keepAttachment(
  app: App,
  asker: Asker,
  { bytes, said, route }: { readonly bytes: Buffer; readonly said: string; readonly route: string },
): Promise<FactAnswer> {
  const mediaType = typeOfBytes(bytes);
  if (mediaType === null || mediaType !== said) {
    throw new Problem(
      'unsupported-media-type',
      `The content is ${mediaType ?? `none of ${attachmentTypes.join(', ')}`}, and is said to be ${said}.`,
    );
  }
  const id = digestOfBytes(bytes);
  await app.attachments.keep(id, bytes);
  const body = { mediaType, bytes: bytes.length };
  return await recordFact(app, { kind: 'attachment', id, body, asker, sent: body, route, key: null });
}
