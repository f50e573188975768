/** Verifying a log of a million leaves with nothing but its files, beside hashing the same bytes. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { testKey } from '../../core/log/small-log.ts';
import { entriesUpTo, writeLog } from '../../support/write-log.ts';
import type { Ground } from '../ground/ground.ts';
import { root } from '../ground/service-process.ts';
import type { Row } from '../harness/row.ts';

export const verify: Row<Ground> = {
  name: 'verify',
  claim: 'leaves/s that `verify log` proves, from files (1,000,000 leaves; 20,000 where quick)',
  comparator: 'bare SHA-256 over the same bytes: each leaf and each pair',
  unit: 'leaves/s',
  better: 'more',
  gate: 0.3,
  goal: 0.6,
  prepare: async ({ quick, tell }) => {
    const leaves = quick ? 20_000 : 1_000_000;
    const folder = mkdtempSync(join(tmpdir(), 'asfitted-bench-log-'));
    const key = testKey(1);
    await writeLog(folder, entriesUpTo(leaves), key);
    tell(`verify: a log of ${leaves} leaves is written`);
    const run = async (...args: string[]) => {
      const begun = performance.now();
      const child = spawn('node', args, { cwd: root, stdio: 'ignore' });
      const [code] = await once(child, 'exit');
      if (code !== 0) throw new Error(`node ${args.join(' ')} ended with ${code}`);
      return { value: leaves / ((performance.now() - begun) / 1000) };
    };
    return {
      ours: async () => await run('src/cli/verify.ts', 'log', folder, '--key', key.vkey),
      theirs: async () => await run('tests/bench/peers/bare-hash.ts', folder),
      close: async () => rmSync(folder, { recursive: true }),
    };
  },
};
