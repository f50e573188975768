/** Asking the service by GraphQL, and counting what it asks of the database meanwhile. */
import type pg from 'pg';
import type { Caller } from '../support/service.ts';

// biome-ignore lint/suspicious/noExplicitAny: answers are read as JSON, field by field
export type Data = any;

/** The data of a query that goes well. */
export async function ask(caller: Caller, query: string, variables: object = {}): Promise<Data> {
  const { status, body, text } = await caller('POST', '/graphql', { query, variables }, null);
  if (status !== 200 || body.errors !== undefined) throw new Error(`${status} ${text}`);
  return body.data;
}

/** The answer whatever it is. */
export async function askBadly(caller: Caller, query: string, variables: object = {}): Promise<Data> {
  const { status, body } = await caller('POST', '/graphql', { query, variables }, null);
  return { status, ...body };
}

/** The texts of all statements that go out on this pool from now on; call it before the pool is used. */
export function listenTo(pool: pg.Pool): string[] {
  const heard: string[] = [];
  pool.on('connect', (client) => {
    const send = client.query.bind(client) as (...all: unknown[]) => unknown;
    client.query = ((...all: unknown[]) => {
      const [query] = all as [string | { text: string }];
      heard.push(typeof query === 'string' ? query : query.text);
      return send(...all);
    }) as typeof client.query;
  });
  return heard;
}

/** How many statements went out while the work was done. */
export async function statementsOf(heard: readonly string[], work: () => Promise<unknown>): Promise<number> {
  const before = heard.length;
  await work();
  return heard.length - before;
}
