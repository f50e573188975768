import type { Tx } from '../transaction.ts';

export type EditionRow = {
  readonly maker: string;
  readonly edition: string;
  readonly effectiveFrom: string;
  readonly digest: string;
  readonly fact: string;
};

/** What these makers have published, by the day it takes effect; without the content. */
export async function listEditions(tx: Tx, makers: readonly string[]): Promise<EditionRow[]> {
  if (makers.length === 0) return [];
  const { rows } = await tx.query<EditionRow>({
    name: 'list-editions',
    text: `
      select maker, edition, effective_from as "effectiveFrom", digest, fact
      from editions where maker = any ($1::text[]) order by maker, effective_from, edition`,
    values: [makers],
  });
  return rows;
}

export async function readEditionContent(tx: Tx, maker: string, edition: string): Promise<string | null> {
  const { rows } = await tx.query<{ content: string }>({
    name: 'read-edition-content',
    text: 'select content from editions where maker = $1 and edition = $2',
    values: [maker, edition],
  });
  return rows[0]?.content ?? null;
}

/** Whoever has published anything. */
export async function listMakers(tx: Tx): Promise<string[]> {
  const { rows } = await tx.query<{ maker: string }>({
    name: 'list-makers',
    text: 'select distinct maker from editions order by maker',
  });
  return rows.map((row) => row.maker);
}
