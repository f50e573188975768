/**
 * Run as a process of its own: the service as it is, but that a recording can be told to wait at a named point, to be killed
 * there, and that BREAKS names a promise that is not kept. It sees the statements of the recording pool go by, and nothing
 * else of the service.
 */
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import type { BrokenPromise, Order, Point, Report } from './points.ts';

type Send = () => Promise<pg.QueryResult>;

const breaks = (process.env['BREAKS'] ?? '') as BrokenPromise | '';
const query = pg.Client.prototype.query as (...args: unknown[]) => unknown;
/** Whose open transaction has inserted facts. */
const hasInserted = new WeakSet<pg.Client>();
/** Leaves that are kept back until the facts are committed. */
const keptBack = new WeakMap<pg.Client, unknown>();
/** A commit that has been answered and is still to be sent. */
const owed = new WeakMap<pg.Client, Promise<unknown>>();

let stopAt: Point | null = null;
let goOn = () => {};
process.on('message', (order: Order) => {
  if ('stopAt' in order) stopAt = order.stopAt;
  else goOn();
});
process.once('disconnect', () => process.exit(1));
process.channel?.unref();

async function reached(point: Point): Promise<void> {
  if (stopAt !== point) return;
  stopAt = null;
  const told = new Promise<void>((resolve) => {
    goOn = resolve;
  });
  process.send?.({ waitsAt: point } satisfies Report);
  await told;
}

Object.assign(pg.Client.prototype, {
  query(this: pg.Client, ...args: unknown[]): unknown {
    const send = () => query.apply(this, args) as Promise<pg.QueryResult>;
    const { application_name: pool } = (this as unknown as { connectionParameters: { application_name?: string } })
      .connectionParameters;
    if (pool !== 'asfitted recording' || typeof args.at(-1) === 'function') return send();
    const [first] = args as [string | pg.QueryConfig];
    return inTurn(this, () => passing(this, typeof first === 'string' ? first : first.text, first, send));
  },
});

/** The service sends the beginning of a transaction at once: what is stopped before BEGIN must not be overtaken. */
const turns = new WeakMap<pg.Client, Promise<unknown>>();
function inTurn<T>(client: pg.Client, work: () => Promise<T>): Promise<T> {
  const turn = (turns.get(client) ?? Promise.resolve()).then(work);
  turns.set(
    client,
    turn.catch(() => {}),
  );
  return turn;
}

async function passing(client: pg.Client, text: string, asked: unknown, send: Send): Promise<pg.QueryResult> {
  await owed.get(client);
  if (text.startsWith('begin')) {
    hasInserted.delete(client);
    await reached('before BEGIN');
  }
  if (text.startsWith('insert into staged_leaves') && breaks === 'the log entry in a second transaction') {
    keptBack.set(client, asked);
    const [rows = '[]'] = (asked as { values: [string] }).values;
    return { rowCount: (JSON.parse(rows) as unknown[]).length } as pg.QueryResult;
  }
  if (text === 'commit' && hasInserted.has(client)) return await committing(client, send);
  const result = await send();
  if (text.startsWith('insert into facts ')) {
    hasInserted.add(client);
    await reached('after the insert');
  }
  return result;
}

async function committing(client: pg.Client, send: Send): Promise<pg.QueryResult> {
  if (breaks === 'the reply before COMMIT') {
    owed.set(
      client,
      pause(20).then(async () => {
        await send().catch(() => {});
      }),
    );
    return { command: 'COMMIT' } as pg.QueryResult;
  }
  const result = await send();
  await reached('after COMMIT before the reply');
  const leaves = keptBack.get(client);
  if (leaves !== undefined) {
    keptBack.delete(client);
    for (const statement of ['begin', 'set local role asfitted_recorder', leaves, 'commit'])
      await query.call(client, statement);
  }
  return result;
}

await import('../../../src/main.ts');
