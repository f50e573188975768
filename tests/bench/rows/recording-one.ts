/** The same with all 64 connections of one distributor. */
import { recordingRow } from './recording/sides.ts';

export const recordingOne = recordingRow({
  name: 'recording-one',
  claim: 'records/s through HTTP, everything on, 64 connections of one distributor',
  comparator: 'a bare pg loop writing the same rows, one call a record, no checks',
  ...{ of: 'one', beside: 'bare loop', gate: 1.5, goal: 2.0 },
});
