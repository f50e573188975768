import { AsyncLocalStorage } from 'node:async_hooks';
import pg from 'pg';

export type Role = 'recorder' | 'reader' | 'analyst' | 'jobs' | 'eraser' | 'projector';

/** In milliseconds. What the server ends by itself, whatever happens to us. */
export type Timeouts = {
  readonly statementMs: number;
  readonly lockMs: number;
  readonly idleMs: number;
  readonly transactionMs: number;
};

export type TransactionContext = {
  readonly role: Role;
  /** Organisations whose rows the work may see; none are seen without one. */
  readonly orgs: readonly string[];
  /** Makers (by slug) whose rows the analyst may see. */
  readonly makers?: readonly string[];
  /** Also gives the work one snapshot, so that several queries can't contradict each other. */
  readonly readOnly?: boolean;
  /** The same snapshot for work that writes, if only to temporary tables. */
  readonly oneSnapshot?: boolean;
  readonly timeouts?: Partial<Timeouts>;
  /** Is told of every row that the work is given. */
  readonly watch?: (row: pg.QueryResultRow) => void;
};

/**
 * What work gets. Its queries run one after the other, and only while the transaction is open. Those that it asks for at
 * once, without waiting for one to ask the next, go out in one write and cost one round trip.
 */
export type Tx = {
  query<R extends pg.QueryResultRow>(text: string, values?: readonly unknown[]): Promise<pg.QueryResult<R>>;
  query<R extends pg.QueryResultRow>(query: pg.QueryConfig): Promise<pg.QueryResult<R>>;
  /** The same transaction and snapshot, each of its queries alone under another role. */
  as(role: Role): Tx;
  /**
   * When it began: never later than the snapshot of a read-only one. What was recorded and settled by then is in the
   * snapshot; a clock read later, after a wait, would promise what the snapshot doesn't hold.
   */
  readonly began: Promise<string>;
  /** What is asked in `ask`, before it first waits, is the end of the work: the commit leaves with it, in the same write. */
  last<T>(ask: () => Promise<T>): Promise<T>;
};

export const defaultTimeouts: Timeouts = { statementMs: 5_000, lockMs: 1_000, idleMs: 5_000, transactionMs: 10_000 };

/** The server ends an overlong transaction itself; if it doesn't answer at all, the connection is cut this much later. */
const graceMs = 1_000;

const roles: Readonly<Record<Role, string>> = {
  recorder: 'asfitted_recorder',
  reader: 'asfitted_reader',
  analyst: 'asfitted_analyst',
  jobs: 'asfitted_jobs',
  eraser: 'asfitted_eraser',
  projector: 'asfitted_projector',
};

/** The transaction that the running code is in; the Prisma façade finds its client here. */
export const currentTransaction = new AsyncLocalStorage<OpenTransaction>();

/**
 * Runs `work` in a transaction of its own, under a role and with the organisations it may see, and commits. Whatever
 * `work` throws rolls back and is thrown on. What begins it goes out with the first queries of the work.
 *
 * Throws when another transaction is open in the same flow (two connections held by one request can starve the
 * pool), when an error inside was swallowed (Postgres answers such a COMMIT by rolling back), and when the connection
 * is lost; after a loss during COMMIT nobody knows whether it was applied.
 */
export async function withTransaction<T>(
  pool: pg.Pool,
  context: TransactionContext,
  work: (tx: Tx) => Promise<T>,
): Promise<T> {
  if (currentTransaction.getStore()?.isOpen === true) throw new Error('a transaction is open already: pass its tx on');
  const settings = settingsOf(context);
  const client = await pool.connect();
  const transaction = new OpenTransaction(client, context);
  const watch = setTimeout(() => transaction.cut(), settings.transactionMs + graceMs);
  try {
    transaction.begin(beginning(context), { name: 'transaction-context', text: setContext, values: settings.values });
    // Awaited inside: a query of Prisma begins only when somebody waits for it.
    const done = currentTransaction.run(transaction, async () => await work(transaction));
    const [result] = await Promise.all([done, transaction.began]);
    await transaction.commit();
    return result;
  } catch (error) {
    await transaction.rollBack();
    // Of what was asked at once the first that failed says why; what the others say may be heard before it.
    throw isOfFailed(error) ? (transaction.failure ?? error) : error;
  } finally {
    clearTimeout(watch);
    transaction.release();
  }
}

/** Whether all connections were in use: nothing was asked of the database. */
export function foundNoConnection(error: unknown): boolean {
  return error instanceof Error && error.message === 'timeout exceeded when trying to connect';
}

function beginning({ readOnly = false, oneSnapshot = readOnly }: TransactionContext): string {
  return `begin${oneSnapshot ? ' isolation level repeatable read' : ''}${readOnly ? ', read only' : ''}`;
}

/** The role last: what stands before it needs no right of the role's. */
const setContext = `
  select set_config('statement_timeout', $1, true), set_config('lock_timeout', $2, true),
    set_config('idle_in_transaction_session_timeout', $3, true), set_config('transaction_timeout', $4, true),
    set_config('app.orgs', $5, true), set_config('app.makers', $6, true), set_config('role', $7, true),
    transaction_timestamp() as now`;

function settingsOf(context: TransactionContext): { values: string[]; transactionMs: number } {
  const { statementMs, lockMs, idleMs, transactionMs } = { ...defaultTimeouts, ...context.timeouts };
  const times = [statementMs, lockMs, idleMs, transactionMs].map((time) => {
    // Postgres reads 0 as "no limit".
    if (!Number.isInteger(time) || time <= 0)
      throw new RangeError(`a timeout is a whole number of ms above 0, not ${time}`);
    return String(time);
  });
  const orgs = context.orgs.map((org) => {
    if (!/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(org))
      throw new TypeError(`"${org}" is no organisation's uuid`);
    return org;
  });
  const makers = (context.makers ?? []).map((maker) => {
    // The list is split at commas: one inside would let the work see a second maker.
    if (maker === '' || maker.includes(',')) throw new TypeError(`"${maker}" is no maker's slug`);
    return maker;
  });
  return { values: [...times, orgs.join(','), makers.join(','), roles[context.role]], transactionMs };
}

/** Waits for all that was asked at once. @throws of what failed the first in this order */
export async function allInOrder(asked: readonly Promise<unknown>[]): Promise<void> {
  for (const one of await Promise.allSettled(asked)) if (one.status === 'rejected') throw one.reason;
}

/** Postgres takes nothing more once a query has failed. */
function isOfFailed(error: unknown): boolean {
  return error instanceof pg.DatabaseError && error.code === '25P02';
}

const planAnew = { name: 'plan-anew', text: 'set local plan_cache_mode to force_custom_plan' };
/** As the connection has it. */
const planAsBefore = { name: 'plan-as-before', text: 'set local plan_cache_mode to default' };

function takeRole(role: Role): pg.QueryConfig {
  return { name: 'take-role', text: `select set_config('role', $1, true)`, values: [roles[role]] };
}

/** What a client of pg has and its types don't tell. */
type Wired = { readonly connection: { readonly stream: import('node:net').Socket } };

/** A client of the pool while our transaction is open on it. */
export class OpenTransaction implements Tx {
  readonly #client: pg.PoolClient;
  readonly #role: Role;
  readonly #onError: (error: Error) => void;
  readonly #watch: ((row: pg.QueryResultRow) => void) | undefined;
  #isOpen = true;
  /** That of what was sent last, and so of what is sent next. */
  #sentAs: Role;
  #began: Promise<string> | null = null;
  #broken: Error | null = null;
  #failure: unknown = null;
  readonly #running = new Set<Promise<unknown>>();
  #isGathering = false;
  #commit: Promise<pg.QueryResult> | null = null;

  constructor(client: pg.PoolClient, { role, watch }: Pick<TransactionContext, 'role' | 'watch'>) {
    this.#client = client;
    this.#role = role;
    this.#sentAs = role;
    this.#watch = watch;
    // A connection lost between two queries is reported here only; unheard, it would end the process.
    this.#onError = (error) => {
      this.#broken ??= error;
    };
    client.on('error', this.#onError);
  }

  get isOpen(): boolean {
    return this.#isOpen;
  }

  /** What the driver said of the query that failed; null: none did. */
  get failure(): unknown {
    return this.#failure;
  }

  /**
   * Both at once, and before they are answered whatever the work asks first: none of it does anything where there is no
   * transaction or no context, because the role that logs in may do nothing.
   */
  begin(begin: string, context: pg.QueryConfig): void {
    const sent = Promise.all([this.#send(begin), this.#send<{ now: string }>(context)]);
    this.#began = sent.then(([, { rows }]) => rows[0]?.now ?? '');
  }

  get began(): Promise<string> {
    return this.#began ?? Promise.reject(new Error('the transaction has not begun'));
  }

  query<R extends pg.QueryResultRow>(
    query: string | pg.QueryConfig,
    values?: readonly unknown[],
  ): Promise<pg.QueryResult<R>> {
    return this.#askAs<R>(this.#role, query, values);
  }

  as(role: Role): Tx {
    const query = <R extends pg.QueryResultRow>(query: string | pg.QueryConfig, values?: readonly unknown[]) =>
      this.#askAs<R>(role, query, values);
    return { query, as: (other) => this.as(other), began: this.began, last: (ask) => this.last(ask) };
  }

  /** The role is taken at once with the first query that asks under it: queries are answered in the order in which they are sent. */
  #askAs<R extends pg.QueryResultRow>(
    role: Role,
    query: string | pg.QueryConfig,
    values?: readonly unknown[],
  ): Promise<pg.QueryResult<R>> {
    return this.#whileOpen(() => {
      if (role === this.#sentAs) return this.#ask<R>(query, values);
      this.#sentAs = role;
      return this.#within([takeRole(role)], () => this.#ask<R>(query, values), []);
    });
  }

  last<T>(ask: () => Promise<T>): Promise<T> {
    const answer = ask();
    this.#isOpen = false;
    this.#commit = this.#send('commit');
    this.#commit.catch(() => {});
    return answer;
  }

  async commit(): Promise<void> {
    await this.#close();
    const { command } = await (this.#commit ?? this.#send('commit'));
    if (command !== 'COMMIT') throw new Error('the transaction was rolled back: an error inside it was swallowed');
  }

  /** Never throws: the error that led here says more. */
  async rollBack(): Promise<void> {
    await this.#close();
    if (this.#broken !== null) return;
    await this.#send('rollback').catch((error: Error) => {
      this.#broken ??= error;
    });
  }

  /** Ends the wait for a server that doesn't answer: the query that runs fails, and the client is thrown away. */
  cut(): void {
    this.#broken ??= new Error('the database did not answer in time');
    (this.#client as unknown as Wired).connection.stream.destroy();
  }

  release(): void {
    this.#client.removeListener('error', this.#onError);
    this.#client.release(this.#broken ?? undefined);
  }

  /** Takes no more queries, and waits for those taken: none may run on the client once somebody else has it. */
  async #close(): Promise<void> {
    this.#isOpen = false;
    await Promise.allSettled(this.#running);
  }

  #whileOpen<T>(send: () => Promise<T>): Promise<T> {
    if (!this.#isOpen) return Promise.reject(new Error('the transaction is over: await every query inside the work'));
    const answer = send();
    const forget = () => this.#running.delete(answer);
    this.#running.add(answer);
    answer.then(forget, forget);
    return answer;
  }

  /** Until all that is ready to run has run: what is asked for at once leaves in one write, which costs more than its bytes. */
  #gather(): void {
    if (this.#isGathering) return;
    this.#isGathering = true;
    const { stream } = (this.#client as unknown as Wired).connection;
    stream.cork();
    process.nextTick(() => {
      this.#isGathering = false;
      stream.uncork();
    });
  }

  /** Where there is no name, planned for these values; see `sessionOptions`. All three leave at once. */
  async #ask<R extends pg.QueryResultRow>(
    query: string | pg.QueryConfig,
    values?: readonly unknown[],
  ): Promise<pg.QueryResult<R>> {
    const { name, values: own = values } = typeof query === 'string' ? { name: undefined } : query;
    if (name !== undefined || own === undefined || own.length === 0) return await this.#send<R>(query, values);
    return await this.#within([planAnew], () => this.#send<R>(query, values), [planAsBefore]);
  }

  /** All at once. Of errors the first is thrown: those that follow say no more than that there was one. */
  async #within<R>(
    before: readonly pg.QueryConfig[],
    ask: () => Promise<R>,
    after: readonly pg.QueryConfig[],
  ): Promise<R> {
    const first = before.map((one) => this.#send(one));
    const answer = ask();
    await allInOrder([...first, answer, ...after.map((one) => this.#send(one))]);
    return await answer;
  }

  async #send<R extends pg.QueryResultRow>(
    query: string | pg.QueryConfig,
    values?: readonly unknown[],
  ): Promise<pg.QueryResult<R>> {
    this.#gather();
    try {
      const answer = await this.#client.query<R>(query as string, values === undefined ? undefined : [...values]);
      if (this.#watch !== undefined) for (const row of answer.rows) this.#watch(row);
      return answer;
    } catch (error) {
      if (!isOfFailed(error)) this.#failure = error;
      // Everything but an error that the server sent while the connection stays: throw the client away.
      if (!(error instanceof pg.DatabaseError) || error.severity === 'FATAL') {
        this.#broken ??= error instanceof Error ? error : new Error(String(error));
      }
      throw error;
    }
  }
}
