/** The parts of a spreadsheet file, which is a ZIP archive (ECMA-376-2), unpacked as they are read and never further than allowed. */
import { type Readable, Transform } from 'node:stream';
import { type Entry, openPromise, type ZipFile } from 'yauzl';
import { UnreadableError } from '../table.ts';

export type Archive = {
  /** Null where there is no such part. */
  readonly open: (part: string) => Promise<Readable | null>;
  readonly close: () => void;
};

const mega = 1024 * 1024;
export const archiveLimits = Object.freeze({ parts: 2_000, partBytes: 512 * mega, ratio: 400, freeBytes: 8 * mega });

export async function openArchive(file: string): Promise<Archive> {
  const zip = await openPromise(file, { lazyEntries: true, autoClose: false, validateEntrySizes: true }).catch(
    (error) => {
      throw notAnArchive(error);
    },
  );
  try {
    const entries = await entriesOf(zip);
    return {
      open: async (part) => {
        const entry = entries.get(part.toLowerCase());
        return entry === undefined ? null : await unpacked(zip, entry);
      },
      close: () => zip.close(),
    };
  } catch (error) {
    zip.close();
    throw error instanceof UnreadableError ? error : notAnArchive(error);
  }
}

async function entriesOf(zip: ZipFile): Promise<Map<string, Entry>> {
  if (zip.entryCount > archiveLimits.parts) throw tooBig(`it has ${zip.entryCount} parts`);
  const entries = new Map<string, Entry>();
  for await (const entry of zip.eachEntry()) {
    if (entry.isEncrypted()) throw new UnreadableError('The file is protected by a password: save it without one.');
    if (entry.uncompressedSize > archiveLimits.partBytes) throw tooBig(`${entry.fileName} unpacks to more than 512 MB`);
    // Part names compare without case (ECMA-376-2 §9.1.1).
    entries.set(entry.fileName.toLowerCase(), entry);
  }
  return entries;
}

/** What the archive says of its sizes may be a lie, so what really comes out is counted. */
async function unpacked(zip: ZipFile, entry: Entry): Promise<Readable> {
  const allowed = Math.min(
    archiveLimits.partBytes,
    Math.max(archiveLimits.freeBytes, entry.compressedSize * archiveLimits.ratio),
  );
  const packed = await zip.openReadStreamPromise(entry);
  let length = 0;
  const counted = new Transform({
    transform: (chunk: Buffer, _, done) => {
      length += chunk.length;
      if (length <= allowed) done(null, chunk);
      else done(tooBig(`${entry.fileName} unpacks to more than ${Math.round(allowed / mega)} MB`));
    },
  });
  packed.on('error', (error) => counted.destroy(notAnArchive(error)));
  counted.on('close', () => packed.destroy());
  return packed.pipe(counted);
}

function tooBig(why: string): UnreadableError {
  return new UnreadableError(`The spreadsheet is refused: ${why}. Save the one sheet that is needed as CSV.`);
}

function notAnArchive(error: unknown): UnreadableError {
  if (error instanceof Error && 'code' in error && error.code === 'ENOENT')
    return new UnreadableError('There is no such file.');
  const why = error instanceof Error ? error.message : String(error);
  return new UnreadableError(`The file is not a sound XLSX file (${why}): save it anew as XLSX or CSV.`);
}
