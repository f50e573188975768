import { randomUUID } from 'node:crypto';
import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { databaseFault } from '../../src/http/database-errors.ts';
import { PrismaClient } from '../../src/store/generated/client.ts';
import { closePools, openPools } from '../../src/store/pools.ts';
import { openPrismaFacade } from '../../src/store/prisma-facade.ts';
import { currentTransaction, type Tx, withTransaction } from '../../src/store/transaction.ts';
import { testDatabase } from '../support/database.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const pools = openPools({ serviceUrl: db.serviceUrl, onLost: () => {} });
const prisma = openPrismaFacade();
const orgs = Array.from({ length: 20 }, () => randomUUID());
const shared = randomUUID();

afterAll(() => closePools(pools));

/** Every distributor has a person of the same id, so that only row security tells them apart. */
beforeAll(async () => {
  for (const owner of orgs) {
    await withTransaction(pools.recording, { role: 'recorder', orgs: [owner] }, () =>
      prisma.person.create({ data: { owner, id: shared, ownId: 'bench-1', name: `person of ${owner}` } }),
    );
  }
});

const asReader = <T>(org: string, work: () => Promise<T>) =>
  withTransaction(pools.reading, { role: 'reader', orgs: [org] }, work);

test('a query outside a transaction throws and touches no database', async () => {
  await expect(prisma.person.findMany()).rejects.toThrow('a Prisma query outside a transaction');
});

test('a query after the transaction is over throws', async () => {
  let late: (() => Promise<unknown>) | undefined;
  await asReader(orgs[0] ?? '', async () => {
    const store = currentTransaction.getStore();
    late = () =>
      store === undefined
        ? Promise.resolve()
        : currentTransaction.run(store, async () => await prisma.person.findMany());
  });
  await expect(late?.()).rejects.toThrow('the transaction is over');
});

test('a query runs on the client of the transaction, under its role and organisations', async () => {
  const owner = randomUUID();
  const attempt = withTransaction(pools.recording, { role: 'recorder', orgs: [owner] }, async (tx) => {
    await tx.query(`insert into people (owner, id, own_id, name) values ($1, $2, 'bench-2', 'not yet committed')`, [
      owner,
      randomUUID(),
    ]);
    const seen = await prisma.person.findMany();
    expect(seen.map(({ name }) => name)).toEqual(['not yet committed']);
    throw new Error('rolled back on purpose');
  });
  await expect(attempt).rejects.toThrow('rolled back on purpose');
  expect(await asReader(owner, () => prisma.person.findMany())).toEqual([]);
});

test('what would need a transaction of its own is refused, and the outer one goes on', async () => {
  const [owner = ''] = orgs;
  const fact = {
    owner,
    id: randomUUID(),
    kind: 'inspection',
    ruleset: '1',
    origin: '{}',
    statement: '{}',
    judgement: '{}',
  };
  const at = new Date('2026-03-14T09:25:00Z');
  const salt = new Uint8Array(16);
  await withTransaction(pools.recording, { role: 'recorder', orgs: [owner] }, async (tx) => {
    const nested = prisma.fact.create({
      data: {
        ...fact,
        performedFrom: at,
        performedTo: at,
        recordedAt: at,
        originSalt: salt,
        statementSalt: salt,
        judgementSalt: salt,
        entry: 'none',
        private: { create: { section: 'free text', salt } },
      },
    });
    await expect(nested).rejects.toThrow('Prisma wants a transaction of its own');
    expect((await tx.query('select 1 as one')).rows).toEqual([{ one: 1 }]);
  });
});

test('findUnique is refused, because Prisma gathers it across transactions', async () => {
  const withAll = prisma.person as PrismaClient['person'];
  await asReader(orgs[0] ?? '', async () => {
    await expect(
      withAll.findUnique({ where: { owner_ownId: { owner: orgs[0] ?? '', ownId: 'bench-1' } } }),
    ).rejects.toThrow('use findFirst');
  });
});

test('what the database says of a query comes out as the driver has it, and not in words that quote it', async () => {
  const [owner = ''] = orgs;
  const asRecorder = (work: (tx: Tx) => Promise<unknown>) =>
    withTransaction(pools.recording, { role: 'recorder', orgs: [owner] }, work);
  const twice = asRecorder(() => prisma.person.create({ data: { owner, id: shared, ownId: 'bench-1' } }));
  await expect(twice).rejects.toMatchObject({ severity: 'ERROR', code: '23505', table: 'people' });
  // As an operator ends a session.
  const ended = asRecorder(async (tx) => {
    const { rows } = await tx.query<{ pid: number }>('select pg_backend_pid() as pid');
    await withSuperuser(db.superuserUrl, (client) =>
      client.query('select pg_terminate_backend($1, 5000)', [rows[0]?.pid]),
    );
    await prisma.person.findMany();
  });
  const error: unknown = await ended.catch((thrown: unknown) => thrown);
  expect(databaseFault(error)).toBe('database-unavailable');
});

test('400 interleaved transactions each see their own distributor and nobody else', async () => {
  // Two for each connection: all 400 at once would wait for one longer than the pool lets them.
  const seen = await Promise.all(
    Array.from({ length: 12 }, async (_, worker) => {
      const own: boolean[] = [];
      for (let n = worker; n < 400; n += 12) {
        const owner = orgs[n % orgs.length] ?? '';
        own.push(await asReader(owner, async () => await seesOnly(owner)));
      }
      return own;
    }),
  );
  expect(seen.flat().filter((own) => own)).toHaveLength(400);
});

async function seesOnly(owner: string): Promise<boolean> {
  const [first, all] = await Promise.all([
    prisma.person.findFirst({ where: { id: shared } }),
    prisma.person.findMany({ where: { ownId: 'bench-1' } }),
  ]);
  const isOwn = [first, ...all].every((person) => person?.owner === owner && person.name === `person of ${owner}`);
  return isOwn && all.length === 1;
}

test('control: without the refusal, findUnique of several transactions does mix them', async () => {
  class BarePool extends pg.Pool {
    override query(query: unknown): never {
      return currentTransaction.getStore()?.query(query as pg.QueryConfig) as never;
    }
  }
  const bare = new PrismaClient({ adapter: new PrismaPg(new BarePool()) });
  let go = () => {};
  const together = new Promise<void>((resolve) => {
    go = resolve;
  });
  let waiting = 0;
  const found = await Promise.all(
    orgs.slice(0, 6).map((owner) =>
      asReader(owner, async () => {
        waiting += 1;
        if (waiting === 6) go();
        await together;
        return bare.person.findUnique({ where: { owner_ownId: { owner, ownId: 'bench-1' } } });
      }),
    ),
  );
  expect(found.filter((person) => person === null).length).toBeGreaterThan(0);
});
