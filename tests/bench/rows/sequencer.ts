/** Leaves that get their places in the log in a second, beside the records that make them. */
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { withSuperuser } from '../../support/test-server.ts';
import type { Ground } from '../ground/ground.ts';
import { root } from '../ground/service-process.ts';
import type { Row } from '../harness/row.ts';
import { rateOf } from '../load/load.ts';
import { askers, eachOf } from './recording/sides.ts';

export const sequencer: Row<Ground> = {
  name: 'sequencer',
  claim: 'leaves/s that get their places in the log',
  comparator: 'records/s through HTTP',
  unit: 'a second',
  better: 'more',
  gate: 10,
  goal: 30,
  prepare: async (ground) => {
    const { ours: record } = await askers(ground, 'many', 'bare loop');
    const stage = await ground.stage();
    // The service gives the leaves of its own database their places by itself.
    const log = await stage.emptyDatabase('bench_log');
    const leaves = ground.quick ? 2_000 : 20_000;
    const { round, before } = eachOf(ground);
    const sequence = async () => {
      await withSuperuser(log.superuserUrl, (client) =>
        client.query(
          `insert into staged_leaves (fact, entry)
           select gen_random_uuid(), encode(sha256(convert_to('leaf ' || n || random(), 'UTF8')), 'hex') from generate_series(1, $1::int) n`,
          [leaves],
        ),
      );
      const args = [root, log.serviceUrl, log.dataDir, '4096'];
      const child = fork(join(root, 'tests/gates/log/sequencer.ts'), args);
      await once(child, 'message');
      const begun = performance.now();
      const [code] = await once(child, 'exit');
      if (code !== 0) throw new Error('the sequencer failed');
      return { value: leaves / ((performance.now() - begun) / 1000) };
    };
    await sequence();
    await record(before, null);
    return { ours: sequence, theirs: async () => ({ value: rateOf(await record(round, null)).value }) };
  },
};
