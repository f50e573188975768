/** The database against the log and what is published of it: whatever is changed behind the service's back is named. */
import { execFile } from 'node:child_process';
import { generateKeyPairSync, sign } from 'node:crypto';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import pg from 'pg';
import { afterAll, describe, expect, it } from 'vitest';
import { audit } from '../../../src/app/log/audit.ts';
import { sequenceAll } from '../../../src/app/log/sequence.ts';
import { signCheckpoint } from '../../../src/core/log/checkpoint.ts';
import { Frontier } from '../../../src/core/log/frontier.ts';
import { hashOfLeaf } from '../../../src/core/log/hash.ts';
import { keyIdOf } from '../../../src/core/log/note.ts';
import { tilesOf } from '../../../src/core/log/tiles.ts';
import { withOwnerPool } from '../../../src/store/owner-pool.ts';
import { testDatabase } from '../../support/database.ts';
import { mustGoWell } from '../../support/scene.ts';
import { testService } from '../../support/service.ts';
import { conversionOf, openShops, registerPair } from '../../support/shop.ts';
import { addOne, changeOne, columnsOf, takeConstraintsAway, takeOne, withSaved } from '../../support/tamper.ts';

const db = await testDatabase();
const service = await testService(db);
const { app, signer } = service;
const { brackwater } = await openShops(service);
const log = { files: app.log.files, keys: app.log.keys };

/** More than a tile of leaves, several checkpoints, and something that waits. */
await sequenceAll(app);
for (const number of ['one', 'two', 'three']) {
  await registerPair(brackwater, number);
  const frame = { reference: `A-${number}`, performedAt: '2026-04-02T08:00:00Z' };
  await mustGoWell(brackwater('POST', '/v1/conversions', await conversionOf(brackwater, number, 'load-sense', frame)));
  await sequenceAll(app);
}
for (let from = 0; from < 270; from += 30) {
  const names = Array.from({ length: 30 }, (_, at) => `many-${from + at}`);
  await Promise.all(names.map((name) => mustGoWell(brackwater('PUT', `/v1/shops/${name}`, { name }))));
  await sequenceAll(app);
}
await mustGoWell(brackwater('PUT', '/v1/shops/waits', { name: 'Waits' }));

const superuser = new pg.Client({ connectionString: db.superuserUrl });
await superuser.connect();
await takeConstraintsAway(superuser);
afterAll(() => superuser.end());
const columns = await columnsOf(superuser);
const found = async () =>
  (await withOwnerPool(db.ownerUrl, (pool) => audit(pool, log, () => {}))).differences.map(
    ({ table, key, column }) => `${table} (${key}) ${column}`,
  );
const tables = ['logs', 'log_leaves', 'log_checkpoints'];
/** No hash covers them, and nothing follows from them. */
const notCovered = ['logs.begun_at', 'log_checkpoints.signed_at'];

describe('a log as it was kept', () => {
  it('is found to be so, with all that is published', async () => {
    const { differences, leaves, checkpoints, files } = await withOwnerPool(db.ownerUrl, (pool) =>
      audit(pool, log, () => {}),
    );
    expect(differences).toEqual([]);
    expect(leaves).toBeGreaterThan(256);
    expect(checkpoints).toBeGreaterThan(10);
    expect(files).toBeGreaterThan([...tilesOf(leaves)].length);
  });

  it('is found to be so by the command, also while leaves get their places', async () => {
    await sequenceAll(app);
    const good = await command();
    expect(good).toMatchObject({ code: 0 });
    expect(good.stdout).toMatch(
      /^audited: \d+ facts, \d+ units, \d+ leaves, \d+ checkpoints, \d+ files, 0 differences\n$/,
    );
    expect(good.stderr).toMatch(/^leaves of asfitted: (\d+) of \1$/m);
    await mustGoWell(brackwater('PUT', '/v1/shops/waits-too', { name: 'Waits too' }));
    const bad = await withSaved(superuser, ['log_leaves'], async () => {
      await superuser.query(`update log_leaves set entry = repeat('0', 64) where index = 7`);
      return await command();
    });
    expect(bad.code).toBe(1);
    expect(bad.stdout).toMatch(/^log_leaves \(log=1, index=7\), entry: expected [0-9a-f]{64}, found 0{64}$/m);
    expect(bad.stdout.trimEnd().split('\n').at(-1)).toMatch(/^NOT as it was recorded: .* [1-9]\d* differences$/);
    expect((await command('all')).code).toBe(2);
  });
});

describe('a change behind the back of the service', () => {
  const changed = columns.filter(
    ({ table, column }) => tables.includes(table) && !notCovered.includes(`${table}.${column}`),
  );
  it.each(changed.map((one) => [`${one.table}.${one.column}`, one] as const))('of %s is named', async (path, one) => {
    const lines = await withSaved(superuser, [one.table], async () => {
      await changeOne(superuser, one);
      return await found();
    });
    const shown: Readonly<Record<string, RegExp>> = {
      'logs.number': /^log_leaves \(log=1, index=0\) log$/,
      'log_leaves.log': /^log_leaves \(log=4712, index=\d+\) log$/,
      'log_checkpoints.log': /^log_checkpoints \(log=4712, size=\d+\) log$/,
      'log_checkpoints.size': /^log_checkpoints \(log=1, size=\d+\) root$/,
    };
    expect(lines.join('\n')).toMatch(
      new RegExp((shown[path] ?? new RegExp(`^${one.table} \\([^)]+\\) ${one.column}$`)).source, 'm'),
    );
  });

  it.each(tables)('that takes a row of %s away is found', async (table) => {
    const lines = await withSaved(superuser, [table], async () => {
      await takeOne(superuser, table);
      return await found();
    });
    expect(lines.length).toBeGreaterThan(0);
  });

  it('that takes an old checkpoint away is shown by the files of it', async () => {
    const lines = await withSaved(superuser, ['log_checkpoints'], async () => {
      await superuser.query(
        'delete from log_checkpoints where size = (select min(size) from log_checkpoints where size > 0)',
      );
      return await found();
    });
    expect(lines.join('\n')).toMatch(/^LOG_DIR \(file=tile\/0\/000\.p\/\d+\) \(bytes\)$/m);
  });

  it.each(tables)('that adds a row to %s is found', async (table) => {
    const lines = await withSaved(superuser, [table], async () => {
      await addOne(superuser, table, columns);
      return await found();
    });
    expect(lines.join('\n')).toMatch(new RegExp(`^${table} `, 'm'));
  });

  it('that takes a free text away without an erasure is found', async () => {
    const lines = await withSaved(superuser, ['fact_privates'], async () => {
      await takeOne(superuser, 'fact_privates');
      return await found();
    });
    expect(lines).toEqual([expect.stringMatching(/^fact_privates \(owner=.*, fact=.*\) \(row\)$/)]);
  });

  it('that lets two leaves change places is found', async () => {
    const lines = await withSaved(superuser, ['log_leaves'], async () => {
      await superuser.query(`update log_leaves l set fact = o.fact, entry = o.entry from log_leaves o
        where (l.index, o.index) in ((3, 8), (8, 3)) and l.log = o.log`);
      return await found();
    });
    expect(lines.filter((line) => line.startsWith('log_checkpoints')).length).toBeGreaterThan(5);
    expect(lines).toContain('LOG_DIR (file=tile/entries/000) (bytes)');
  });

  it('that lets two facts change what they say is found', async () => {
    const lines = await withSaved(superuser, ['facts'], async () => {
      await superuser.query(`with two as (select id, statement, lead(id) over w as next, lag(id) over w as last
          from facts where kind = 'conversion' window w as (order by id))
        update facts f set statement = o.statement from two t join facts o on o.id in (t.next, t.last)
        where f.id = t.id and (t.last is null or t.next is null) and o.id <> f.id`);
      return await found();
    });
    expect(lines.filter((line) => /^facts .* entry$/.test(line)).length).toBeGreaterThan(1);
  });

  it('that forks the tree and signs it with the key of a stranger is found, however consistent it is', async () => {
    const lines = await withSaved(superuser, ['log_leaves', 'log_checkpoints', 'logs'], async () => {
      await superuser.query(`update log_leaves set entry = repeat('ab', 32) where index = 40`);
      await signAll(strangeSigner());
      return await found();
    });
    expect(lines).toContain('log_leaves (log=1, index=40) entry');
    expect(lines.filter((line) => /^log_checkpoints .* note$/.test(line)).length).toBeGreaterThan(5);
    expect(lines).toContain('LOG_DIR (file=checkpoint) (bytes)');
  });

  it('that forks the tree with the key of the service is shown by what is published', async () => {
    const lines = await withSaved(superuser, ['log_leaves', 'log_checkpoints', 'logs'], async () => {
      await superuser.query(`update log_leaves l set fact = o.fact, entry = o.entry from log_leaves o
        where (l.index, o.index) in ((3, 8), (8, 3)) and l.log = o.log`);
      await signAll(signer);
      return await found();
    });
    expect([...new Set(lines.map((line) => line.split(' ')[0]))]).toEqual(['LOG_DIR']);
  });
});

describe('a published file', () => {
  const change = async (path: string, to: (bytes: Buffer) => Buffer | null) => {
    const before = await log.files.read(path);
    if (before === null) throw new Error(`${path} is not there`);
    const after = to(Buffer.from(before));
    await (after === null ? log.files.remove(path) : log.files.write(path, after));
    try {
      return await found();
    } finally {
      await log.files.write(path, before);
    }
  };
  const flip = (bytes: Buffer) => {
    bytes[bytes.length - 3] = (bytes.at(-3) ?? 0) ^ 1;
    return bytes;
  };
  const partial = async () => {
    for await (const path of log.files.list()) if (/^tile\/0\/000\.p\//.test(path)) return path;
    throw new Error('there is no older file');
  };

  it.each(['checkpoint', 'tile/0/000', 'tile/entries/000', 'tile/1/000.p/1'])(
    '%s, changed or gone, is named',
    async (path) => {
      expect(await change(path, flip)).toContain(`LOG_DIR (file=${path}) (bytes)`);
      expect(await change(path, () => null)).toContain(`LOG_DIR (file=${path}) (bytes)`);
    },
  );

  it('of a smaller tree is held against what became of it', async () => {
    const path = await partial();
    expect(await change(path, flip)).toEqual([`LOG_DIR (file=${path}) (bytes)`]);
  });

  it('that is none is named', async () => {
    await log.files.write('tile/0/extra', Buffer.from('x'));
    expect(await found()).toEqual(['LOG_DIR (file=tile/0/extra) (bytes)']);
    await log.files.remove('tile/0/extra');
  });
});

function strangeSigner() {
  const { privateKey, publicKey } = generateKeyPairSync('ed25519');
  const raw = new Uint8Array(publicKey.export({ type: 'spki', format: 'der' }).subarray(-32));
  return {
    name: 'asfitted',
    keyId: keyIdOf('asfitted', raw),
    sign: (bytes: Uint8Array) => sign(null, bytes, privateKey),
  };
}

/** Every checkpoint and the frontier, as of the leaves as they are now. */
async function signAll(by: Parameters<typeof signCheckpoint>[1][number]): Promise<void> {
  const { rows } = await superuser.query<{ entry: string }>('select entry from log_leaves order by index');
  const { rows: sizes } = await superuser.query<{ size: number }>('select size::int as size from log_checkpoints');
  const frontier = new Frontier();
  for (let size = 0; ; size++) {
    if (sizes.some((one) => one.size === size)) {
      const root = frontier.root();
      await superuser.query('update log_checkpoints set root = $2, note = $3 where size = $1', [
        size,
        Buffer.from(root).toString('hex'),
        signCheckpoint({ origin: 'asfitted', size, root }, [by]),
      ]);
    }
    const entry = rows[size]?.entry;
    if (entry === undefined) break;
    frontier.add(hashOfLeaf(Buffer.from(entry, 'hex')));
  }
  await superuser.query('update logs set frontier = $1', [Buffer.concat(frontier.nodes())]);
}

async function command(...more: string[]): Promise<{ code: number; stdout: string; stderr: string }> {
  const run = promisify(execFile)('node', ['src/cli/audit.ts', ...more], {
    cwd: resolve(import.meta.dirname, '../../..'),
    env: {
      ...process.env,
      ...{ DATABASE_OWNER_URL: db.ownerUrl, DATA_DIR: service.folder, LOG_DIR: join(service.folder, 'log') },
    },
  });
  return await run.then(
    ({ stdout, stderr }) => ({ code: 0, stdout, stderr }),
    (error: { code: number; stdout: string; stderr: string }) => error,
  );
}
