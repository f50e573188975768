import pg from 'pg';
import { schemaQueries } from './sql/schema-queries.ts';

/**
 * Everything that migrations make in the schema public, as text in a stable order: tables with columns, constraints,
 * indexes, row security, policies and grants; views and functions with their definitions. Two databases with the same
 * text have the same schema.
 */
export async function describeSchema(url: string): Promise<string> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  client.on('error', () => {});
  await client.connect();
  try {
    // Definitions are then printed with the schema's name wherever it isn't public.
    await client.query('set search_path = public');
    const sections: string[] = [];
    for (const { title, sql } of schemaQueries) {
      const { rows } = await client.query<{ line: string }>(sql);
      sections.push([`# ${title}`, ...rows.map(({ line }) => line)].join('\n'));
    }
    return `${sections.join('\n\n')}\n`;
  } finally {
    await client.end();
  }
}
