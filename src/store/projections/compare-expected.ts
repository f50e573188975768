import type { Tx } from '../transaction.ts';
import type { ExpectedTable } from './expected-tables.ts';

/** One value that is not what it should be; or a row that is missing or too many, whose column is `(row)`. */
export type Difference = {
  readonly table: string;
  /** `column=value, …` of the row. */
  readonly key: string;
  readonly column: string;
  readonly expected: string | null;
  readonly found: string | null;
};

const wholeRow = '(row)';

/** How many differences there are, and the first in the order of keys. */
export type Compared = { readonly count: number; readonly differences: readonly Difference[] };

/** Row by row, column by column. */
export async function compareExpected(tx: Tx, spec: ExpectedTable, most: number): Promise<Compared> {
  const { rows } = await tx.query<Omit<Difference, 'table'> & { count: string }>(comparison(spec), [most]);
  return {
    count: Number(rows[0]?.count ?? 0),
    differences: rows.map(({ key, column, expected, found }) => ({ table: spec.table, key, column, expected, found })),
  };
}

/** Free texts whose fact isn't there: the foreign key forbids them, and a restored dump may lack the key. */
export async function orphanPrivates(tx: Tx, most: number): Promise<Compared> {
  const { rows } = await tx.query<{ key: string; count: string }>(
    `select concat('owner=', owner, ', fact=', fact) as key, count(*) over () as count from fact_privates p
     where not exists (select from facts f where f.owner = p.owner and f.id = p.fact)
     order by owner, fact limit $1`,
    [most],
  );
  const found = { table: 'fact_privates', column: wholeRow, expected: 'no such row', found: 'a row' };
  return { count: Number(rows[0]?.count ?? 0), differences: rows.map(({ key }) => ({ key, ...found })) };
}

function comparison({ table, key, columns, countedBy, given = false }: ExpectedTable): string {
  const source = (name: string) =>
    countedBy === undefined
      ? name
      : `(select *, row_number() over (partition by ${key.join(', ')} order by ${countedBy}) as n from ${name})`;
  const joined = countedBy === undefined ? key : [...key, 'n'];
  const first = key[0] ?? '';
  const keyText = key.map((name) => `'${name}=', coalesce(e.${name}, f.${name})`).join(`, ', ', `);
  const whole = (side: string) => {
    const shown = [...key, ...columns].map((name) => `'${name}', ${side}.${name}`).join(', ');
    return `case when ${side}.${first} is null then 'no such row' else json_build_object(${shown})::text end`;
  };
  return `
    select key, "column", expected, found, count(*) over () as count
    from (
      select concat(${keyText}) as key, v.*
      from ${source(`expected_${table}`)} e
      ${given ? 'join' : 'full join'} ${source(table)} f on ${joined.map((name) => `e.${name} = f.${name}`).join(' and ')}
      cross join lateral (values
        ('${wholeRow}', ${whole('e')}, ${whole('f')}),
        ${columns.map((name) => `('${name}', e.${name}::text, f.${name}::text)`).join(',\n        ')}
      ) as v ("column", expected, found)
      where case when e.${first} is null or f.${first} is null then v."column" = '${wholeRow}'
        else v."column" <> '${wholeRow}' and v.expected is distinct from v.found end
    ) as differences
    order by key, "column" limit $1`;
}
