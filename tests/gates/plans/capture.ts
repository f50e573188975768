/** What the service asks of the database, as it asks it: texts and values, with the rights that each was asked with. */
import type pg from 'pg';
import type { Pools } from '../../../src/store/pools.ts';

export type Sent = {
  readonly text: string;
  readonly name: string | undefined;
  readonly values: readonly unknown[];
  /** The text and values that its transaction began with: role and organisations. */
  readonly context: { readonly text: string; readonly values: readonly unknown[] };
};

/** Of all statements that go out on these pools from now on, those that read; call it before the pools are used. */
export function captureReads(pools: Pools): Sent[] {
  const sent: Sent[] = [];
  for (const pool of Object.values(pools)) pool.on('connect', (client) => listen(client, sent));
  return sent;
}

function listen(client: pg.PoolClient, sent: Sent[]): void {
  const send = client.query.bind(client) as (...all: unknown[]) => unknown;
  let context: Sent['context'] | null = null;
  client.query = ((...all: unknown[]) => {
    const [query, given] = all as [string | pg.QueryConfig, unknown[] | undefined];
    const { text, name, values = given ?? [] } = typeof query === 'string' ? { text: query } : query;
    if (name === 'transaction-context') context = { text, values };
    // The role stands last in what a transaction begins with.
    else if (name === 'take-role')
      context = context && { ...context, values: [...context.values.slice(0, -1), ...values] };
    else if (
      context !== null &&
      /^\s*(select|with)\b/i.test(text) &&
      !/\b(insert into|update|delete from)\b/i.test(text)
    )
      sent.push({ text, name, values, context });
    return send(...all);
  }) as typeof client.query;
}
