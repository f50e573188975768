/** The harness of the bench: what rounds come to, and how they are told. What is measured is for `npm run bench` to show. */

import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { describe, expect, it } from 'vitest';
import { cpuBetween, cpuSoFar, parentOf } from './ground/cpu.ts';
import { median, quantile, resultOf, spreadOf, verdictOf } from './harness/figures.ts';
import { growthOf, type Run } from './harness/growth.ts';
import { readOptions } from './harness/options.ts';
import type { Row } from './harness/row.ts';
import { runRow } from './harness/run-row.ts';
import { cpuTableOf, shown, tableOf } from './harness/table.ts';
import { requireTheSame } from './rows/plans.ts';

const row = {
  ...{ name: 'loaves', claim: 'loaves per second', comparator: 'a mill | a stream', unit: 'loaves/s' },
  better: 'more',
  ...{ gate: 1.2, goal: 1.6 },
} as const satisfies Omit<Row<never>, 'prepare'>;
const round = (ours: number, theirs: number, p99?: number) => ({
  ours: { value: ours, ...(p99 !== undefined && { p99 }) },
  theirs: { value: theirs },
});

describe('figures', () => {
  it('the median is the one in the middle, or half way between the two', () => {
    expect(median([9, 1, 5])).toBe(5);
    expect(median([10, 9, 1, 2])).toBe(5.5);
    expect(() => median([])).toThrow('the median of nothing');
  });

  it('a spread goes from the least to the most', () => {
    expect(spreadOf([3, 1, 10])).toEqual({ median: 3, min: 1, max: 10 });
  });

  it('a quantile is the nearest rank', () => {
    const hundred = Array.from({ length: 100 }, (_, nth) => 100 - nth);
    expect([0.5, 0.99, 1].map((share) => quantile(hundred, share))).toEqual([50, 99, 100]);
    expect(quantile([7], 0.01)).toBe(7);
    expect(() => quantile([], 0.5)).toThrow('a quantile of nothing');
  });

  it.each([
    ['more', 1.6, 'met'],
    ['more', 1.59, 'gate met, goal missed'],
    ['more', 1.2, 'gate met, goal missed'],
    ['more', 1.19, 'missed'],
    ['less', 1.2, 'met'],
    ['less', 1.5, 'gate met, goal missed'],
    ['less', 2.01, 'missed'],
  ] as const)('where %s is better, %d is %s', (better, ratio, verdict) => {
    const limits = better === 'more' ? { gate: 1.2, goal: 1.6 } : { gate: 2, goal: 1.2 };
    expect(verdictOf(ratio, { better, ...limits })).toBe(verdict);
  });

  it('ratios are those of rounds, not of medians', () => {
    const result = resultOf(row, [round(10, 5, 4), round(10, 10, 8), round(40, 10)]);
    expect(result).toMatchObject({ ratio: { median: 2, min: 1, max: 4 }, ours: { median: 10 }, verdict: 'met' });
    expect(result.p99).toEqual({ median: 6, min: 4, max: 8 });
  });
});

it('ours and theirs take turns, and what was opened is closed, also after an error', async () => {
  const done: string[] = [];
  const turns: Row<string> = {
    ...row,
    prepare: async (ground) => ({
      ours: async () => ({ value: done.push(`ours on ${ground}`) }),
      theirs: async () => {
        if (done.length === 3) throw new Error('it broke');
        return { value: done.push('theirs') };
      },
      close: async () => void done.push('closed'),
    }),
  };
  const told: string[] = [];
  await expect(runRow(turns, 'clay', { rounds: 5, tell: (line) => told.push(line) })).rejects.toThrow('it broke');
  expect(done).toEqual(['ours on clay', 'theirs', 'ours on clay', 'closed']);
  expect(told).toEqual(['loaves: warming up', 'loaves: round 1 of 5: 1 ÷ 2 loaves/s = 0.5']);
});

it('the processor time of an answer is the median of rounds, and told where it was measured', () => {
  const cpu = (service: number) => ({ service, postgres: 2, load: 0.25 });
  const rounds = [1, 5, 2].map((ms) => ({ ours: { value: 1, cpu: cpu(ms) }, theirs: { value: 1, cpu: cpu(9) } }));
  const timed = resultOf(row, rounds);
  expect(timed.cpu).toEqual({ ours: cpu(2), theirs: cpu(9) });
  const [, , line] = cpuTableOf([resultOf(row, [round(1, 1)]), timed]).split('\n');
  expect(line).toBe('| loaves | 2.00 | 2.00 | 0.25 | 9.00 | 2.00 | 0.25 |');
  expect(cpuTableOf([resultOf(row, [round(1, 1)])])).toBe('');
});

it('processor time is of a process that works, and of those that ended', async () => {
  const work = `for (const end = Date.now() + 400; Date.now() < end; );`;
  const before = cpuSoFar({ postmaster: process.pid, load: 0 });
  const child = spawn('node', ['-e', work]);
  await once(child, 'exit');
  const each = cpuBetween(before, cpuSoFar({ postmaster: process.pid, load: 0 }), 2);
  // Half of what it took, which is not all of the time that it ran on a busy machine.
  expect(each?.postgres ?? 100).toBeGreaterThanOrEqual(20);
  expect(cpuBetween(null, before, 1)).toBeNull();
  expect(parentOf(process.pid) ?? process.ppid).toBe(process.ppid);
});

it('the table says what was measured, and a miss as a miss', () => {
  const table = tableOf([
    resultOf(row, [round(1234.5, 1000)]),
    resultOf({ ...row, better: 'less', gate: 2, goal: 1.2 }, [round(0.012345, 0.01)]),
    resultOf(row, [round(1, 2)]),
  ]);
  const lines = table.split('\n');
  expect(lines[0]).toBe('| claim | beside | ours | theirs | ratio | min to max | gate | goal | verdict |');
  expect(lines[2]).toBe(
    '| loaves per second (loaves) | a mill \\| a stream | 1235 loaves/s | 1000 loaves/s | **1.23** | 1.23 to 1.23 | ≥ 1.2 | ≥ 1.6 | **gate met, goal missed** |',
  );
  expect(lines[3]).toContain('| ≤ 2 | ≤ 1.2 | **gate met, goal missed** |');
  expect(lines[4]).toMatch(/\*\*0\.5\*\* .* \*\*missed\*\* \|$/);
});

it.each([
  [0.012345, '0.0123'],
  [1, '1'],
  [99.96, '100'],
  [31_000.4, '31000'],
])('%d is told as %s', (value, text) => {
  expect(shown(value)).toBe(text);
});

describe('growth', () => {
  const run = (records: number, p99: number | undefined): Run => ({
    ...{ records, seed: 1, quick: false },
    results: [resultOf(row, [round(1, 1, p99)])],
  });

  it('is of rows whose answers were timed at both sizes', () => {
    const [grown, ...others] = growthOf(run(2_000_000, 13), run(200_000, 10));
    expect(grown).toMatchObject({ name: 'loaves-grown', ratio: { median: 1.3 }, verdict: 'gate met, goal missed' });
    expect(others).toEqual([]);
    expect(growthOf(run(2_000_000, 13), run(200_000, undefined))).toEqual([]);
  });

  it('is of two sizes', () => {
    expect(() => growthOf(run(200_000, 1), run(200_000, 1))).toThrow('both runs are of 200000 records');
  });
});

describe('options', () => {
  it('are of a full run, unless it is to be quick', () => {
    expect(readOptions([], [])).toEqual({
      names: [],
      records: 200_000,
      rounds: 5,
      quick: false,
      seed: 1,
      against: null,
    });
    expect(readOptions(['loaves', '--quick', '--rounds', '3'], ['loaves'])).toMatchObject({
      ...{ names: ['loaves'], records: 2_000, rounds: 3, quick: true },
    });
  });

  it('that are wrong are named', () => {
    expect(() => readOptions(['bread'], ['loaves', 'rolls'])).toThrow(
      'There is no row bread; there are loaves, rolls.',
    );
    expect(() => readOptions(['--rounds', '0'], [])).toThrow('--rounds takes a whole number above 0, not 0.');
  });
});

it('the plan that is measured is the one that the slow reference finds', () => {
  expect(requireTheSame).not.toThrow();
});
