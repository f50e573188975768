/**
 * What each role may do with each table, found out by trying: every verb on every table of the catalogue, as every role,
 * in contexts of one distributor, of a maker and of nobody. All of it in a transaction that is taken back.
 */
import type pg from 'pg';

export type Asks = Pick<pg.ClientBase, 'query'>;

/** Whose rows a verb reaches: those of the organisations in the context, of the makers in it, or all. */
type Reach = 'own' | 'make' | 'all';
const verbs = ['select', 'insert', 'update', 'delete', 'truncate'] as const;
type Verb = (typeof verbs)[number];

export type Parties = {
  /** The organisation whose context is tried, and one that has as many rows. */
  readonly own: string;
  readonly other: string;
  readonly maker: string;
};

/** Roles that are tried, by their columns in the table. */
export const roles = ['recorder', 'reader', 'analyst', 'jobs', 'eraser', 'projector', 'service', 'owner'] as const;
export type RightsRow = { readonly relation: string; readonly cells: Readonly<Record<(typeof roles)[number], string>> };

/** A row for every table and view, or for these. The client is a superuser's: it takes the part of each role. */
export async function tryRights(
  client: Asks,
  parties: Parties,
  only: readonly string[] | null = null,
): Promise<{ rows: RightsRow[]; tries: number }> {
  const trial = new Trial(client, parties);
  const rows: RightsRow[] = [];
  await requireRows(client, parties);
  for (const relation of await relationsOf(client)) {
    if (only !== null && !only.includes(relation.name)) continue;
    const cells: Record<string, string> = {};
    for (const role of roles) cells[role] = await trial.cell(`asfitted_${role}`, relation);
    rows.push({ relation: relation.name, cells: cells as RightsRow['cells'] });
  }
  return { rows, tries: trial.tries };
}

/** The table as it stands in the repository: a line a row. */
export function inWords(rows: readonly RightsRow[]): string[] {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [
    line(['', ...roles]),
    line(['---', ...roles.map(() => '---')]),
    ...rows.map(({ relation, cells }) => line([`\`${relation}\``, ...roles.map((role) => cells[role])])),
  ];
}

/** Where there are no rows, nothing shows whose a role reaches. */
async function requireRows(client: Asks, { own, other }: Parties): Promise<void> {
  for (const { name, hasOwner } of await relationsOf(client)) {
    for (const owner of hasOwner ? [own, other] : [null]) {
      const { rowCount } = await client.query(
        `select from ${name} ${owner === null ? '' : `where owner = '${owner}'`} limit 1`,
      );
      if (rowCount === 0)
        throw new Error(`${name} has no row of ${owner ?? 'anybody'}: let the scene of this gate make one`);
    }
  }
}

type Relation = {
  readonly name: string;
  readonly isView: boolean;
  readonly columns: readonly string[];
  readonly hasOwner: boolean;
};

async function relationsOf(client: Asks): Promise<Relation[]> {
  const { rows } = await client.query<Relation>(`
    select relname::text as name, relkind = 'v' as "isView",
      array(select attname::text from pg_attribute where attrelid = c.oid and attnum > 0 and not attisdropped order by attnum) as columns,
      exists (select from pg_attribute where attrelid = c.oid and attname = 'owner') as "hasOwner"
    from pg_class c where relkind in ('r', 'p', 'v', 'm') and relnamespace = 'public'::regnamespace order by relname`);
  return rows;
}

type Context = { readonly orgs: string; readonly makers: string };
type Outcome = { readonly allowed: boolean; readonly rows: number };

/** What is raised after the right has been looked at: a row that is there, missing, or not as the table wants it. */
const afterRights = /^(23|428C9|0A000)/;
const denied = '42501';
/** A view that nothing can be written through, whoever tries. */
const notWritable = '55000';

class Trial {
  tries = 0;
  readonly #client: Asks;
  readonly #contexts: Readonly<Record<Reach, Context>>;
  readonly #parties: Parties;

  constructor(client: Asks, parties: Parties) {
    this.#client = client;
    this.#parties = parties;
    this.#contexts = {
      own: { orgs: parties.own, makers: '' },
      make: { orgs: '', makers: parties.maker },
      all: { orgs: '', makers: '' },
    };
  }

  /** Such as `own: select, insert`. */
  async cell(role: string, relation: Relation): Promise<string> {
    const byReach = new Map<Reach, string[]>();
    for (const verb of verbs) {
      if (relation.isView && verb === 'truncate') continue;
      const { columns, reach } = await this.#right(role, relation, verb);
      if (reach === null) continue;
      const partly = columns.length < relation.columns.length ? ` (${columns.join(', ')})` : '';
      byReach.set(reach, [...(byReach.get(reach) ?? []), `${verb}${partly}`]);
    }
    return [...byReach].map(([reach, done]) => `${reach}: ${done.join(', ')}`).join('; ');
  }

  async #right(
    role: string,
    relation: Relation,
    verb: Verb,
  ): Promise<{ columns: readonly string[]; reach: Reach | null }> {
    const columns = await this.#columns(role, relation, verb);
    if (columns.length === 0) return { columns, reach: null };
    for (const reach of ['all', 'own', 'make'] as const) {
      if (await this.#reaches(role, relation, verb, columns, reach)) return { columns, reach };
    }
    return { columns, reach: null };
  }

  /** Those on which the verb is allowed at all, rows or none. */
  async #columns(role: string, { name, columns }: Relation, verb: Verb): Promise<readonly string[]> {
    const tried = async (sql: string) => (await this.#attempt(role, this.#contexts.own, sql)).allowed;
    if (verb === 'delete' || verb === 'truncate') return (await tried(statementOf(verb, name, columns))) ? columns : [];
    if (await tried(permissionOf(verb, name, columns))) return columns;
    const some: string[] = [];
    for (const column of columns) if (await tried(permissionOf(verb, name, [column]))) some.push(column);
    return some;
  }

  async #reaches(
    role: string,
    { name, hasOwner }: Relation,
    verb: Verb,
    columns: readonly string[],
    reach: Reach,
  ): Promise<boolean> {
    const context = this.#contexts[reach];
    if (verb === 'truncate') return reach === 'all';
    if (verb === 'insert') return await this.#inserts(role, { name, hasOwner }, reach);
    const { rows } = await this.#attempt(role, context, statementOf(verb, name, columns));
    return rows > 0;
  }

  /** A row that is there already, put again: it is refused as a double only after its right was looked at. */
  async #inserts(
    role: string,
    { name, hasOwner }: { name: string; hasOwner: boolean },
    reach: Reach,
  ): Promise<boolean> {
    const { own, other } = this.#parties;
    const row = async (owner: string | null) => {
      const where = owner === null ? '' : `where owner = '${owner}'`;
      const { rows } = await this.#client.query<{ row: string }>(
        `select to_jsonb(t)::text as row from ${name} t ${where} limit 1`,
      );
      return rows[0]?.row;
    };
    const put = `insert into ${name} overriding system value select * from jsonb_populate_record(null::${name}, $1)`;
    const may = async (context: Context, owner: string | null) =>
      (await this.#attempt(role, context, put, [await row(owner)])).allowed;
    if (!hasOwner) return reach === 'all' && (await may(this.#contexts.all, null));
    if (reach === 'all') return await may(this.#contexts.own, other);
    return await may(this.#contexts[reach], own);
  }

  async #attempt(role: string, { orgs, makers }: Context, sql: string, values: unknown[] = []): Promise<Outcome> {
    this.tries += 1;
    await this.#client.query(
      `savepoint trial;
       select set_config('app.orgs', '${orgs}', true), set_config('app.makers', '${makers}', true);
       set local role ${role}`,
    );
    try {
      const { rowCount } = await this.#client.query(sql, values);
      return { allowed: true, rows: rowCount ?? 0 };
    } catch (error) {
      const { code = '' } = error as { code?: string };
      if (code === denied || code === notWritable) return { allowed: false, rows: 0 };
      if (afterRights.test(code)) return { allowed: true, rows: 1 };
      throw error;
    } finally {
      await this.#client.query('rollback to savepoint trial; release savepoint trial');
    }
  }
}

/** Touches no row: whether it is allowed is looked at all the same. */
function permissionOf(verb: 'select' | 'insert' | 'update', name: string, columns: readonly string[]): string {
  if (verb === 'select') return `select ${columns.join(', ')} from ${name} where false`;
  if (verb === 'update') return `update ${name} set ${columns.map((one) => `${one} = default`).join(', ')} where false`;
  const nothing = columns.map((one) => `(null::${name}).${one}`).join(', ');
  return `insert into ${name} (${columns.join(', ')}) overriding system value select ${nothing} where false`;
}

/** Touches every row that it reaches. */
function statementOf(verb: Exclude<Verb, 'insert'>, name: string, columns: readonly string[]): string {
  switch (verb) {
    case 'select':
      return `select ${columns.join(', ')} from ${name}`;
    case 'update':
      // The owner is compared before all else: a row without one would look denied.
      return `update ${name} set ${columns.findLast((one) => one !== 'owner')} = null`;
    case 'delete':
      return `delete from ${name}`;
    case 'truncate':
      return `truncate ${name}`;
  }
}
