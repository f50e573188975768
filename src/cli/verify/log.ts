/** The whole log, reckoned anew from its entries: see core/log/recount.ts. What is in memory does not grow with it. */
import { type Checkpoint, openCheckpoint } from '../../core/log/checkpoint.ts';
import type { VerifierKey } from '../../core/log/note.ts';
import { checkpointFaults } from '../../core/log/proof.ts';
import { filesOf, mostBytes, Recount, type RecountFault } from '../../core/log/recount.ts';
import { pathOf, type TileAsked, tileWidth } from '../../core/log/tiles.ts';
import type { Outcome } from './outcome.ts';
import { Unreadable } from './outcome.ts';
import type { PublishedLog } from './published-log.ts';
import { mostText } from './read-file.ts';
import { sentenceOf, sentenceOfLog } from './sentences.ts';

/** Files asked for at once, before their turn. */
const ahead = 16;
/** Sentences; what else is wrong is counted. */
const mostSentences = 20;

export type Since = { readonly path: string; readonly note: string };
export type Progress = (leaves: number, all: number) => void;

/** @throws Unreadable where files can't be read at all */
export async function verifyLog(
  log: PublishedLog,
  keys: readonly VerifierKey[],
  since: Since | null,
  progress: Progress,
): Promise<Outcome> {
  const bytes = await log.read('checkpoint', mostText);
  if (bytes === null) throw new Unreadable('There is no checkpoint here: give the folder, or the URL, that it is in.');
  const head = opened(bytes === 'too-much' ? '' : bytes.toString('utf8'), 'checkpoint', keys);
  const older = since === null ? null : opened(since.note, `--since ${since.path}`, keys);
  const wrong = [head, older].filter((one) => typeof one === 'string');
  if (typeof head === 'string' || typeof older === 'string') return { proven: '', faults: wrong, notShown: [] };

  const faults = await faultsOf(log, head, older, progress);
  const begins = older === null ? '' : `; it begins with the log of ${older.size} that was kept, and only grew`;
  return {
    proven: `the log ${head.origin} of ${head.size} leaves: all entries, all tiles and the root are what its checkpoint signs${begins}`,
    faults,
    notShown: [
      'what the entries stand for: certificates, chains and receipts show that',
      ...(older === null ? ['that it only grew: keep the checkpoint, and give it as --since FILE the next time'] : []),
      'that others are shown the same log: compare its checkpoint with theirs',
    ],
  };
}

function opened(note: string, place: string, keys: readonly VerifierKey[]): Checkpoint | string {
  const checkpoint = openCheckpoint(note, keys);
  return 'fault' in checkpoint ? sentenceOf(checkpointFaults[checkpoint.fault], place) : checkpoint;
}

async function faultsOf(
  log: PublishedLog,
  head: Checkpoint,
  older: Checkpoint | null,
  progress: Progress,
): Promise<string[]> {
  const recount = new Recount(head, older);
  const sentences: string[] = [];
  let found = 0;
  const tell = (faults: readonly RecountFault[]) => {
    found += faults.length;
    sentences.push(...faults.slice(0, mostSentences - sentences.length).map(sentenceOfLog));
  };
  tell(recount.begin());
  for await (const { asked, bytes } of inTurn(log, recount.isCut ? 0 : head.size)) {
    tell(recount.take(asked, bytes));
    if (recount.isCut) break;
    if (asked.of === 'entries') progress(asked.index * tileWidth + asked.width, head.size);
  }
  if (!recount.isCut) tell(recount.end());
  if (found > sentences.length) sentences.push(`And ${found - sentences.length} more.`);
  return sentences;
}

type Bytes = Awaited<ReturnType<PublishedLog['read']>>;
type Read = { readonly bytes: Bytes } | { readonly error: unknown };

/** Some are read before their turn: what goes wrong there is told when it comes. */
async function* inTurn(log: PublishedLog, size: number): AsyncGenerator<{ asked: TileAsked; bytes: Bytes }> {
  const reading: { asked: TileAsked; read: Promise<Read> }[] = [];
  const files = filesOf(size);
  for (;;) {
    while (reading.length < ahead) {
      const next = files.next();
      if (next.done) break;
      const read = readFile(log, next.value).then(
        (bytes) => ({ bytes }),
        (error: unknown) => ({ error }),
      );
      reading.push({ asked: next.value, read });
    }
    const first = reading.shift();
    if (first === undefined) return;
    const read = await first.read;
    if ('error' in read) throw read.error;
    yield { asked: first.asked, bytes: read.bytes };
  }
}

/** A partial tile may be given up once it is full (C2SP tlog-tiles): it is the beginning of the full one. */
async function readFile(log: PublishedLog, asked: TileAsked): Promise<Bytes> {
  const most = mostBytes(asked);
  const bytes = await log.read(pathOf(asked), most);
  if (bytes !== null || asked.width === tileWidth) return bytes;
  const whole = { ...asked, width: tileWidth };
  const full = await log.read(pathOf(whole), mostBytes(whole));
  return full === null || full === 'too-much' ? full : full.subarray(0, most);
}
