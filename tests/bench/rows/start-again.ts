/** From a stopped service to an answer on /readyz, beside postgres alone. */
import type { Ground } from '../ground/ground.ts';
import type { Row } from '../harness/row.ts';
import { postgresStart, serviceStart } from './starting/starts.ts';

export const startAgain: Row<Ground> = {
  name: 'start-again',
  claim: 'start to ready, embedded, again',
  comparator: 'postgres alone',
  unit: 'ms',
  better: 'less',
  gate: 2.0,
  goal: 1.5,
  prepare: async () => {
    const [ours, theirs] = [serviceStart(), postgresStart()];
    const close = async () => {
      await ours.remove();
      await theirs.remove();
    };
    try {
      await ours.ms();
      await theirs.ms();
    } catch (error) {
      await close();
      throw error;
    }
    return {
      ours: async () => ({ value: await ours.ms() }),
      theirs: async () => ({ value: await theirs.ms() }),
      close,
    };
  },
};
