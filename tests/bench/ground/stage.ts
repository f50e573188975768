/** A Postgres of its own, set up as the service sets up its own, with a generated history; and the service beside it as a process. */
import { chmodSync, mkdirSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { v7 } from 'uuid';
import type { Scope } from '../../../src/app/asker.ts';
import { issueToken } from '../../../src/app/issue-token.ts';
import { addOrganisation } from '../../../src/store/add-organisation.ts';
import { removeDataDir } from '../../../src/store/embedded/remove-data-dir.ts';
import { startEmbedded } from '../../../src/store/embedded/start-embedded.ts';
import { migrate } from '../../../src/store/migrate.ts';
import { callerOf } from '../../support/over-http.ts';
import { publish, shopScopes } from '../../support/scene.ts';
import { maker } from '../../support/shop.ts';
import { urlOf, withSuperuser } from '../../support/test-server.ts';
import { generateHistory } from '../generate-history.ts';
import { parentOf } from './cpu.ts';
import type { Scale } from './ground.ts';
import { serve } from './service-process.ts';

export type Stage = {
  readonly base: string;
  /** Of the service's process. */
  readonly pid: number;
  /** Of Postgres's first process; 0 where the system doesn't tell. */
  readonly postmaster: number;
  readonly dataDir: string;
  /** The database as the service logs in, and as superuser. */
  readonly serviceUrl: string;
  readonly superuserUrl: string;
  /** A token of a distributor, or of the maker's people. */
  readonly tokenOf: (who: { distributor: string } | 'maker') => Promise<string>;
  /** Another database beside it, migrated, with a folder for its keys and its log. */
  readonly emptyDatabase: (
    name: string,
  ) => Promise<{ readonly serviceUrl: string; readonly superuserUrl: string; readonly dataDir: string }>;
  readonly close: () => Promise<void>;
};

/** Whose the templates of the history are. */
export const firstDistributor = 'brackwater';
const makerScopes: readonly Scope[] = ['catalogue:publish', 'warranty:read', 'report:read'];

export async function openStage({ records, seed }: Scale, tell: (line: string) => void): Promise<Stage> {
  const dataDir = mkdtempSync(join(tmpdir(), 'asfitted-bench-'));
  // Where the bench runs as root, Postgres runs as a user of its own, who must get there.
  chmodSync(dataDir, 0o755);
  tell(`a Postgres of its own in ${dataDir}`);
  const server = await startEmbedded({ dataDir, log: () => {}, settings: { max_connections: '300' } });
  const ends = [() => removeDataDir(dataDir), () => server.stop()];
  const close = async () => {
    for (const end of ends.splice(0).reverse()) await end();
  };
  try {
    await migrate({ ownerUrl: server.ownerUrl, log: () => {} });
    await addOrganisation(server.ownerUrl, { id: v7(), slug: maker, kind: 'maker', name: 'Ardenholm' });
    await addOrganisation(server.ownerUrl, {
      ...{ id: v7(), slug: firstDistributor, kind: 'distributor', name: 'Brackwater' },
    });
    const flags = (process.env['BENCH_SERVICE_FLAGS'] ?? '').split(' ').filter((flag) => flag !== '');
    const service = await serve('src/main.ts', { DATABASE_URL: server.serviceUrl, DATA_DIR: dataDir }, flags);
    ends.push(service.stop);
    const tokenOf: Stage['tokenOf'] = async (who) => {
      const whose = who === 'maker' ? { distributor: null, maker } : { ...who, maker: null };
      const scopes = who === 'maker' ? makerScopes : [...(shopScopes as Scope[]), 'report:read' as const];
      const frame = { subject: 'bench', client: 'bench', minutes: 1_440 };
      return await issueToken(dataDir, { ...whose, ...frame, scopes }, new Date());
    };
    await publish(callerOf(service.base, await tokenOf('maker')));
    const superuserUrl = urlOf(server.superuserUrl, 'asfitted');
    const shop = callerOf(service.base, await tokenOf({ distributor: firstDistributor }));
    await withSuperuser(superuserUrl, async (client) => {
      await client.query(`set timezone = 'UTC'`);
      await generateHistory({ records, seed, client, shop, log: tell });
      await client.query('vacuum analyze');
    });
    const postmaster = await withSuperuser(superuserUrl, async (client) => {
      const { rows } = await client.query<{ pid: number }>('select pg_backend_pid() as pid');
      return parentOf(rows[0]?.pid ?? 0) ?? 0;
    });
    const { base, pid } = service;
    const emptyDatabase: Stage['emptyDatabase'] = async (name) => {
      await withSuperuser(server.superuserUrl, (client) =>
        client.query(`create database ${name} owner asfitted_owner`),
      );
      await migrate({ ownerUrl: urlOf(server.ownerUrl, name), log: () => {} });
      const folder = join(dataDir, name);
      mkdirSync(folder);
      const [serviceUrl, superuserUrl] = [urlOf(server.serviceUrl, name), urlOf(server.superuserUrl, name)];
      return { serviceUrl, superuserUrl, dataDir: folder };
    };
    return {
      base,
      pid,
      postmaster,
      dataDir,
      serviceUrl: server.serviceUrl,
      superuserUrl,
      tokenOf,
      emptyDatabase,
      close,
    };
  } catch (error) {
    await close();
    throw error;
  }
}
