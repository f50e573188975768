/** What rows about reading share: the peers as processes, and one question asked of them and of us. */
import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { withSuperuser } from '../../../support/test-server.ts';
import type { Ground } from '../../ground/ground.ts';
import { serve } from '../../ground/service-process.ts';
import { firstDistributor, type Stage } from '../../ground/stage.ts';
import type { Row } from '../../harness/row.ts';
import type { HttpRequest } from '../../load/http-load.ts';
import { rateOf } from '../../load/load.ts';
import { tellRelations } from '../../peers/postgraphile/relations.ts';

/** By name of unit or lot the request that asks for it. */
export type Question = {
  readonly names: (stage: Stage) => Promise<readonly string[]>;
  readonly ours: (name: string) => Pick<HttpRequest, 'method' | 'path' | 'body'> & { accept?: string };
  readonly postgraphile: (name: string) => Pick<HttpRequest, 'method' | 'path' | 'body'>;
  readonly raw: (name: string) => Pick<HttpRequest, 'method' | 'path' | 'body'>;
  readonly connections: number;
  /** Of each connection in a round. */
  readonly each: number;
  /** Rounds of both before the first that counts: until one was no faster than the one before. */
  readonly before: number;
};

export function readingRow(
  about: Pick<Row<Ground>, 'name' | 'claim' | 'comparator' | 'gate' | 'goal'>,
  beside: 'postgraphile' | 'raw',
  question: Question,
): Row<Ground> {
  return {
    ...{ ...about, unit: 'answers/s', better: 'more' },
    prepare: async (ground) => {
      const stage = await ground.stage();
      const names = await question.names(stage);
      await withSuperuser(stage.superuserUrl, tellRelations);
      if (beside === 'postgraphile') requireInstalled();
      const peer = await serve(files[beside], {
        ...{ PEER_DATABASE_URL: stage.superuserUrl, PEER_ORG: await ownerOf(stage), GRAPHILE_ENV: 'production' },
      });
      const token = await stage.tokenOf({ distributor: firstDistributor });
      const each = ground.quick ? 1 : question.each;
      const ask = async (
        base: string,
        requestOf: (name: string) => Omit<HttpRequest, 'headers'> & { accept?: string },
      ) => {
        const lists = Array.from({ length: question.connections }, (_, connection) =>
          Array.from({ length: each }, (_one, nth): HttpRequest => {
            const { accept = 'application/json', ...rest } = requestOf(
              names[(connection * each + nth) % names.length] ?? '',
            );
            const type = rest.body === null ? {} : { 'content-type': 'application/json' };
            return { ...rest, headers: { authorization: `Bearer ${token}`, accept, ...type } };
          }),
        );
        return rateOf(await ground.load({ kind: 'http', base, lists, rate: null }));
      };
      const ours = async () => await ask(stage.base, question.ours);
      const theirs = async () => await ask(peer.base, beside === 'raw' ? question.raw : question.postgraphile);
      try {
        for (let nth = 0; nth < (ground.quick ? 1 : question.before); nth++) {
          await ours();
          await theirs();
        }
      } catch (error) {
        await peer.stop();
        throw error;
      }
      return { ours, theirs, close: peer.stop };
    },
  };
}

const files = {
  raw: 'tests/bench/peers/bare-reader.ts',
  postgraphile: 'tests/bench/peers/postgraphile/serve.ts',
};

/** It has a lock file of its own, so that nobody who only wants the service installs it. */
function requireInstalled(): void {
  const folder = dirname(files.postgraphile);
  if (!existsSync(`${folder}/node_modules`)) throw new Error(`install the peer first: npm ci --prefix ${folder}`);
}

export async function ownerOf({ superuserUrl }: Stage): Promise<string> {
  const { rows } = await withSuperuser(superuserUrl, (client) =>
    client.query<{ id: string }>('select id from organisations where slug = $1', [firstDistributor]),
  );
  return rows[0]?.id ?? '';
}
