/** Staged leaves get their places: once each, without a gap, signed, and published as C2SP tlog-tiles names it. */
import { mkdtemp, readdir, rm, utimes } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { App } from '../../../src/app/context.ts';
import { sequenceAll } from '../../../src/app/log/sequence.ts';
import { checkpointIn, openCheckpoint } from '../../../src/core/log/checkpoint.ts';
import { Frontier } from '../../../src/core/log/frontier.ts';
import { hashOfLeaf } from '../../../src/core/log/hash.ts';
import { consistencyFault, inclusionFault } from '../../../src/core/log/proof.ts';
import { entriesIn, hashesIn, pathOf, tilesOf } from '../../../src/core/log/tiles.ts';
import { allJobs } from '../../../src/jobs/all-jobs.ts';
import { logFiles } from '../../../src/store/log-files.ts';
import { testDatabase } from '../../support/database.ts';
import { rowsOf } from '../../support/rows.ts';
import { mustGoWell } from '../../support/scene.ts';
import { testService } from '../../support/service.ts';
import { openShops } from '../../support/shop.ts';
import { withSuperuser } from '../../support/test-server.ts';

const db = await testDatabase({ verified: false });
const service = await testService(db);
const { app, signer } = service;
const { brackwater } = await openShops(service);

/** The same service with files of its own, as another place that the log is published at. */
async function elsewhere(): Promise<App> {
  const folder = await mkdtemp(join(tmpdir(), 'asfitted-log-'));
  afterAll(() => rm(folder, { recursive: true }));
  return { ...app, log: { ...app.log, files: logFiles(folder) } };
}
const stage = async (count: number, from = 0) =>
  await withSuperuser(db.superuserUrl, (client) =>
    client.query(
      `insert into staged_leaves (fact, entry)
       select gen_random_uuid(), encode(sha256(convert_to('leaf ' || n, 'UTF8')), 'hex') from generate_series($1::int, $2::int) n`,
      [from, from + count - 1],
    ),
  );
const read = async (path: string) => {
  const bytes = await app.log.files.read(path);
  if (bytes === null) throw new Error(`${path} is not published`);
  return bytes;
};

describe('the log', () => {
  it('is rid of what killed writers left as soon as the service starts', async () => {
    const { log } = app;
    const draft = 'checkpoint.9b2e7c10-0d4f-4c1a-8a55-1f0b6f2f9d3e';
    await log.files.write(draft, Buffer.from('half'));
    await utimes(join(service.folder, 'log', draft), 0, 0);
    // A job runs once at the start.
    await allJobs(app)
      .find(({ name }) => name.includes('drafts'))
      ?.run();
    expect(await log.files.read(draft)).toBe(null);
  });

  it('begins with a signed head of nothing', async () => {
    await withSuperuser(db.superuserUrl, (client) => client.query('truncate staged_leaves'));
    expect(await sequenceAll(app)).toBe(0);
    const note = (await read('checkpoint')).toString();
    expect(openCheckpoint(note, [signer])).toEqual({
      ...{ origin: 'asfitted', size: 0, root: new Uint8Array(new Frontier().root()) },
    });
  });

  it('takes in what is recorded, and proves it to whoever has the receipt, with public data alone', async () => {
    const { body } = await mustGoWell(brackwater('PUT', '/v1/shops/proven', { name: 'Proven' }));
    const waiting = await service.server.inject({ url: `/log/inclusion/${body.receipt.entry}` });
    expect([waiting.statusCode, waiting.json().code]).toEqual([404, 'not-found']);
    await sequenceAll(app);
    const proof = (await service.server.inject({ url: `/log/inclusion/${body.receipt.entry}` })).json();
    expect(inclusionFault(proof, [signer])).toBeNull();
    expect(proof.entry).toBe(body.receipt.entry);
  });

  it('is the same tree in tiles and bundles as of its entries, however it came in, and grows alone', async () => {
    const before = (await read('checkpoint')).toString();
    await stage(66_000);
    expect(await sequenceAll(app, 30_011)).toBe(66_000);
    const note = (await service.server.inject({ url: '/log/checkpoint' })).body;
    const checkpoint = checkpointIn(`${note.split('\n\n')[0]}\n`);
    if (checkpoint === null) throw new Error(note);
    const { size, root } = checkpoint;

    const kept = await rowsOf<{ index: number; entry: string }>(
      db,
      'select index::int as index, entry from log_leaves order by index',
    );
    expect(kept.map((one) => one.index)).toEqual(Array.from({ length: size }, (_, at) => at));
    expect(new Set(kept.map((one) => one.entry)).size).toBe(size);
    const wrong: number[] = [];
    const frontier = new Frontier();
    const hashes = new Map<string, Uint8Array>();
    for (const tile of tilesOf(size)) {
      const bytes = await read(pathOf({ ...tile, of: 'hashes' }));
      expect(bytes.length).toBe(tile.width * 32);
      for (const [at, hash] of hashesIn(bytes).entries()) hashes.set(`${tile.level}/${tile.index * 256 + at}`, hash);
      if (tile.level > 0) continue;
      for (const entry of entriesIn(await read(pathOf({ ...tile, of: 'entries' }))) ?? []) {
        const leaf = hashOfLeaf(entry);
        const isAsKept = Buffer.from(entry).toString('hex') === kept[frontier.size]?.entry;
        if (!isAsKept || Buffer.compare(leaf, hashes.get(`0/${frontier.size}`) as Uint8Array) !== 0)
          wrong.push(frontier.size);
        frontier.add(leaf);
      }
    }
    expect([frontier.size, wrong]).toEqual([size, []]);
    expect(Buffer.compare(frontier.root(), root)).toBe(0);
    expect(Buffer.compare(subtree(kept.slice(0, 65_536)), hashes.get('2/0') as Uint8Array)).toBe(0);

    const from = checkpointIn(`${before.split('\n\n')[0]}\n`)?.size;
    const { hashes: grown } = (await service.server.inject({ url: `/log/consistency?from=${from}` })).json();
    expect(consistencyFault([before, note], grown, [signer])).toBeNull();
    expect(consistencyFault([before, note], grown.toReversed(), [signer])).toBe('not-the-same-log');
    for (const index of [0, 255, 256, 65_535, 65_536, size - 1]) {
      const proof = (await service.server.inject({ url: `/log/inclusion/${kept[index]?.entry}` })).json();
      expect([proof.index, inclusionFault(proof, [signer])]).toEqual([index, null]);
    }
  });

  it('gives out tiles for ever, and nothing that is none', async () => {
    const tile = await service.server.inject({ url: '/log/tile/0/000' });
    expect([tile.statusCode, tile.headers['content-type'], tile.rawPayload.length]).toEqual([
      ...[200, 'application/octet-stream', 8_192],
    ]);
    expect(tile.headers['cache-control']).toContain('immutable');
    const bundle = await service.server.inject({ url: '/log/tile/entries/000' });
    expect(entriesIn(bundle.rawPayload)).toHaveLength(256);
    for (const path of ['tile/0/999', 'tile/0/..%2f..%2fcheckpoint', 'tile/0/0', 'tile/7/000', 'tile/'])
      expect((await service.server.inject({ url: `/log/${path}` })).statusCode, path).toBe(404);
  });

  it.each([
    ['from=0', 'from'],
    ['from=99999999', 'from'],
    ['from=5&to=99999999', 'to'],
    ['from=9&to=5', 'from'],
  ])('proves nothing of %s', async (query, parameter) => {
    const answer = (await service.server.inject({ url: `/log/consistency?${query}` })).json();
    expect(answer).toMatchObject({ code: 'invalid-input', errors: [{ parameter }] });
  });

  it('gives each leaf one place where two are at it', async () => {
    const before = await rowsOf<{ n: number }>(db, 'select count(*)::int as n from log_leaves');
    await stage(3_000, 100_000);
    await Promise.all(Array.from({ length: 4 }, () => sequenceAll(app, 100)));
    await sequenceAll(app);
    const [after] = await rowsOf<{ n: number; distinct: number; last: number }>(
      db,
      'select count(*)::int as n, count(distinct entry)::int as distinct, max(index)::int as last from log_leaves',
    );
    const n = (before[0]?.n ?? 0) + 3_000;
    expect(after).toEqual({ n, distinct: n, last: n - 1 });
  });

  it('leaves what comes meanwhile to the next run: it would not end while others record', async () => {
    await sequenceAll(app);
    await stage(10, 200_000);
    let came = 0;
    // Of every file that is written another record is made, at most so many that the run ends in either case.
    const write: typeof app.log.files.write = async (path, bytes) => {
      if (came < 40) await stage(1, 300_000 + came++);
      await app.log.files.write(path, bytes);
    };
    const busy = { ...app, log: { ...app.log, files: { ...app.log.files, write } } };
    expect(await sequenceAll(busy)).toBe(10);
    const checkpoint = openCheckpoint((await read('checkpoint')).toString(), [signer]);
    const [kept] = await rowsOf<{ n: number }>(db, 'select count(*)::int as n from log_leaves');
    expect(checkpoint).toMatchObject({ size: kept?.n });
    expect(came).toBeGreaterThan(0);
    expect(came).toBeLessThan(40);
    expect(await sequenceAll(app)).toBe(came);
  });
});

describe('a log that is not what is published', () => {
  it('is not signed while nothing is there to compare it with', async () => {
    const app = await elsewhere();
    await stage(1, 200_000);
    await expect(sequenceAll(app)).rejects.toThrow('LOG_DIR holds no checkpoint');
    expect(await rowsOf(db, 'select 1 from staged_leaves')).toHaveLength(1);
    expect(await sequenceAll(service.app)).toBe(1);
  });

  it('is not signed where the database comes from a backup, and recording goes on', async () => {
    await withSuperuser(db.superuserUrl, async (client) => {
      await client.query(`create table backup_logs as select * from logs`);
      await client.query(`create table backup_checkpoints as select * from log_checkpoints`);
      await client.query(`create table backup_leaves as select * from log_leaves`);
    });
    await stage(5, 300_000);
    await sequenceAll(app);
    await withSuperuser(db.superuserUrl, async (client) => {
      await client.query('delete from log_leaves l using backup_logs b where l.log = b.number and l.index >= b.size');
      await client.query('delete from log_checkpoints c using backup_logs b where c.size > b.size');
      await client.query('update logs l set size = b.size, frontier = b.frontier from backup_logs b');
    });
    const published = await read('checkpoint');
    await mustGoWell(brackwater('PUT', '/v1/shops/after-restore', { name: 'After' }));
    await expect(sequenceAll(app)).rejects.toThrow(/it comes from a backup/);
    expect(await read('checkpoint')).toEqual(published);
    expect((await rowsOf(db, 'select 1 from staged_leaves')).length).toBeGreaterThan(0);
  });

  it('is not signed where another checkpoint was signed at the same size', async () => {
    await withSuperuser(db.superuserUrl, async (client) => {
      await client.query('insert into log_leaves select * from backup_leaves on conflict do nothing');
      await client.query(
        `update log_checkpoints set root = repeat('0', 64) where size = (select max(size) from log_checkpoints)`,
      );
    });
    const [at] = await rowsOf<{ size: number }>(db, 'select size::int as size from logs');
    const app = await elsewhere();
    const other = await rowsOf<{ note: string }>(db, `select note from log_checkpoints where size = ${at?.size}`);
    await app.log.files.write('checkpoint', Buffer.from(other[0]?.note ?? ''));
    await expect(sequenceAll(app)).rejects.toThrow(/is not the one that was signed/);
  });

  it('is not signed under another name, nor beside what a stranger signed', async () => {
    const [first] = app.log.signers;
    if (first === undefined) throw new Error('no key');
    const renamed = { ...app, log: { ...app.log, signers: [{ ...first, name: 'another' }] } };
    await expect(sequenceAll(renamed)).rejects.toThrow(/set LOG_NAME/);
    const strange = { ...app, log: { ...app.log, keys: [] } };
    await expect(sequenceAll(strange)).rejects.toThrow('no-known-key');
  });
});

it('leaves no draft of a file behind', async () => {
  const files = await readdir(join(service.folder, 'log'), { recursive: true });
  expect(files.filter((name) => /\.[0-9a-f-]{36}$/.test(name))).toEqual([]);
});

function subtree(rows: readonly { entry: string }[]): Uint8Array {
  const tree = new Frontier();
  for (const { entry } of rows) tree.add(hashOfLeaf(Buffer.from(entry, 'hex')));
  return tree.root();
}
