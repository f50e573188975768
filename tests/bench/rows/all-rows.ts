/** The rows of the bench, in the order of its table. */
import type { Ground } from '../ground/ground.ts';
import type { Row } from '../harness/row.ts';
import { latency } from './latency.ts';
import { plans } from './plans.ts';
import { recording } from './recording.ts';
import { recordingOne } from './recording-one.ts';
import { recordingWriter } from './recording-writer.ts';

export const allRows: readonly Row<Ground>[] = [recording, recordingOne, recordingWriter, latency, plans];
