/** The same beside a writer that writes in batches as ours does, without HTTP and rules. */
import { recordingRow } from './recording/sides.ts';

export const recordingWriter = recordingRow({
  name: 'recording-writer',
  claim: 'records/s through HTTP, everything on, 64 connections of 64 distributors',
  comparator: 'the same rows in batches, without HTTP and rules',
  ...{ of: 'many', beside: 'batch writer', gate: 0.55, goal: 0.8 },
});
