/**
 * Writes schema/openapi.json, or the file named, from the routes; `--check` exits 1 where the file isn't what the routes
 * say. No database is needed.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { makeLogger } from '../http/logger.ts';
import { buildServer } from '../http/server.ts';
import { everyRoute } from '../wire.ts';

const { values, positionals } = parseArgs({
  options: { check: { type: 'boolean', default: false } },
  allowPositionals: true,
});
const file = positionals[0] ?? fileURLToPath(new URL('../../schema/openapi.json', import.meta.url));
const described = await describe();

if (!values.check) {
  await writeFile(file, described);
} else if ((await readFile(file, 'utf8').catch(() => '')) !== described) {
  console.error(`${file} is stale: run node src/cli/generate-openapi.ts and commit it`);
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
    publicKeys: { signers: [{ name: '', keyId: '', publicKey: new Uint8Array(), verifierKey: '' }], former: [] },
    routes: everyRoute(null as never, { adHoc: true, introspection: true }),
  });
  try {
    const answer = await app.inject('/openapi.json');
    return `${JSON.stringify(answer.json(), null, 2)}\n`;
  } finally {
    await app.close();
  }
}
