/** Writes schema/openapi.json from the routes; `--check` exits 1 where the file isn't what the routes say. No database is needed. */
import { readFile, writeFile } from 'node:fs/promises';
import { makeLogger } from '../http/logger.ts';
import { buildServer } from '../http/server.ts';

const file = new URL('../../schema/openapi.json', import.meta.url);
const described = await describe();

if (!process.argv.includes('--check')) {
  await writeFile(file, described);
} else if ((await readFile(file, 'utf8').catch(() => '')) !== described) {
  console.error('schema/openapi.json is stale: run node src/cli/generate-openapi.ts and commit it');
  process.exitCode = 1;
}

/** No request is served here, so nothing that a request would need is wired. */
async function describe(): Promise<string> {
  const app = buildServer({
    logger: makeLogger({ level: 'silent' }),
    trustProxy: [],
    authenticate: async () => {
      throw new Error('nothing is served while the interface is described');
    },
    checks: { ready: {}, started: {} },
    publicKey: { name: '', keyId: '', publicKey: new Uint8Array(), verifierKey: '' },
    routes: () => {},
  });
  try {
    const answer = await app.inject('/openapi.json');
    return `${JSON.stringify(answer.json(), null, 2)}\n`;
  } finally {
    await app.close();
  }
}
