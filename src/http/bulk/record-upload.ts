/** A bulk upload, line by line: batches are recorded one after the other, and what became of each line is told in order. */
import type { FastifyRequest } from 'fastify';
import type { App } from '../../app/context.ts';
import { type LineOutcome, type LineRequest, recordLines } from '../../app/record-lines.ts';
import { Problem } from '../../errors.ts';
import { askerOf } from '../access.ts';
import { inBatches } from './in-batches.ts';
import { type ReadLine, readLine } from './read-line.ts';
import { splitLines } from './split-lines.ts';
import { isOutage, tellOutcome, tellProblem } from './tell-outcome.ts';

export const uploadLimits = Object.freeze({
  /** Of a line, in bytes: what the route of its kind would take. */
  line: 256 * 1024,
  /** Of an upload, in bytes; more is sent as a second one. */
  body: 1024 * 1024 * 1024,
  /** Lines that are recorded in one transaction: more gain little and hold their units longer. */
  batch: 64,
  /** Milliseconds that lines wait for company. */
  patience: 50,
  /** Uploads under way at once: each keeps one connection to the database busy, of eight for all recording. */
  atOnce: 4,
  atOnceOfOne: 2,
});

export type Upload = {
  readonly request: FastifyRequest;
  readonly body: AsyncIterable<Uint8Array>;
  readonly checkOnly: boolean;
};

/** Texts of whole lines. Ends early at an outage, and with a line that says so where the body breaks off with a Problem. */
export async function* recordUpload(app: App, upload: Upload): AsyncGenerator<string, void, undefined> {
  const { request, checkOnly } = upload;
  const asker = askerOf(request);
  const lines = splitLines(withinLimit(upload.body), uploadLimits.line);
  let last = 0;
  try {
    for await (const batch of inBatches(lines, uploadLimits.batch, uploadLimits.patience)) {
      const read = batch.map((line) => readLine(line, asker, checkOnly, uploadLimits.line));
      const outcomes = await outcomesOf(app, upload, read);
      yield read.map((line, index) => `${tell(request, line, outcomes[index])}\n`).join('');
      last = batch.at(-1)?.number ?? last;
      if (outcomes.some((outcome) => outcome !== undefined && isOutage(outcome))) return;
    }
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    yield `${tellProblem(request, { number: last + 1, key: null, kind: null }, error, true)}\n`;
  }
}

/** By line; undefined for those that could not be read. */
async function outcomesOf(
  app: App,
  { request, checkOnly }: Upload,
  read: readonly ReadLine[],
): Promise<(LineOutcome | undefined)[]> {
  const good = read.flatMap((line) => (line.read instanceof Problem ? [] : [line.read]));
  const recorded = good.length === 0 ? [] : await recordLines(app, askerOf(request), good, checkOnly);
  const byLine = new Map<LineRequest, LineOutcome | undefined>(good.map((line, index) => [line, recorded[index]]));
  return read.map((line) => (line.read instanceof Problem ? undefined : byLine.get(line.read)));
}

function tell(request: FastifyRequest, line: ReadLine, outcome: LineOutcome | undefined): string {
  if (line.read instanceof Problem) return tellProblem(request, line, line.read, true);
  return tellOutcome(request, line, outcome ?? { kind: 'problem', error: new Error('not decided') });
}

async function* withinLimit(body: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array, void, undefined> {
  let length = 0;
  for await (const chunk of body) {
    length += chunk.length;
    if (length > uploadLimits.body)
      throw new Problem('body-too-large', 'The upload is too long; send the lines from here on as another one.');
    yield chunk;
  }
}
