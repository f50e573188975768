/** Importing a messy card index of 500 rows, as CSV and as XLSX. Formats: RFC 4180 and ECMA-376, the latter written by a library that is not ours. */
import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mappingOf } from '../../src/cli/import/mapping.ts';
import { readCsv } from '../../src/cli/import/read-csv.ts';
import { runImport, type Summary } from '../../src/cli/import/run-import.ts';
import type { Table } from '../../src/cli/import/table.ts';
import { readXlsx } from '../../src/cli/import/xlsx/read-xlsx.ts';
import { uploader } from '../support/bulk.ts';
import { testDatabase } from '../support/database.ts';
import { cardCount, type Messy, messyTable, type Planted } from '../support/messy-table.ts';
import { rowsOf } from '../support/rows.ts';
import { testService } from '../support/service.ts';
import { controlBody, openShops } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
await openShops(service);
const messy = messyTable();
const folder = await mkdtemp(join(tmpdir(), 'asfitted-import-'));
afterAll(() => rm(folder, { recursive: true }));

let url = '';
let token = '';
const recorded = async () => (await rowsOf(db, "select from facts where kind = 'conversion'")).length;

beforeAll(async () => {
  await service.server.listen({ host: '127.0.0.1', port: 0 });
  const address = service.server.server.address();
  url = `http://127.0.0.1:${typeof address === 'object' ? address?.port : ''}`;
  token = await service.tokenOf({ distributor: 'brackwater' });
  const body = controlBody('load-sense-bled');
  const lines = messy.serials.map((serial) => {
    const control = { maker: 'ardenholm', serial };
    return { key: serial, kind: 'control-registration', control, body };
  });
  const { outcomes } = await (await uploader(service, { distributor: 'brackwater' }))(lines);
  expect(outcomes.filter((one) => one.status !== 201)).toEqual([]);
});

const formats = ['csv', 'xlsx'] as const;
type Format = (typeof formats)[number];

async function fileOf(table: Messy, format: Format): Promise<string> {
  const file = join(folder, `cards.${format}`);
  await writeFile(file, format === 'csv' ? table.csv : await table.xlsx());
  return file;
}

async function imported(
  table: Messy,
  format: Format,
  checkOnly: boolean,
): Promise<{ told: string[]; summary: Summary }> {
  const mapping = mappingOf(table.mapping, null);
  const file = await fileOf(table, format);
  const read: Table = format === 'csv' ? readCsv(file, mapping.csv) : readXlsx(file, null);
  const told: string[] = [];
  const summary = await runImport({
    ...{
      mapping,
      table: read,
      service: { url, token, checkOnly },
      tell: (line) => told.push(line),
      progress: () => {},
    },
  });
  return { told, summary };
}

/** Row and column of every line that was told, and whether the words are those that were planted there. */
function places(told: readonly string[], planted: readonly Planted[]) {
  return told.map((line) => {
    const [, row, column] = /^row (\d+)(?:, column ([A-Z]+) "[^"]*")? ?(?:\([^)]*\))?: /.exec(line) ?? [];
    const known = planted.find((one) => String(one.row) === row && one.column === column);
    return known?.says.test(line) ? `${row} ${column}` : line;
  });
}
const wanted = (planted: readonly Planted[]) => planted.map(({ row, column }) => `${row} ${column}`).sort();

describe('a dry run', () => {
  it.each(formats)('of %s tells every planted problem by its place, and writes nothing', async (format) => {
    const attempts = (await rowsOf(db, 'select from attempts')).length;
    const { told, summary } = await imported(messy, format, true);
    expect(places(told, messy.planted).sort()).toEqual(wanted(messy.planted));
    expect(summary).toMatchObject({
      ...{ rows: cardCount, recorded: messy.goodRows, before: 0, problemRows: cardCount - messy.goodRows, hidden: 0 },
      judged: { held: 4 },
    });
    expect(await recorded()).toBe(0);
    expect((await rowsOf(db, 'select from attempts')).length).toBe(attempts);
  });
});

describe('an import', () => {
  it('records the good rows once however often it is run and in whichever format, and leaves the others', async () => {
    for (const [format, before] of [
      ['xlsx', 0],
      ['xlsx', messy.goodRows],
      ['csv', messy.goodRows],
    ] as const) {
      const { told, summary } = await imported(messy, format, false);
      expect(places(told, messy.planted).sort()).toEqual(wanted(messy.planted));
      expect(summary).toMatchObject({ recorded: messy.goodRows - before, before });
      expect(await recorded()).toBe(messy.goodRows);
    }
    const [row] = await rowsOf<{ statement: string }>(
      db,
      'select statement from facts where statement like \'%"70100"%\'',
    );
    expect(JSON.parse(row?.statement ?? '{}')).toMatchObject({
      ...{ reference: '70100', grade: 'from-paper', control: { maker: 'ardenholm', serial: 'K-9100' } },
      performedAt: { at: '2026-04-17T00:00:00+02:00', precision: 'day' },
      torques: [{ reading: { value: '61.5', unit: 'N.m' } }, { reading: { value: '5.5', unit: 'N.m' } }],
    });
  });

  it('records a row that was set right, alone', async () => {
    const { summary, told } = await imported(messy.mended(5, 'date', '28.05.2026'), 'xlsx', false);
    expect(summary).toMatchObject({ recorded: 1, before: messy.goodRows });
    expect(told.filter((line) => line.startsWith('row 5,'))).toEqual([]);
    expect(await recorded()).toBe(messy.goodRows + 1);
  });

  it('says of a row that was recorded with other content that it was, and changes nothing', async () => {
    const { summary, told } = await imported(messy.mended(200, 'body', '62,0'), 'csv', false);
    expect(told.filter((line) => line.startsWith('row 200 '))).toEqual([
      expect.stringContaining('used for another request'),
    ]);
    expect(summary).toMatchObject({ recorded: 0 });
  });
});

describe('the command', () => {
  const run = async (...args: string[]) => {
    const env = { ...process.env, ASFITTED_TOKEN: token };
    return await promisify(execFile)('node', ['src/cli/import.ts', ...args], { env }).then(
      ({ stdout, stderr }) => ({ code: 0, stdout, stderr }),
      (error: { code: number; stdout: string; stderr: string }) => error,
    );
  };

  it('tells problems and a summary, shows on standard error how far it is, and exits by what it found', async () => {
    const file = await fileOf(messy, 'xlsx');
    const mapping = join(folder, 'mapping.json');
    await writeFile(mapping, JSON.stringify(messy.mapping));
    const done = await run('--mapping', mapping, '--url', url, '--dry-run', file);
    expect(done.code).toBe(1);
    expect(done.stdout).toContain('row 5, column C "Work / Date" (70005): ');
    expect(done.stdout).toMatch(
      new RegExp(`^${cardCount} rows: \\d+ would be recorded, ${messy.goodRows} recorded before`, 'm'),
    );
    expect(done.stderr).toContain(`${cardCount} of ${cardCount} rows (100 %)`);
    const other = await run('--mapping', mapping, '--url', url, '--kind', 'repair', file);
    expect([other.code, other.stderr]).toEqual([1, expect.stringContaining('is for conversion')]);
    expect((await run('--mapping', mapping, 'cards.xls')).code).toBe(2);
  });
});
