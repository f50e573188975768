/** The rows of the bench, in the order of its table. */
import type { Ground } from '../ground/ground.ts';
import type { Row } from '../harness/row.ts';
import { batchOfOne } from './batch-of-one.ts';
import { historyPostgraphile } from './history-postgraphile.ts';
import { historyRaw } from './history-raw.ts';
import { latency } from './latency.ts';
import { plans } from './plans.ts';
import { reachPostgraphile } from './reach-postgraphile.ts';
import { reachRaw } from './reach-raw.ts';
import { recording } from './recording.ts';
import { recordingOne } from './recording-one.ts';
import { recordingPrisma } from './recording-prisma.ts';
import { recordingWriter } from './recording-writer.ts';
import { sequencer } from './sequencer.ts';
import { startAgain } from './start-again.ts';
import { startFirst } from './start-first.ts';
import { verify } from './verify.ts';

export const allRows: readonly Row<Ground>[] = [
  ...[recording, recordingOne, recordingWriter, recordingPrisma, latency, batchOfOne],
  ...[historyPostgraphile, historyRaw, reachPostgraphile, reachRaw],
  ...[plans, sequencer, verify, startFirst, startAgain],
];
