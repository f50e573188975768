/**
 * `npm run -s gate:isolation -- [--long | --requests N] [--seed N]` and `npm run -s gate:bad-input -- [--cases N] [--seed N]`
 * and `npm run -s gate:plans -- [--records N] [--seed N]` and `npm run -s gate:audit -- [--changes N] [--seed N]` and
 * `npm run -s gate:log -- [--leaves N] [--seed N]` and `npm run -s gate:crash -- [--long | --kills N] [--records N] [--seed N]`: tests that count rather than compare, and so run as commands, apart from
 * `npm test`. They end with 1 where one is red. `--only TEXT` leaves out the tests whose name doesn't have it.
 */
import { parseArgs } from 'node:util';
import { startVitest } from 'vitest/node';
import type { GateOptions } from './gate-options.ts';

const gates = ['isolation', 'bad-input', 'plans', 'audit', 'log', 'crash'];
const short = { requests: 5_000, cases: 1_000, records: 200_000, changes: 100, leaves: 100_000, kills: 6 };
const long = { requests: 100_000, kills: 60 };
/** Those of `crash` are recorded one by one. */
const crashRecords = { short: 600, long: 50_000 };

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    long: { type: 'boolean', default: false },
    requests: { type: 'string' },
    cases: { type: 'string' },
    records: { type: 'string' },
    changes: { type: 'string' },
    leaves: { type: 'string' },
    kills: { type: 'string' },
    seed: { type: 'string' },
    only: { type: 'string' },
  },
});
const [name = ''] = positionals;
if (!gates.includes(name)) throw new Error(`Name a gate: ${gates.join(' or ')}.`);
const lengths = values.long ? 'long' : 'short';
const options: GateOptions = {
  seed: whole('seed', values.seed, Date.now() % 1_000_000_000),
  requests: whole('requests', values.requests, values.long ? long.requests : short.requests),
  cases: whole('cases', values.cases, short.cases),
  records: whole('records', values.records, name === 'crash' ? crashRecords[lengths] : short.records),
  changes: whole('changes', values.changes, short.changes),
  leaves: whole('leaves', values.leaves, short.leaves),
  kills: whole('kills', values.kills, values.long ? long.kills : short.kills),
};
console.log(`gate:${name}, seed ${options.seed}`);
const vitest = await startVitest('test', [], {
  run: true,
  watch: false,
  config: false,
  globalSetup: ['tests/support/global-setup.ts'],
  include: [`tests/gates/${name}/*.gate.ts`],
  ...(values.only !== undefined && { testNamePattern: values.only }),
  provide: { gate: options },
  disableConsoleIntercept: true,
  reporters: [['default', { summary: false }]],
  testTimeout: 24 * 60 * 60_000,
  hookTimeout: 600_000,
});
await vitest.close();

function whole(option: string, text: string | undefined, otherwise: number): number {
  if (text === undefined) return otherwise;
  const number = Number(text);
  if (!Number.isSafeInteger(number) || number < 1)
    throw new Error(`--${option} takes a whole number above 0, not ${text}.`);
  return number;
}
