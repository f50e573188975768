import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { closePools, openPools } from '../../src/store/pools.ts';
import { instantText } from '../../src/store/value-types.ts';
import { testDatabase } from '../support/database.ts';

const db = await testDatabase({ migrated: false });
const pools = openPools({ serviceUrl: db.serviceUrl, onLost: () => {} });
afterAll(() => closePools(pools));

const one = async (sql: string, values: unknown[] = []) => {
  const { rows } = await pools.reading.query<{ value: unknown }>(`select ${sql} as value`, values);
  return rows[0]?.value;
};

test('a timestamptz arrives as UTC text with all six decimals', async () => {
  expect(await one(`timestamptz '2026-03-14T10:25:00.123456+01'`)).toBe('2026-03-14T09:25:00.123456Z');
  expect(await one(`timestamptz '2026-03-14T09:25:00Z'`)).toBe('2026-03-14T09:25:00.000000Z');
  expect(await one(`timestamptz '2026-03-14T09:25:00.1Z'`)).toBe('2026-03-14T09:25:00.100000Z');
});

// Checked against the database's own to_char, whose pattern US is microseconds (PostgreSQL manual, 9.8).
test('for any instant the text is what the database itself formats, and reads back as the same instant', async () => {
  const microseconds = fc.bigInt({ min: -62_135_596_800_000_000n, max: 253_402_300_799_999_999n });
  await fc.assert(
    fc.asyncProperty(microseconds, async (us) => {
      const { rows } = await pools.reading.query<{ ours: string; theirs: string; back: boolean }>(
        `select at as ours, to_char(at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as theirs
         from (select timestamptz 'epoch' + $1::bigint * interval '1 microsecond' as at) instant`,
        [us.toString()],
      );
      expect(rows[0]?.ours).toBe(rows[0]?.theirs);
      expect(await one('$1::timestamptz = $2::timestamptz', [rows[0]?.ours, rows[0]?.theirs])).toBe(true);
    }),
    { numRuns: 200 },
  );
});

test('dates and times without a zone arrive as they are written, bigint and numeric as text, json parsed', async () => {
  expect(await one(`date '2026-03-14'`)).toBe('2026-03-14');
  expect(await one(`timestamp '2026-03-14 09:25:00.5'`)).toBe('2026-03-14 09:25:00.5');
  expect(await one('9007199254740993::bigint')).toBe('9007199254740993');
  expect(await one('0.10::numeric')).toBe('0.10');
  expect(await one(`'{"a": [1, null]}'::jsonb`)).toEqual({ a: [1, null] });
});

test('arrays of instants and dates arrive the same way, element by element', async () => {
  expect(await one(`array[timestamptz '2026-03-14T09:25:00.000001Z', null]`)).toEqual([
    '2026-03-14T09:25:00.000001Z',
    null,
  ]);
  expect(await one(`array[date '2026-03-14', null]`)).toEqual(['2026-03-14', null]);
  expect(await one(`array[timestamp '2026-03-14 09:25:00']`)).toEqual(['2026-03-14 09:25:00']);
  expect(await one(`'{}'::timestamptz[]`)).toEqual([]);
});

test('an endless instant stays what it is, and one that cannot be written as UTC throws', async () => {
  expect(await one(`timestamptz 'infinity'`)).toBe('infinity');
  expect(() => instantText('2026-03-14 10:25:00+01')).toThrow('TimeZone UTC');
  await expect(one(`timestamptz '0044-03-15 BC'`)).rejects.toThrow('after the year 0');
});
