import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { describeSchema } from '../../src/store/describe-schema.ts';
import { migrate } from '../../src/store/migrate.ts';
import { withSchemaEngine } from '../../src/store/schema-engine.ts';
import { testDatabase } from '../support/database.ts';

// The outside check: Prisma's own schema engine, which is what `prisma migrate deploy` runs.
const byUs = await testDatabase({ migrated: false });
const byPrisma = await testDatabase({ migrated: false });

const base = new URL('../../prisma/migrations/', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, base), 'utf8');
const names = readdirSync(base, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name)
  .sort();
const deploy = (url: string) =>
  withSchemaEngine(url, async (engine) => {
    const { appliedMigrationNames } = await engine.applyMigrations({
      migrationsList: {
        baseDir: base.pathname,
        lockfile: { path: 'migration_lock.toml', content: read('migration_lock.toml') },
        shadowDbInitScript: '',
        migrationDirectories: names.map((name) => ({
          path: name,
          migrationFile: { path: 'migration.sql', content: { tag: 'ok', value: read(`${name}/migration.sql`) } },
        })),
      },
      filters: { externalTables: [], externalEnums: [] },
    });
    return appliedMigrationNames;
  });

test('Prisma finds what we migrated applied, and we find what Prisma migrated applied, with the same schema', async () => {
  expect(names.length).toBeGreaterThan(0);
  expect(await migrate({ ownerUrl: byUs.ownerUrl, log: () => {} })).toEqual(names);
  expect(await deploy(byUs.ownerUrl)).toEqual([]);
  expect(await deploy(byPrisma.ownerUrl)).toEqual(names);
  expect(await migrate({ ownerUrl: byPrisma.ownerUrl, log: () => {} })).toEqual([]);
  const schema = async (url: string) => (await describeSchema(url)).replaceAll(/_prisma_migrations.*\n/g, '');
  expect(await schema(byPrisma.ownerUrl)).toBe(await schema(byUs.ownerUrl));
});
