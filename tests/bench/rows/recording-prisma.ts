/** The same beside the endpoint as somebody would write it with Prisma, without rules. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Ground } from '../ground/ground.ts';
import { serve } from '../ground/service-process.ts';
import type { Row } from '../harness/row.ts';
import { rateOf } from '../load/load.ts';
import { eachOf } from './recording/sides.ts';

export const recordingPrisma: Row<Ground> = {
  name: 'recording-prisma',
  claim: 'records/s through HTTP, everything on, 64 connections of 64 distributors',
  comparator: 'the endpoint written with Prisma, nested creates, without rules',
  unit: 'records/s',
  better: 'more',
  gate: 8,
  goal: 12,
  prepare: async (ground) => {
    const [stage, conversions] = [await ground.stage(), await ground.conversions()];
    const connections = conversions.connections('many');
    const file = join(stage.dataDir, 'rows.json');
    writeFileSync(file, JSON.stringify(conversions.written.rows));
    const peer = await serve('tests/bench/peers/prisma-endpoint.ts', {
      ...{ PEER_DATABASE_URL: stage.serviceUrl, PEER_DATA_DIR: stage.dataDir, PEER_ROWS: file },
    });
    const { round, before } = eachOf(ground);
    const ours = async (each: number) =>
      await ground.load({ kind: 'http', base: stage.base, lists: conversions.lists(connections, each), rate: null });
    // A quarter of the records: it is slow.
    const theirs = async (each: number) =>
      await ground.load({
        ...{ kind: 'http', base: peer.base, rate: null },
        lists: conversions.asides(connections, Math.ceil(each / 4)),
      });
    try {
      await ours(before);
      await theirs(before);
    } catch (error) {
      await peer.stop();
      throw error;
    }
    return {
      ours: async () => rateOf(await ours(round)),
      theirs: async () => rateOf(await theirs(round)),
      close: peer.stop,
    };
  },
};
