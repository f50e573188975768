import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, expect, test } from 'vitest';
import { closePools, openPools } from '../../src/store/pools.ts';
import { allInOrder, currentTransaction, type Role, type Tx, withTransaction } from '../../src/store/transaction.ts';
import { testDatabase } from '../support/database.ts';
import { freezableProxy } from '../support/freezable-proxy.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const pools = openPools({ serviceUrl: db.serviceUrl, onLost: () => {} });
/** One connection only, so that the next user of it is sure to get the same one. */
const single = new pg.Pool({ connectionString: db.serviceUrl, max: 1, connectionTimeoutMillis: 5_000, pipeline: true });
single.on('error', () => {});
afterAll(() => Promise.all([closePools(pools), single.end()]));

const org = randomUUID();
const other = randomUUID();
const recorder = { role: 'recorder', orgs: [org] } as const;
const addPerson = (tx: Tx, ownId: string, owner = org) =>
  tx.query('insert into people (owner, id, own_id) values ($1, $2, $3)', [owner, randomUUID(), ownId]);
const peopleCalled = async (ownId: string) =>
  withSuperuser(db.superuserUrl, async (client) => {
    const { rowCount } = await client.query('select from people where own_id = $1', [ownId]);
    return rowCount;
  });
const codeOf = (work: Promise<unknown>) =>
  work.then(
    () => 'no error',
    (error: { code?: string; message: string }) => error.code ?? error.message,
  );
const contextOf = async (asker: { query(text: string): Promise<{ rows: unknown[] }> }) =>
  (
    await asker.query(`select current_user::text as role, coalesce(current_setting('app.orgs', true), '') as orgs,
      coalesce(current_setting('app.makers', true), '') as makers, current_setting('statement_timeout') as statement,
      current_setting('lock_timeout') as lock, current_setting('idle_in_transaction_session_timeout') as idle,
      current_setting('transaction_timeout') as transaction`)
  ).rows[0];

test.each<[Role, string]>([
  ['recorder', 'asfitted_recorder'],
  ['reader', 'asfitted_reader'],
  ['analyst', 'asfitted_analyst'],
  ['jobs', 'asfitted_jobs'],
  ['eraser', 'asfitted_eraser'],
])('work as %s runs as %s, with its organisations, makers and limits', async (role, databaseRole) => {
  const timeouts = { statementMs: 4_000, lockMs: 300, idleMs: 6_000, transactionMs: 7_000 };
  const context = { role, orgs: [org, other], makers: ['ardenholm'], timeouts };
  expect(await withTransaction(pools.reading, context, contextOf)).toEqual({
    role: databaseRole,
    orgs: `${org},${other}`,
    makers: 'ardenholm',
    statement: '4s',
    lock: '300ms',
    idle: '6s',
    transaction: '7s',
  });
});

test('what work wrote is committed, and its result handed back', async () => {
  expect(await withTransaction(pools.recording, recorder, async (tx) => (await addPerson(tx, 'kept')).rowCount)).toBe(
    1,
  );
  expect(await peopleCalled('kept')).toBe(1);
});

test('what work wrote is rolled back when it throws, and its error is thrown on', async () => {
  const failing = withTransaction(pools.recording, recorder, async (tx) => {
    await addPerson(tx, 'undone');
    throw new Error('on purpose');
  });
  await expect(failing).rejects.toThrow('on purpose');
  expect(await peopleCalled('undone')).toBe(0);
});

test('an error that work swallowed fails the transaction instead of losing its writes silently', async () => {
  const swallowing = withTransaction(pools.recording, recorder, async (tx) => {
    await addPerson(tx, 'lost');
    await tx.query('select 1 / 0').catch(() => {});
  });
  await expect(swallowing).rejects.toThrow('rolled back: an error inside it was swallowed');
  expect(await peopleCalled('lost')).toBe(0);
});

test('of queries that were asked at once the first that failed says why, whichever is heard first', async () => {
  const heardLate = async (tx: Tx) => await tx.query('select 1 / 0').then(async (one) => await Promise.resolve(one));
  const together = withTransaction(pools.recording, recorder, (tx) =>
    Promise.all([heardLate(tx), tx.query('select 1')]),
  );
  expect(await codeOf(together)).toBe('22012');
  const inOrder = withTransaction(pools.recording, recorder, async (tx) => {
    const told = () => {
      throw new Error('divided by zero');
    };
    await allInOrder([tx.query('select 1'), heardLate(tx).catch(told), tx.query('select 2')]);
  });
  await expect(inOrder).rejects.toThrow('divided by zero');
});

test('the next user of a connection finds no role and no organisation, after a commit as after a rollback', async () => {
  const clean = await contextOf(single);
  expect(clean).toMatchObject({ role: 'asfitted_service', orgs: '', makers: '', statement: '0' });
  const context = { ...recorder, makers: ['ardenholm'] };
  await withTransaction(single, context, (tx) => tx.query('select 1'));
  expect(await contextOf(single)).toEqual(clean);
  await codeOf(withTransaction(single, context, (tx) => tx.query('select 1 / 0')));
  expect(await contextOf(single)).toEqual(clean);
  expect(await codeOf(single.query('select from people'))).toBe('42501');
});

test('a row of an organisation that is not in the context can neither be written nor read', async () => {
  expect(await codeOf(withTransaction(pools.recording, recorder, (tx) => addPerson(tx, 'theirs', other)))).toBe(
    '42501',
  );
  await withTransaction(pools.recording, { role: 'recorder', orgs: [other] }, (tx) => addPerson(tx, 'theirs', other));
  const seen = (orgs: string[]) =>
    withTransaction(pools.reading, { role: 'reader', orgs }, async (tx) => {
      const { rowCount } = await tx.query(`select from people where own_id = 'theirs'`);
      return rowCount;
    });
  expect([await seen([org]), await seen([]), await seen([org, other])]).toEqual([0, 0, 1]);
});

test('read-only work cannot write, and sees one snapshot', async () => {
  expect(
    await codeOf(withTransaction(pools.reading, { ...recorder, readOnly: true }, (tx) => addPerson(tx, 'no'))),
  ).toBe('25006');
  const counts = await withTransaction(pools.reading, { role: 'reader', orgs: [org], readOnly: true }, async (tx) => {
    const count = async () => (await tx.query(`select from people where own_id = 'meanwhile'`)).rowCount;
    const before = await count();
    await withSuperuser(db.superuserUrl, (client) =>
      client.query(`insert into people (owner, id, own_id) values ($1, $2, 'meanwhile')`, [org, randomUUID()]),
    );
    return [before, await count()];
  });
  expect(counts).toEqual([0, 0]);
  expect(await peopleCalled('meanwhile')).toBe(1);
});

// The codes are those of Appendix A of the PostgreSQL manual.
test('a statement that takes too long is ended: query_canceled', async () => {
  const slow = { ...recorder, timeouts: { statementMs: 50 } };
  expect(await codeOf(withTransaction(pools.recording, slow, (tx) => tx.query('select pg_sleep(30)')))).toBe('57014');
});

test('a wait for a lock is ended: lock_not_available', async () => {
  const code = await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('begin; lock table people in access exclusive mode');
    const waiting = { ...recorder, timeouts: { lockMs: 50 } };
    return codeOf(withTransaction(pools.recording, waiting, (tx) => addPerson(tx, 'waits')));
  });
  expect(code).toBe('55P03');
});

test('a transaction that idles is ended, and its connection is not used again', async () => {
  const before = await backendOf(single);
  const idling = withTransaction(single, { ...recorder, timeouts: { idleMs: 50 } }, async (tx) => {
    await addPerson(tx, 'idle');
    await endOf(before);
  });
  await expect(idling).rejects.toThrow();
  expect(await backendOf(single)).not.toBe(before);
  expect(await peopleCalled('idle')).toBe(0);
});

test('a transaction that takes too long as a whole is ended, though no statement does', async () => {
  const before = await backendOf(single);
  const long = withTransaction(single, { ...recorder, timeouts: { transactionMs: 100 } }, async (tx) => {
    await addPerson(tx, 'long');
    for (;;) await tx.query('select pg_sleep(0.01)');
  });
  await expect(long).rejects.toThrow();
  expect(await backendOf(single)).not.toBe(before);
  expect(await peopleCalled('long')).toBe(0);
});

test('a connection that is lost in the middle is thrown away, and the next transaction gets a new one', async () => {
  const before = await backendOf(single);
  const lost = withTransaction(single, recorder, async (tx) => {
    await addPerson(tx, 'cut off');
    await withSuperuser(db.superuserUrl, (client) => client.query('select pg_terminate_backend($1)', [before]));
    await tx.query('select 1');
  });
  await expect(lost).rejects.toThrow();
  expect(await withTransaction(single, recorder, (tx) => backendOf(tx))).not.toBe(before);
  expect(await peopleCalled('cut off')).toBe(0);
});

test('a server that stops answering ends the transaction, and the pool works again when it answers', async () => {
  const proxy = await freezableProxy(db.serviceUrl);
  const pool = new pg.Pool({ connectionString: proxy.url, max: 1, connectionTimeoutMillis: 2_000, pipeline: true });
  pool.on('error', () => {});
  try {
    const hanging = withTransaction(pool, { ...recorder, timeouts: { transactionMs: 100 } }, async (tx) => {
      await addPerson(tx, 'hung');
      proxy.freeze();
      await tx.query('select 1');
    });
    await expect(hanging).rejects.toThrow();
    proxy.thaw();
    expect(await withTransaction(pool, recorder, async (tx) => (await tx.query('select 1 as one')).rows)).toEqual([
      { one: 1 },
    ]);
    expect(await peopleCalled('hung')).toBe(0);
  } finally {
    await pool.end();
    await proxy.close();
  }
});

test('waiting for a free connection has an end', async () => {
  const crowded = new pg.Pool({ connectionString: db.serviceUrl, max: 1, connectionTimeoutMillis: 500 });
  const waiting = withTransaction(crowded, recorder, () =>
    withTransactionElsewhere(() => withTransaction(crowded, recorder, async () => 'never')),
  );
  await expect(waiting).rejects.toThrow('timeout exceeded when trying to connect');
  await crowded.end();
});

test('a transaction inside a transaction is refused', async () => {
  const nested = withTransaction(pools.recording, recorder, () =>
    withTransaction(pools.recording, recorder, async () => 'never'),
  );
  await expect(nested).rejects.toThrow('a transaction is open already');
});

test('a query that nobody awaits is part of the transaction, and one sent afterwards is refused', async () => {
  let escaped: Tx | undefined;
  await withTransaction(single, recorder, async (tx) => {
    escaped = tx;
    void tx.query('select pg_sleep(0.05)');
    void addPerson(tx, 'not awaited');
  });
  expect(await peopleCalled('not awaited')).toBe(1);
  await expect(escaped?.query('select 1')).rejects.toThrow('the transaction is over');
});

test('queries sent at once run one after the other', async () => {
  const numbers = await withTransaction(pools.recording, recorder, (tx) =>
    Promise.all([1, 2, 3, 4].map(async (n) => (await tx.query<{ n: number }>('select $1::int as n', [n])).rows[0]?.n)),
  );
  expect(numbers).toEqual([1, 2, 3, 4]);
});

test('a query under another role leaves those beside it under their own, and sees what the transaction may see', async () => {
  const who = `select current_user::text as role, current_setting('app.orgs') as orgs`;
  const context = { role: 'reader', orgs: [org], readOnly: true } as const;
  const seen = await withTransaction(pools.reading, context, async (tx) => {
    const answers = await Promise.all([tx.query(who), tx.as('recorder').query(who), tx.query(who)]);
    return answers.map(({ rows: [row] }) => row);
  });
  const [reader, recorder] = ['asfitted_reader', 'asfitted_recorder'].map((role) => ({ role, orgs: org }));
  expect(seen).toEqual([reader, recorder, reader]);
  expect(
    await codeOf(withTransaction(pools.reading, context, (tx) => addPerson(tx.as('recorder'), 'by another role'))),
  ).toBe('25006');
});

test('a statement with a name is planned for all values, one without for its own, and then as before', async () => {
  const mode = `select current_setting('plan_cache_mode') as mode, $1::int as one`;
  const seen = await withTransaction(pools.reading, { role: 'reader', orgs: [], readOnly: true }, async (tx) => {
    const named = () => tx.query<{ mode: string }>({ name: 'mode-of-plans', text: mode, values: [1] });
    const answers = [await named(), await tx.query<{ mode: string }>(mode, [1]), await named()];
    return answers.map(({ rows }) => rows[0]?.mode);
  });
  expect(seen).toEqual(['force_generic_plan', 'force_custom_plan', 'force_generic_plan']);
});

test('a query that fails is told by its own error, with a name or without, also under another role', async () => {
  const context = { role: 'reader', orgs: [org], readOnly: true } as const;
  const divided = { text: 'select 1 / $1::int', values: [0] };
  for (const query of [divided, { ...divided, name: 'divided' }]) {
    expect(await codeOf(withTransaction(pools.reading, context, (tx) => tx.query(query)))).toBe('22012');
    expect(await codeOf(withTransaction(pools.reading, context, (tx) => tx.as('recorder').query(query)))).toBe('22012');
  }
});

test('what begins a transaction leaves in one write with what is asked at once, and what follows in another', async () => {
  await withTransaction(single, recorder, (tx) => Promise.all([tx.query('select 1'), tx.query('select 2')]));
  const client = await single.connect();
  const { stream } = (client as unknown as { connection: { stream: import('node:net').Socket } }).connection;
  const before = stream.bytesWritten;
  const written: number[] = [];
  client.release();
  await withTransaction(single, recorder, async (tx) => {
    const one = tx.query('select 1');
    const two = tx.query('select 2');
    written.push(stream.bytesWritten - before - stream.writableLength);
    await Promise.all([one, two]);
    written.push(stream.bytesWritten - before - stream.writableLength);
  });
  expect(written[0]).toBe(0);
  expect(written[1]).toBeGreaterThan(0);
});

test.each([
  ['an organisation that is no uuid', { orgs: ['brackwater'] }],
  ['two organisations in one text', { orgs: [`${org},${other}`] }],
  ['a maker with a comma', { makers: ['ardenholm,another'] }],
  ['an empty maker', { makers: [''] }],
  ['a limit of nothing, which Postgres reads as no limit', { timeouts: { statementMs: 0 } }],
  ['a limit that is no whole number', { timeouts: { lockMs: 0.5 } }],
])('%s is refused before anything is sent', async (_, wrong) => {
  const work = withTransaction(single, { ...recorder, ...wrong }, async () => 'never');
  await expect(work).rejects.toThrow(/organisation's uuid|maker's slug|whole number/);
});

const backendOf = async (asker: { query(text: string): Promise<{ rows: unknown[] }> }) =>
  ((await asker.query('select pg_backend_pid() as pid')).rows[0] as { pid: number }).pid;

/** Waits until the server has ended the backend. */
const endOf = (pid: number) =>
  withSuperuser(db.superuserUrl, async (client) => {
    while ((await client.query('select from pg_stat_activity where pid = $1', [pid])).rowCount !== 0) {
      await client.query('select pg_sleep(0.01)');
    }
  });

/** Work of another request: it isn't in our transaction. */
const withTransactionElsewhere = <T>(work: () => Promise<T>) => currentTransaction.exit(work);
