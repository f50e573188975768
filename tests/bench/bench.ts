/**
 * `npm run bench [-- NAME...] [--records N] [--rounds N] [--quick] [--seed N] [--against FILE]`: measures us beside what
 * a user would pick instead, each claim of `rows/` by turns with its comparator. Writes bench-results.json and
 * bench-results.md, and prints the table. A miss is shown and is no error; `--quick` runs everything small.
 * With `--against` an earlier bench-results.json of another size is compared with.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { openGround } from './ground/ground.ts';
import type { Result } from './harness/figures.ts';
import { growthOf, type Run } from './harness/growth.ts';
import { readOptions } from './harness/options.ts';
import { runRow } from './harness/run-row.ts';
import { cpuTableOf, tableOf } from './harness/table.ts';
import { allRows } from './rows/all-rows.ts';

const options = readOptions(
  process.argv.slice(2),
  allRows.map(({ name }) => name),
);
const { names, rounds, against, ...scale } = options;
const earlier = against === null ? null : (JSON.parse(readFileSync(against, 'utf8')) as Run);
const begun = performance.now();
const tell = (line: string) =>
  console.error(`${((performance.now() - begun) / 1000).toFixed(0).padStart(4)} s  ${line}`);

const ground = openGround(scale, tell);
const results: Result[] = [];
try {
  for (const row of allRows) {
    if (names.length === 0 || names.includes(row.name)) results.push(await runRow(row, ground, { rounds, tell }));
  }
} finally {
  await ground.close();
}
const run: Run = { ...scale, results };
const grown = earlier === null ? [] : growthOf(run, earlier);
const table = [tableOf([...results, ...grown]), cpuTableOf(results)].join('\n');
writeFileSync('bench-results.json', `${JSON.stringify({ ...run, results: [...results, ...grown] }, null, 2)}\n`);
writeFileSync('bench-results.md', table);
console.log(table);
console.log(`${scale.records} records, seed ${scale.seed}${scale.quick ? ', quick: figures mean nothing' : ''}`);
