/** `npm run demo`: the main job on a throw-away database, over HTTP. `-- --torque 61.0` changes one torque of the story. */
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { v7 } from 'uuid';
import type { Scope } from '../../app/asker.ts';
import { issueToken } from '../../app/issue-token.ts';
import { loadConfig } from '../../config.ts';
import { openDatabase } from '../../database.ts';
import { makeLogger } from '../../http/logger.ts';
import { addOrganisation } from '../../store/add-organisation.ts';
import { removeDataDir } from '../../store/embedded/remove-data-dir.ts';
import { startEmbedded } from '../../store/embedded/start-embedded.ts';
import { wire } from '../../wire.ts';
import { callerFor } from './caller.ts';
import { tellStory } from './story.ts';

const { values } = parseArgs({ options: { torque: { type: 'string', default: '48.0' } } });
const dataDir = await mkdtemp(join(tmpdir(), 'asfitted-demo-'));
try {
  await runDemo(dataDir, values.torque);
} finally {
  await removeDataDir(dataDir);
}

async function runDemo(folder: string, torque: string): Promise<void> {
  console.log('Starting the service on a database of its own …');
  const database = await startEmbedded({ dataDir: folder, log: () => {} });
  const [config, logger] = [loadConfig({ DATA_DIR: folder, LOG_LEVEL: 'error' }), makeLogger({ level: 'error' })];
  const service = await wire(config, logger, await openDatabase(config, logger));
  try {
    for (const [slug, kind] of [
      ['ardenholm', 'maker'],
      ['brackwater', 'distributor'],
      ['tollan', 'distributor'],
    ] as const) {
      await addOrganisation(database.ownerUrl, { id: v7(), slug, kind, name: slug });
    }
    const base = await service.server.listen({ host: '127.0.0.1', port: 0 });
    const token = (distributor: string | null, maker: string | null, scopes: Scope[]) =>
      issueToken(folder, { distributor, maker, scopes, subject: 'demo', client: 'demo', minutes: 30 }, new Date());
    const shop: Scope[] = ['record:write', 'record:read', 'stock:write', 'organisation:write'];
    await tellStory(
      {
        maker: callerFor(base, await token(null, 'ardenholm', ['catalogue:publish'])),
        brackwater: callerFor(base, await token('brackwater', null, shop)),
        tollan: callerFor(base, await token('tollan', null, shop)),
        analyst: callerFor(base, await token(null, 'ardenholm', ['warranty:read', 'containment:write'])),
      },
      (line) => console.log(line),
      torque,
    );
  } finally {
    await service.close();
    await database.stop();
  }
}
