import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { type Prisma, PrismaClient } from './generated/client.ts';
import { currentTransaction } from './transaction.ts';

type Model = Uncapitalize<Prisma.ModelName>;

/**
 * The models without `findUnique`: Prisma gathers those of one tick, whoever asked, into a single query, which would
 * run in the first asker's transaction and show its rows to the others. Use `findFirst`.
 */
export type StoreModels = { readonly [M in Model]: Omit<PrismaClient[M], 'findUnique' | 'findUniqueOrThrow'> };

/**
 * Prisma for ordinary reads and stock writes. One façade serves the whole process and holds no connection: every
 * query runs on the client of the transaction that the calling code is in (`withTransaction`), under its role and
 * organisations. Throws outside one, and when Prisma wants a transaction of its own (nested writes,
 * `$transaction`): its timeouts can commit a late statement.
 *
 * A DateTime drops the microseconds; what is hashed or compared exactly is read with pg.
 */
export function openPrismaFacade(): StoreModels {
  const client = new PrismaClient({ adapter: new PrismaPg(new TransactionPool()) }).$extends({
    query: {
      $allModels: {
        $allOperations({ operation, args, query }) {
          if (gathered.includes(operation))
            throw new Error(`${operation} is gathered across transactions: use findFirst`);
          return asTheDriverSays(() => query(args));
        },
      },
    },
  });
  // The extension changes no type; Prisma's type for it isn't assignable under exactOptionalPropertyTypes.
  return client as unknown as StoreModels;
}

const gathered: readonly string[] = ['findUnique', 'findUniqueOrThrow'];

/** Prisma tells what the database said in words of its own, which nobody here knows, and which quote it. */
async function asTheDriverSays<T>(query: () => Promise<T>): Promise<T> {
  const transaction = currentTransaction.getStore();
  const before = transaction?.failure ?? null;
  try {
    return await query();
  } catch (error) {
    const failure = transaction?.failure ?? null;
    throw failure === before ? error : failure;
  }
}

/** A pool in name only: it never connects. */
class TransactionPool extends pg.Pool {
  override query(query: unknown): never {
    const transaction = currentTransaction.getStore();
    const answer =
      transaction === undefined
        ? Promise.reject(new Error('a Prisma query outside a transaction: wrap it in withTransaction'))
        : transaction.query(query as pg.QueryConfig);
    return answer as never;
  }

  override connect(): never {
    const refusal = new Error('Prisma wants a transaction of its own: use plain queries inside withTransaction');
    return Promise.reject(refusal) as never;
  }
}
