/** The pools of the service with some of its SQL put otherwise on the way: what a mistake in it would do, without one in src. */
import type pg from 'pg';
import { openPools, type Pools } from '../../../src/store/pools.ts';

/** A text that stands in the service's SQL, and what is sent in its place. */
export type Alteration = { readonly from: string; readonly to: string };

/** `altered()` says how many statements were put otherwise so far: a control that alters none is none. */
export function alteredPools(
  serviceUrl: string,
  alterations: readonly Alteration[],
): { pools: Pools; altered: () => number } {
  const pools = openPools({ serviceUrl, onLost: () => {} });
  let count = 0;
  const alter = (text: string): string => {
    const altered = alterations.reduce((sql, { from, to }) => sql.replace(from, to), text);
    if (altered !== text) count += 1;
    return altered;
  };
  for (const pool of Object.values(pools)) {
    pool.on('connect', (client: pg.PoolClient) => {
      const send = client.query.bind(client) as (...args: unknown[]) => unknown;
      const query = (first: unknown, ...rest: unknown[]) =>
        send(typeof first === 'string' ? alter(first) : withText(first as pg.QueryConfig, alter), ...rest);
      Object.assign(client, { query });
    });
  }
  return { pools, altered: () => count };
}

function withText(query: pg.QueryConfig, alter: (text: string) => string): pg.QueryConfig {
  return { ...query, text: alter(query.text) };
}
