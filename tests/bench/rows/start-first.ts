/** From nothing to an answer on /readyz, beside initdb and postgres alone. */
import type { Ground } from '../ground/ground.ts';
import type { Row } from '../harness/row.ts';
import { postgresStart, type Start, serviceStart } from './starting/starts.ts';

export const startFirst: Row<Ground> = {
  name: 'start-first',
  claim: 'start to ready, embedded, the first time',
  comparator: 'initdb and postgres alone',
  unit: 'ms',
  better: 'less',
  gate: 2.0,
  goal: 1.5,
  prepare: async ({ quick }) => {
    // The programs are copied once in the life of a machine, where root runs them.
    if (!quick) await once(postgresStart());
    return { ours: async () => await once(serviceStart()), theirs: async () => await once(postgresStart()) };
  },
};

async function once(start: Start) {
  try {
    return { value: await start.ms() };
  } finally {
    await start.remove();
  }
}
