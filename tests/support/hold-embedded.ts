/** Run as a process of its own: starts the embedded Postgres in the folder given, says so in one line, and stays. */
import { startEmbedded } from '../../src/store/embedded/start-embedded.ts';

const [dataDir = ''] = process.argv.slice(2);
const { stop, ...server } = await startEmbedded({ dataDir, log: () => {}, settings: { fsync: 'off' } });
console.log(JSON.stringify(server));
process.once('SIGTERM', () => stop().then(() => process.exit(0)));
setInterval(() => {}, 60_000);
