/** What leads to what, where no foreign key says so: comments that PostGraphile reads. */
import type pg from 'pg';

const relations: Readonly<Record<string, readonly string[]>> = {
  facts: ['@unique id'],
  unit_names: ['@foreignKey (unit_id) references unit_heads (unit_id)'],
  unit_states: ['@foreignKey (unit_id) references unit_heads (unit_id)'],
  unit_events: [
    '@foreignKey (unit_id) references unit_heads (unit_id)',
    '@foreignKey (fact) references facts (id)|@fieldName record',
  ],
  part_uses: [
    '@foreignKey (owner, fact) references facts (owner, id)|@fieldName record|@foreignFieldName uses',
    '@foreignKey (unit_id) references unit_heads (unit_id)',
  ],
};

export async function tellRelations(client: pg.ClientBase): Promise<void> {
  for (const [table, tags] of Object.entries(relations))
    await client.query(`comment on table ${table} is '${tags.join('\n')}'`);
  // An index that leaves rows out is none to it.
  for (const column of ['lot_maker', 'lot_number'])
    await client.query(`comment on column part_uses.${column} is '@behavior +attribute:filterBy'`);
}
