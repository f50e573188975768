import { defineConfig } from 'prisma/config';

/** For the Prisma CLI only; the service itself applies migrations with src/store/migrate.ts. */
export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations' },
  datasource: { url: process.env['DATABASE_OWNER_URL'] ?? '' },
});
