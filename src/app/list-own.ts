/** Lists of what a distributor has stated itself, page by page: attempts, shops, people, instruments, lots, intakes. */
import { lotKey } from '../core/judge/case.ts';
import { Problem } from '../errors.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { cut, type PageAsked } from './page.ts';
import { isAnalyst, readingContext } from './read-unit.ts';

export type StockKind = 'shop' | 'technician' | 'instrument' | 'lot';

export async function listAttempts(app: App, asker: Asker, { first, after }: PageAsked) {
  return await asOwner(app, asker, async () => {
    const rows = await app.models.attempt.findMany({
      ...(after === null ? {} : { where: { id: { gt: after } } }),
      orderBy: { id: 'asc' },
      take: first + 1,
    });
    const items = rows.map((row) => ({
      id: row.id,
      at: row.at.toISOString(),
      kind: row.kind,
      body: JSON.parse(row.body) as unknown,
      findings: JSON.parse(row.findings) as unknown,
    }));
    return cut(items, first, (item) => item.id);
  });
}

export async function listStock(app: App, asker: Asker, kind: StockKind, { first, after }: PageAsked) {
  return await asOwner(app, asker, async () => {
    const rows = await app.models.stockItem.findMany({
      where: { kind, ...(after === null ? {} : { key: { gt: after } }) },
      orderBy: { key: 'asc' },
      take: first + 1,
    });
    const people =
      kind === 'technician'
        ? await app.models.person.findMany({ where: { ownId: { in: rows.map((row) => row.key) } } })
        : [];
    const items = rows.map((row) => ({
      id: row.key,
      version: row.version,
      record: row.fact,
      ...(JSON.parse(row.statement) as object),
      ...nameOf(people.find((one) => one.ownId === row.key)),
    }));
    return cut(items, first, (item) => item.id);
  });
}

export async function listIntakes(
  app: App,
  asker: Asker,
  lot: { maker: string; number: string },
  { first, after }: PageAsked,
) {
  return await asOwner(app, asker, async () => {
    const rows = await app.models.intake.findMany({
      where: { lotMaker: lot.maker, lotNumber: lot.number, ...(after === null ? {} : { fact: { gt: after } }) },
      orderBy: { fact: 'asc' },
      take: first + 1,
    });
    const items = rows.map((row) => ({
      id: row.fact,
      lot: lotKey(row.lotMaker, row.lotNumber),
      shop: row.shop,
      quantity: row.quantity,
    }));
    return cut(items, first, (item) => item.id);
  });
}

async function asOwner<T>(app: App, asker: Asker, work: () => Promise<T>): Promise<T> {
  if (isAnalyst(asker)) throw new Problem('forbidden', 'The token must name its distributor.');
  return await withTransaction(app.pools.reading, readingContext(asker), work);
}

function nameOf(person: { name: string | null; subject: string | null } | undefined): object {
  return person === undefined ? {} : { name: person.name, subject: person.subject };
}
