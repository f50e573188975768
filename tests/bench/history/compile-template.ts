/**
 * From the rows of a template the SQL that writes them again for many copies at once. Whatever tells one copy from another
 * is found in the texts by its shape: ids, times, salts, digests, tokens. Digests and entries are reckoned anew over the
 * texts of the copy, so that each fact's leaf and each unit's chain is its own. Kept as they are: the signatures of
 * receipts, which nobody but a service can make.
 */
import { createHash } from 'node:crypto';
import { entryOf, leafHead, type Subject } from '../../../src/core/log/leaf.ts';
import type { Template, TemplateRow } from './read-template.ts';

/** What every copy has as a column of `copies`: `copy` (a text of its own), `days` (that its times are moved by), and these. */
export type Given = Readonly<Record<string, string>>;

const shapes =
  /[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}|2026-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?Z|[0-9a-f]{64}|[0-9a-f]{32}/;

/**
 * `given`: literal texts, and the column of `copies` that stands in their place. `seed`: ids and salts follow from it.
 * The statement reads `copies`, with columns copy, days and those given.
 */
export function compileTemplate(template: Template, copies: string, given: Given, seed: number): string {
  return new Compiler(template, given, seed).statement(copies);
}

/** After the work, in the order of recording. */
function recordedAgain({ facts }: Template): Map<string, string> {
  let last = '2026-08-01T06:00:00.000000Z';
  const minutes = (time: string, more: number) =>
    `${new Date(Date.parse(time) + more * 60_000).toISOString().slice(0, -1)}000Z`;
  return new Map(
    facts.map(({ recordedAt, performedTo }) => {
      const after = performedTo < recordedAt ? minutes(performedTo, 20) : '';
      last = after > last ? after : minutes(last, 1);
      return [recordedAt, last];
    }),
  );
}

class Compiler {
  readonly #template: Template;
  readonly #given: Given;
  readonly #recorded: Map<string, string>;
  readonly #ranks: Map<string, number>;
  readonly #stages: Map<string, string>[] = [new Map(), new Map(), new Map(), new Map()];
  readonly #digests = new Map<string, string>();
  readonly #pattern: RegExp;
  readonly #seed: number;

  constructor(template: Template, given: Given, seed: number) {
    this.#template = template;
    this.#given = given;
    this.#seed = seed;
    this.#recorded = recordedAgain(template);
    const texts = template.rows.flatMap(({ columns }) => columns.map(({ value }) => value ?? ''));
    const ids = new Set(texts.flatMap((text) => text.match(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g) ?? []));
    const first = template.facts[0]?.id ?? '';
    const [made, drawn] = [
      [...ids].filter((id) => id[14] === '7' && id >= first),
      [...ids].filter((id) => id[14] !== '7'),
    ];
    this.#ranks = new Map([...made.sort(), ...drawn].map((id, rank) => [id, rank]));
    const literal = Object.keys(given).sort((a, b) => b.length - a.length);
    this.#pattern = new RegExp(`(${literal.join('|')}|sha256:[0-9a-f]{64}|${shapes.source})`);
  }

  statement(copies: string): string {
    this.#sections();
    this.#entries();
    const inserts = [...Map.groupBy(this.#template.rows, ({ table }) => table)].map(([table, rows], nth) => {
      const columns = rows[0]?.columns.map(({ name }) => name).join(', ');
      const values = rows.map(
        (row) => `select ${row.columns.map((one) => this.#column(row, one)).join(', ')} from made`,
      );
      return `in_${nth} as (insert into ${table} (${columns}) ${values.join(' union all ')})`;
    });
    let before = `(${copies})`;
    const stages = this.#stages.map((columns, nth) => {
      const from = before;
      before = nth === 3 ? 'made' : `stage_${nth}`;
      return `${before} as materialized (select *${nth === 3 ? '' : list(columns)} from ${from} as copies${nth === 3 ? this.#chain() : ''})`;
    });
    return `with ${[...stages, ...inserts].join(',\n')} select count(*) from made`;
  }

  /** Texts of sections, and their digests: stages 1 and 2. */
  #sections(): void {
    for (const [row, section, salt] of this.#sealed()) {
      const text = this.#text(of(row, section));
      const named = this.#name(1, `section ${factOf(row)} ${section}`, text);
      const digest = createHash('sha256')
        .update(Buffer.from(of(row, salt), 'hex'))
        .update(of(row, section))
        .digest('hex');
      const made = `encode(sha256(decode(${this.#text(of(row, salt))}, 'hex') || convert_to(${named}, 'UTF8')), 'hex')`;
      this.#digests.set(digest, this.#name(2, digest, made));
    }
  }

  *#sealed(): Generator<readonly [TemplateRow, string, string]> {
    for (const row of this.#template.rows) {
      if (row.table === 'fact_privates') yield [row, 'section', 'salt'];
      if (row.table !== 'facts') continue;
      for (const section of ['origin', 'statement', 'judgement']) yield [row, section, `${section}_salt`];
    }
  }

  /** Each over the entries before it: stage 3, one column at a time. */
  #entries(): void {
    const { rows, facts } = this.#template;
    for (const { id } of facts) {
      const fact = rows.find((row) => row.table === 'facts' && of(row, 'id') === id);
      const sealed = rows.find((row) => row.table === 'fact_privates' && of(row, 'fact') === id);
      if (fact === undefined || sealed === undefined) throw new Error(`${id} has no row of its own`);
      const digest = (row: TemplateRow, section: string, salt: string) =>
        createHash('sha256')
          .update(Buffer.from(of(row, salt), 'hex'))
          .update(of(row, section))
          .digest('hex');
      const head = leafHead({
        ...{ id, kind: of(fact, 'kind'), recordedAt: of(fact, 'recorded_at'), edition: maybe(fact, 'edition') },
        ...{ ruleset: of(fact, 'ruleset'), subjects: this.#subjects(id) },
        digests: {
          origin: digest(fact, 'origin', 'origin_salt'),
          statement: digest(fact, 'statement', 'statement_salt'),
          judgement: digest(fact, 'judgement', 'judgement_salt'),
          private: digest(sealed, 'section', 'salt'),
        },
      });
      const entry = of(fact, 'entry');
      if (entryOf(head) !== entry) throw new Error(`the entry of ${id} is not understood`);
      const made = `encode(sha256(convert_to(${this.#text(head)}, 'UTF8')), 'hex')`;
      this.#digests.set(entry, this.#name(3, entry, made));
    }
  }

  #subjects(fact: string): Subject[] {
    return this.#template.rows
      .filter((row) => row.table === 'unit_events' && of(row, 'fact') === fact)
      .map((row) => ({ unit: of(row, 'unit_id'), seq: Number(of(row, 'seq')), prev: maybe(row, 'prev') }));
  }

  /** `offset 0` keeps Postgres from writing each entry out within the next. */
  #chain(): string {
    const columns = [...(this.#stages[3] ?? [])];
    return columns
      .map(([name, sql]) => ` cross join lateral (select ${sql} as ${name} offset 0) as of_${name}`)
      .join('');
  }

  #column(row: TemplateRow, { name, type, value }: TemplateRow['columns'][number]): string {
    if (value === null) return `null::${type}`;
    if (row.table === 'facts' && ['origin', 'statement', 'judgement'].includes(name)) return this.#section(row, name);
    if (row.table === 'fact_privates' && name === 'section') return this.#section(row, name);
    const text = this.#text(value);
    if (type === 'bytea') return `decode(${text}, 'hex')`;
    return type === 'text' ? text : `(${text})::${type}`;
  }

  #section(row: TemplateRow, name: string): string {
    return this.#name(1, `section ${factOf(row)} ${name}`, '');
  }

  /** A text of the template as the expression that makes it of a copy. */
  #text(text: string): string {
    const pieces = text.split(this.#pattern).map((piece, at) => (at % 2 === 0 ? quoted(piece) : this.#slot(piece)));
    const filled = pieces.filter((piece) => piece !== `''`);
    if (filled.length < 2) return filled[0] ?? `''`;
    const groups = Array.from({ length: Math.ceil(filled.length / 90) }, (_, nth) =>
      filled.slice(nth * 90, nth * 90 + 90),
    );
    const joined = groups.map((group) => `concat(${group.join(', ')})`);
    return joined.length === 1 ? (joined[0] ?? '') : `concat(${joined.join(', ')})`;
  }

  #slot(literal: string): string {
    const given = this.#given[literal];
    if (given !== undefined) return given;
    if (literal.startsWith('sha256:')) return quoted(literal);
    if (literal.startsWith('2026-')) return this.#time(literal);
    if (literal.includes('-')) return this.#id(literal);
    if (literal.length === 32) return this.#name(0, literal, `md5('${this.#seed}' || copy || 'salt ${this.#nth()}')`);
    const known = this.#digests.get(literal);
    if (known !== undefined) return known;
    const sent = this.#template.sent.get(literal);
    if (sent === undefined) throw new Error(`${literal} is the digest of nothing that was sent or kept`);
    return this.#name(1, literal, `encode(sha256(convert_to(${this.#text(sent)}, 'UTF8')), 'hex')`);
  }

  #time(literal: string): string {
    const moved = this.#recorded.get(literal) ?? literal;
    const day = moved.slice(0, 10);
    const of = this.#name(0, `day ${day}`, `to_char(date '${day}' + days, 'YYYY-MM-DD')`);
    return `${of} || ${quoted(moved.slice(10))}`;
  }

  /** Of the time of the fact that it came with, then in the order of the template: as if made then. */
  #id(literal: string): string {
    const ranked = this.#ranks.get(literal);
    if (ranked === undefined) throw new Error(`${literal} is of before the template`);
    const at = [...this.#template.facts]
      .reverse()
      .find(({ id }) => id.slice(0, 8) <= literal.slice(0, 8) && id <= literal);
    const fact = at ?? this.#template.facts[0];
    const ms = Date.parse(this.#recorded.get(fact?.recordedAt ?? '') ?? '');
    const time = this.#name(0, `ms ${ms}`, `lpad(to_hex(${ms} + days * 86400000::bigint), 12, '0')`);
    const rank = ranked.toString(16).padStart(3, '0');
    const random = `right(md5('${this.#seed}' || copy || 'id ${rank}'), 12)`;
    const made = `(select left(t, 8) || '-' || right(t, 4) || '-7${rank}-8000-' || ${random} from (select ${sqlOf(this.#stages[0], time)} as t) as at)`;
    return this.#name(0, literal, made);
  }

  /** Different for each that is new. */
  #nth(): number {
    return this.#stages[0]?.size ?? 0;
  }

  #name(stage: number, what: string, sql: string): string {
    const name = nameOf(what);
    const columns = this.#stages[stage];
    if (columns !== undefined && !columns.has(name)) columns.set(name, sql);
    return name;
  }
}

const nameOf = (what: string) => `c_${createHash('md5').update(what).digest('hex').slice(0, 12)}`;
const sqlOf = (columns: Map<string, string> | undefined, name: string) => columns?.get(name) ?? name;
const list = (columns: Map<string, string>) => [...columns].map(([name, sql]) => `, ${sql} as ${name}`).join('');
const quoted = (text: string) => `'${text.replaceAll("'", "''")}'`;
const factOf = (row: TemplateRow) => (row.table === 'facts' ? of(row, 'id') : of(row, 'fact'));

function maybe(row: TemplateRow, name: string): string | null {
  return row.columns.find((one) => one.name === name)?.value ?? null;
}

function of(row: TemplateRow, name: string): string {
  const value = maybe(row, name);
  if (value === null) throw new Error(`${row.table} has no ${name}`);
  return value;
}
