import pg from 'pg';

export type NewOrganisation = {
  readonly id: string;
  readonly slug: string;
  readonly kind: 'maker' | 'distributor';
  readonly name: string;
};

/** As the owner of the database: the service itself may not. False when the slug is there already. */
export async function addOrganisation(ownerUrl: string, { id, slug, kind, name }: NewOrganisation): Promise<boolean> {
  const client = new pg.Client({ connectionString: ownerUrl });
  await client.connect();
  try {
    const added = await client.query(
      'insert into organisations (id, slug, kind, name) values ($1, $2, $3, $4) on conflict (slug) do nothing',
      [id, slug, kind, name],
    );
    return added.rowCount === 1;
  } finally {
    await client.end();
  }
}
