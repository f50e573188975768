/** What the rows about recording share: how ours and theirs are asked for records. */
import { withSuperuser } from '../../../support/test-server.ts';
import type { Ground } from '../../ground/ground.ts';
import type { Row } from '../../harness/row.ts';
import type { Driven } from '../../load/drive.ts';
import { rateOf } from '../../load/load.ts';
import { prepareWriter } from '../../peers/bare-writer.ts';

type Beside = 'bare loop' | 'batch writer';
/** So many records on each connection, at so many a second of all, or as fast as it goes. */
export type Ask = (each: number, rate: number | null) => Promise<Driven>;

/**
 * Records of each connection in a round, and before the first: after 500 of all, a conversion still cost the service half
 * as much again as after 5,000, because its code was still being compiled.
 */
export const eachOf = ({ quick }: Ground) => (quick ? { round: 2, before: 1 } : { round: 16, before: 64 });

export function recordingRow(
  about: Pick<Row<Ground>, 'name' | 'claim' | 'comparator' | 'gate' | 'goal'> & { of: 'many' | 'one'; beside: Beside },
): Row<Ground> {
  const { of, beside, ...rest } = about;
  return {
    ...{ ...rest, unit: 'records/s', better: 'more' },
    prepare: async (ground) => {
      const { ours, theirs } = await askers(ground, of, beside);
      const { round, before } = eachOf(ground);
      await ours(before, null);
      await theirs(before, null);
      return {
        ours: async () => rateOf(await ours(round, null)),
        theirs: async () => rateOf(await theirs(round, null)),
      };
    },
  };
}

export async function askers(ground: Ground, of: 'many' | 'one', beside: Beside): Promise<{ ours: Ask; theirs: Ask }> {
  const [stage, conversions] = [await ground.stage(), await ground.conversions()];
  const connections = conversions.connections(of);
  const rows = await withSuperuser(stage.superuserUrl, (client) => prepareWriter(client, conversions.written));
  const writer = { kind: 'writer', url: stage.serviceUrl, rows } as const;
  const owners = connections.map(({ distributor }) => distributor.owner);
  const batch = beside === 'batch writer' ? { most: 64, workers: 2 } : null;
  return {
    ours: async (each, rate) =>
      await ground.load({ kind: 'http', base: stage.base, lists: conversions.lists(connections, each), rate }),
    theirs: async (each, rate) => await ground.load({ ...writer, owners, each, rate, batch }),
  };
}
