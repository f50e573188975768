/** How a statement is carried out: what it answered, what it touched for that, and whether it read a large table whole. */
import pg from 'pg';
import type { Sent } from './capture.ts';

export type Measured = {
  readonly ms: number;
  readonly answered: number;
  /** Rows that were read from tables and indexes, those that were thrown away again included. */
  readonly touched: number;
  /** Large tables that were read from end to end. */
  readonly whole: readonly string[];
};

type Plan = {
  readonly 'Node Type': string;
  readonly 'Relation Name'?: string;
  readonly 'Actual Rows': number;
  readonly 'Actual Loops': number;
  readonly 'Rows Removed by Filter'?: number;
  readonly 'Rows Removed by Index Recheck'?: number;
  readonly Plans?: readonly Plan[];
};

/** With the rights that it was sent with. A named one as it is planned for whatever values come. */
export async function measure(
  client: pg.Client,
  { text, name, values, context }: Sent,
  large: ReadonlySet<string>,
): Promise<Measured> {
  const as = 'explain (analyze, buffers, format json)';
  await client.query('begin');
  try {
    await client.query(context.text, [...context.values]);
    if (name === undefined) {
      await client.query('set local plan_cache_mode = force_custom_plan');
      return measured(await client.query(`${as} ${text}`, [...values]), large);
    }
    await client.query({ name, text, values: [...values] });
    const given = values.length === 0 ? '' : `(${values.map(literal).join(', ')})`;
    return measured(await client.query(`${as} execute ${pg.escapeIdentifier(name)}${given}`), large);
  } finally {
    await client.query('rollback');
  }
}

function measured(answer: pg.QueryResult, large: ReadonlySet<string>): Measured {
  const [{ Plan: plan, 'Execution Time': ms }] = answer.rows[0]['QUERY PLAN'] as [
    { Plan: Plan; 'Execution Time': number },
  ];
  const nodes = [...nodesOf(plan)];
  const scans = nodes.filter((node) => /Scan$/.test(node['Node Type']) && node['Relation Name'] !== undefined);
  return {
    ms,
    answered: Math.round(plan['Actual Rows'] * plan['Actual Loops']),
    touched: Math.round(scans.reduce((sum, node) => sum + rowsRead(node), 0)),
    whole: scans
      .filter((node) => node['Node Type'] === 'Seq Scan' && node['Actual Loops'] > 0)
      .map((node) => node['Relation Name'] ?? '')
      .filter((table) => large.has(table)),
  };
}

function* nodesOf(plan: Plan): Generator<Plan> {
  yield plan;
  for (const below of plan.Plans ?? []) yield* nodesOf(below);
}

function rowsRead(node: Plan): number {
  const { 'Rows Removed by Filter': filtered = 0, 'Rows Removed by Index Recheck': rechecked = 0 } = node;
  return (node['Actual Rows'] + filtered + rechecked) * node['Actual Loops'];
}

/** A value as pg sends it, written out. */
function literal(value: unknown): string {
  if (value === null || value === undefined) return 'null';
  if (Array.isArray(value)) return pg.escapeLiteral(`{${value.map(element).join(',')}}`);
  if (typeof value === 'object') return pg.escapeLiteral(JSON.stringify(value));
  return pg.escapeLiteral(String(value));
}

function element(value: unknown): string {
  if (value === null || value === undefined) return 'null';
  return `"${String(value).replaceAll('\\', '\\\\').replaceAll('"', '\\"')}"`;
}
