/** Run as a process of its own: gives leaves their places, with the sources under the folder given, until nothing waits. */
import { pathToFileURL } from 'node:url';

const [root = '', serviceUrl = '', dataDir = '', most = '512'] = process.argv.slice(2);
const load = async (file: string) => await import(pathToFileURL(`${root}/src/${file}`).href);
const { openPools } = (await load('store/pools.ts')) as typeof import('../../../src/store/pools.ts');
const { loadSigner } = (await load('store/local-keys.ts')) as typeof import('../../../src/store/local-keys.ts');
const { appOf } = (await load('wire.ts')) as typeof import('../../../src/wire.ts');
const { sequenceAll } = (await load('app/log/sequence.ts')) as typeof import('../../../src/app/log/sequence.ts');

const app = appOf(
  openPools({ serviceUrl, onLost: () => {} }),
  { signers: [await loadSigner({ dataDir })], former: [] },
  { dataDir, logDir: `${dataDir}/log` },
);
process.send?.('ready');
try {
  await sequenceAll(app, Number(most));
} catch (error) {
  process.send?.(error instanceof Error ? error.message : String(error));
  process.exit(1);
}
process.exit(0);
