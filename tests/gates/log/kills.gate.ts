/**
 * Leaves get their places while whoever gives them is killed, two processes at once part of the time: each leaf has one place,
 * none is lost, and every checkpoint that was ever published is of the one log.
 */
import { type ChildProcess, execFileSync, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, expect, it } from 'vitest';
import { loadSigner } from '../../../src/store/local-keys.ts';
import { type TestDatabase, testDatabase } from '../../support/database.ts';
import { rowsOf } from '../../support/rows.ts';
import { withSuperuser } from '../../support/test-server.ts';
import { patched, root } from '../../support/two-racers.ts';
import { gate, tell } from '../gate-options.ts';
import { randomFrom } from '../random.ts';
import { ofOneLog } from './of-one-log.ts';

const kills = 20;
const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

async function stage(db: TestDatabase, count: number): Promise<void> {
  await withSuperuser(db.superuserUrl, (client) =>
    client.query(
      `insert into staged_leaves (fact, entry)
       select gen_random_uuid(), encode(sha256(convert_to('leaf ' || n, 'UTF8')), 'hex') from generate_series(1, $1::int) n`,
      [count],
    ),
  );
}

type Killed = { readonly dataDir: string; readonly killed: number; readonly seen: ReadonlySet<string> };

/** Until nothing waits. `seen`: every checkpoint that a watcher saw published. */
async function sequenceUnderKills(sources: string, db: TestDatabase): Promise<Killed> {
  const dataDir = mkdtempSync(join(tmpdir(), 'asfitted-log-'));
  folders.push(dataDir);
  await loadSigner({ dataDir });
  const random = randomFrom(gate.seed);
  const seen = new Set<string>();
  let watching = true;
  const watcher = (async () => {
    for (; watching; await pause(3)) for (const note of published(dataDir)) seen.add(note);
  })();
  const start = async (): Promise<ChildProcess> => {
    const child = fork(join(root, 'tests/gates/log/sequencer.ts'), [sources, db.serviceUrl, dataDir]);
    await once(child, 'message');
    return child;
  };
  let killed = 0;
  while (killed < kills && (await rowsOf(db, 'select from staged_leaves limit 1')).length > 0) {
    const running = await Promise.all(Array.from({ length: random.oneIn(2) ? 2 : 1 }, start));
    await pause(random.below(400));
    for (const child of running) {
      if (child.exitCode !== null || child.signalCode !== null) continue;
      child.kill('SIGKILL');
      await once(child, 'exit');
      killed += 1;
    }
  }
  const last = await start();
  await once(last, 'exit');
  watching = false;
  await watcher;
  for (const note of published(dataDir)) seen.add(note);
  return { dataDir, killed, seen };
}

function published(dataDir: string): string[] {
  try {
    return [readFileSync(join(dataDir, 'log/checkpoint'), 'utf8')];
  } catch {
    return [];
  }
}

/** What is wrong with the places of so many leaves; empty: nothing. */
async function faultsOf(db: TestDatabase, count: number): Promise<string[]> {
  const [row] = await rowsOf<{ n: number; entries: number; last: number; staged: number }>(
    db,
    `select count(*)::int as n, count(distinct entry)::int as entries, max(index)::int as last,
       (select count(*)::int from staged_leaves) as staged from log_leaves`,
  );
  const { n = 0, entries = 0, last = 0, staged = 0 } = row ?? {};
  return [
    ...(n === count ? [] : [`${n} places for ${count} leaves`]),
    ...(entries === count ? [] : [`${entries} of ${count} leaves have a place`]),
    ...(last === n - 1 ? [] : [`the last of ${n} places is ${last}`]),
    ...(staged === 0 ? [] : [`${staged} leaves wait`]),
  ];
}

it('each leaf has one place, and every checkpoint is of one log', async () => {
  const db = await testDatabase({ verified: false });
  const count = gate.leaves;
  await stage(db, count);
  const { dataDir, killed, seen } = await sequenceUnderKills(root, db);
  expect(await faultsOf(db, count)).toEqual([]);

  const key = await loadSigner({ dataDir });
  const leaves = await rowsOf<{ entry: string }>(db, 'select entry from log_leaves order by index');
  const { sizes, wrong } = ofOneLog(
    seen,
    leaves.map(({ entry }) => entry),
    key,
  );
  expect(wrong).toEqual([]);
  expect(sizes.has(count)).toBe(true);
  const verdict = execFileSync(
    process.execPath,
    [join(root, 'src/cli/verify.ts'), 'log', join(dataDir, 'log'), '--key', key.verifierKey],
    { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] },
  );
  tell(`${count} leaves, ${killed} processes killed, ${seen.size} checkpoints seen: ${verdict.split('\n')[0]}`);

  await stage(db, 20_000);
  const began = performance.now();
  await once(fork(join(root, 'tests/gates/log/sequencer.ts'), [root, db.serviceUrl, dataDir, '4096']), 'exit');
  tell(`20000 leaves more in ${Math.round(performance.now() - began)} ms, the start of a process included`);
});

it('control: leaves that are taken in a transaction of their own are lost', async () => {
  const db = await testDatabase({ verified: false });
  const count = Math.min(gate.leaves, 20_000);
  await stage(db, count);
  const file = 'app/log/sequence.ts';
  const broken = patched('taken-before', [
    {
      file,
      from: "import { type Tx, withTransaction } from '../../store/transaction.ts';",
      to: "import { currentTransaction, type Tx, withTransaction } from '../../store/transaction.ts';",
    },
    {
      file,
      from: 'const leaves = await takeStaged(tx, most);',
      to: `const leaves = await currentTransaction.exit(() => withTransaction(app.pools.recording, { role: 'jobs', orgs: [] }, (other) => takeStaged(other, most)));`,
    },
  ]);
  await sequenceUnderKills(broken, db);
  const faults = await faultsOf(db, count);
  expect(faults).not.toEqual([]);
  tell(`control caught: leaves are taken before they have a place: ${faults[0]}`);
});
