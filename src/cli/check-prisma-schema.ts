/** Compares prisma/schema.prisma with a freshly migrated database, as Prisma's own introspection sees it. */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { withSchemaEngine } from '../store/schema-engine.ts';
import { withFreshDatabase } from './fresh-database.ts';
import { lineDifference } from './line-difference.ts';

const file = fileURLToPath(new URL('../../prisma/schema.prisma', import.meta.url));
const written = await readFile(file, 'utf8');
const introspected = await withFreshDatabase((url) =>
  withSchemaEngine(url, async (engine) => {
    const { schema } = await engine.introspect({
      schema: { files: [{ path: 'schema.prisma', content: written }] },
      baseDirectoryPath: '/',
      // Not forced: names of models and fields are kept, everything else is as the database has it.
      force: false,
      compositeTypeDepth: 0,
      namespaces: null,
    });
    return schema.files.map(({ content }) => content).join('\n');
  }),
);
const difference = lineDifference(modelsOf(written), modelsOf(introspected), /^(model|view|enum) /);
if (difference !== '') {
  console.error('prisma/schema.prisma differs from what the migrations make (- written, + in the database):');
  console.error(difference);
  console.error('Change schema.prisma so, then: npm run generate:prisma');
  process.exitCode = 1;
}

/** Models and views without comments, sorted by name; generator and datasource aren't in a database. */
function modelsOf(schema: string): string {
  const blocks = schema.match(/^(model|view|enum) [\s\S]*?^\}/gm) ?? [];
  const lines = (block: string) => block.split('\n').filter((line) => !line.trimStart().startsWith('//'));
  return blocks
    .map((block) => lines(block).join('\n'))
    .sort()
    .join('\n\n');
}
