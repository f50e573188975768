/** `npm run organisations -- add SLUG --kind maker|distributor --name NAME`: enters an organisation into the directory. */
import { parseArgs } from 'node:util';
import { v7 } from 'uuid';
import { loadConfig } from '../config.ts';
import { addOrganisation } from '../store/add-organisation.ts';
import { startEmbedded } from '../store/embedded/start-embedded.ts';
import { migrate } from '../store/migrate.ts';

const usage = 'usage: npm run organisations -- add SLUG --kind maker|distributor --name NAME';

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { kind: { type: 'string' }, name: { type: 'string' } },
});
const [command, slug] = positionals;
const { kind } = values;
if (
  command !== 'add' ||
  slug === undefined ||
  !/^[a-z0-9][a-z0-9-]{0,48}$/.test(slug) ||
  (kind !== 'maker' && kind !== 'distributor')
) {
  console.error(usage);
  process.exitCode = 2;
} else {
  try {
    await add(slug, kind, values.name ?? slug);
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    process.exitCode = 1;
  }
}

async function add(slugOf: string, kindOf: 'maker' | 'distributor', name: string): Promise<void> {
  const config = loadConfig();
  const database =
    config.databaseUrl === null ? await startEmbedded({ dataDir: config.dataDir, log: console.error }) : null;
  const ownerUrl = database?.ownerUrl ?? config.databaseOwnerUrl;
  try {
    if (ownerUrl === null) throw new Error('Set DATABASE_OWNER_URL to the database as its owner.');
    if (database !== null) await migrate({ ownerUrl, log: console.error });
    const added = await addOrganisation(ownerUrl, { id: v7(), slug: slugOf, kind: kindOf, name });
    console.log(added ? `${kindOf} ${slugOf} is added` : `${slugOf} is there already`);
  } finally {
    await database?.stop();
  }
}
