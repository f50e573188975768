/** What a batch of one costs: the same conversions one after the other, as the service keeps them, and without batches. */
import { randomUUID } from 'node:crypto';
import { recordAll } from '../../../src/app/recording/record-all.ts';
import type { Outcome, Request } from '../../../src/app/recording/request.ts';
import { conversionBody } from '../../../src/core/records/bodies.ts';
import { loadSigner } from '../../../src/store/local-keys.ts';
import { closePools, openPools } from '../../../src/store/pools.ts';
import { appOf } from '../../../src/wire.ts';
import type { Ground } from '../ground/ground.ts';
import type { Row } from '../harness/row.ts';
import type { Conversions } from '../scenes/conversions.ts';

export const batchOfOne: Row<Ground> = {
  name: 'batch-of-one',
  claim: 'records/s one after the other, through batches',
  comparator: 'the same path without batches',
  unit: 'records/s',
  better: 'more',
  gate: 0.9,
  goal: 1,
  prepare: async (ground) => {
    const [stage, conversions] = [await ground.stage(), await ground.conversions()];
    const pools = openPools({ serviceUrl: stage.serviceUrl, onLost: () => {} });
    const keys = { signers: [await loadSigner({ dataDir: stage.dataDir })] as const, former: [] };
    const app = appOf(pools, keys, { dataDir: stage.dataDir, logDir: `${stage.dataDir}/log` });
    const direct = async (request: Request) => (await recordAll({ ...app, pool: pools.recording }, [request]))[0];
    const each = ground.quick ? 4 : 100;
    const rate = async (record: (request: Request) => Promise<Outcome | undefined>) => {
      const requests = requestsOf(conversions, each, app.effects.newId);
      const begun = performance.now();
      for (const request of requests) requireKept(await record(request));
      return { value: (each * 1000) / (performance.now() - begun) };
    };
    await rate(app.record);
    await rate(direct);
    return {
      ours: async () => await rate(app.record),
      theirs: async () => await rate(direct),
      close: async () => await closePools(pools),
    };
  },
};

function requestsOf(conversions: Conversions, each: number, newId: () => string): Request[] {
  const [connection] = conversions.connections('one');
  if (connection === undefined) throw new Error('the first distributor has no units');
  const { owner } = connection.distributor;
  return conversions
    .lists([connection], each)
    .flat()
    .map(({ body }): Request => {
      const sent: unknown = JSON.parse(body ?? '');
      return {
        ...{ kind: 'conversion', body: conversionBody.parse(sent), sent, fact: newId(), owner, key: randomUUID() },
        ...{ client: 'bench', subject: 'bench', route: 'bench', checkOnly: false },
      };
    });
}

function requireKept(outcome: Outcome | undefined): void {
  if (outcome?.kind !== 'kept') throw new Error(`a conversion was not kept: ${JSON.stringify(outcome)}`);
}
