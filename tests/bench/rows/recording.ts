/** Records a second through HTTP with everything on, 64 connections of 64 distributors, beside a bare loop that writes the same rows. */
import { recordingRow } from './recording/sides.ts';

export const recording = recordingRow({
  name: 'recording',
  claim: 'records/s through HTTP, everything on, 64 connections of 64 distributors',
  comparator: 'a bare pg loop writing the same rows, one call a record, no checks',
  ...{ of: 'many', beside: 'bare loop', gate: 1.2, goal: 1.6 },
});
