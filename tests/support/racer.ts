/**
 * Run as a process of its own: records what it is sent, at the instant that it is told, with the sources under the
 * folder given. Started twice it is two services on one database, without the sockets that would blur the moment.
 */
import { randomUUID } from 'node:crypto';
import { pathToFileURL } from 'node:url';
import type { askerOf } from './service.ts';

/** `at` is in milliseconds since 1970. */
export type Start = {
  readonly asker: ReturnType<typeof askerOf>;
  readonly scopes: readonly string[];
  readonly sent: object;
  readonly at: number;
};
export type Finish = { readonly status: number; readonly body: Readonly<Record<string, unknown>> };

const [root = '', serviceUrl = '', dataDir = ''] = process.argv.slice(2);
const load = async (file: string) => await import(pathToFileURL(`${root}/src/${file}`).href);
const { openPools } = (await load('store/pools.ts')) as typeof import('../../src/store/pools.ts');
const { loadSigner } = (await load('store/local-keys.ts')) as typeof import('../../src/store/local-keys.ts');
const { appOf } = (await load('wire.ts')) as typeof import('../../src/wire.ts');
const { recordFact } = (await load('app/record-fact.ts')) as typeof import('../../src/app/record-fact.ts');
const { toProblem } = (await load('http/problems.ts')) as typeof import('../../src/http/problems.ts');
const { problemCodes } = (await load('errors.ts')) as typeof import('../../src/errors.ts');
const { conversionBody } = (await load('core/records/bodies.ts')) as typeof import('../../src/core/records/bodies.ts');

const app = appOf(
  openPools({ serviceUrl, onLost: () => {} }),
  { signers: [await loadSigner({ dataDir })], former: [] },
  { dataDir, logDir: `${dataDir}/log` },
);

process.on('message', async ({ asker, scopes, sent, at }: Start) => {
  const request = {
    ...{ kind: 'conversion' as const, body: conversionBody.parse(sent), sent },
    ...{ asker: { ...asker, scopes: new Set(scopes) as (typeof asker)['scopes'] }, key: randomUUID(), route: 'race' },
  };
  while (Date.now() < at);
  process.send?.(await finish(request));
});
process.on('disconnect', () => process.exit(0));
process.send?.('ready');

async function finish(request: Parameters<typeof recordFact>[1]): Promise<Finish> {
  try {
    const { status, body } = await recordFact(app, request);
    return { status, body: JSON.parse(body) };
  } catch (error) {
    const { code, extra, detail } = toProblem(error);
    return { status: problemCodes[code].status, body: { code, detail, ...extra } };
  }
}
