/** Brings the database of DATABASE_OWNER_URL up to this release. */
import { loadConfig } from '../config.ts';
import { migrate } from '../store/migrate.ts';

try {
  const { databaseOwnerUrl } = loadConfig();
  if (databaseOwnerUrl === null) {
    throw new Error(
      'Set DATABASE_OWNER_URL to the database as its owner (postgresql://asfitted_owner:…@host/asfitted). Without a DATABASE_URL the service migrates its embedded database itself.',
    );
  }
  const applied = await migrate({ ownerUrl: databaseOwnerUrl, log: console.log });
  if (applied.length === 0) console.log('nothing to apply');
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
