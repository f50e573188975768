/** A database that comes back from a backup, a LOG_DIR that is lost, and a log that is begun anew. */
import { execFile } from 'node:child_process';
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, describe, expect, it } from 'vitest';
import { audit } from '../../../src/app/log/audit.ts';
import { beginAnew } from '../../../src/app/log/begin-anew.ts';
import { compareLog } from '../../../src/app/log/compare.ts';
import { sequenceAll } from '../../../src/app/log/sequence.ts';
import { certificateFaults } from '../../../src/core/log/certificate.ts';
import { signCheckpoint } from '../../../src/core/log/checkpoint.ts';
import { openFollows } from '../../../src/core/log/follows.ts';
import { Frontier } from '../../../src/core/log/frontier.ts';
import { hashOfLeaf } from '../../../src/core/log/hash.ts';
import { inclusionFault } from '../../../src/core/log/proof.ts';
import { verifyReceipt } from '../../../src/core/log/receipt.ts';
import { publicKeyOf } from '../../../src/core/log/signature.ts';
import { loadLogKeys, loadSigner } from '../../../src/store/local-keys.ts';
import { logFiles } from '../../../src/store/log-files.ts';
import { withOwnerPool } from '../../../src/store/owner-pool.ts';
import { testDatabase } from '../../support/database.ts';
import { rowsOf } from '../../support/rows.ts';
import { startWith } from '../../support/running-service.ts';
import { mustGoWell } from '../../support/scene.ts';
import { testService } from '../../support/service.ts';
import { conversionOf, openShops, registerPair } from '../../support/shop.ts';
import { withSuperuser } from '../../support/test-server.ts';

const db = await testDatabase();
const service = await testService(db);
const { app, signer } = service;
const { brackwater } = await openShops(service);
const folder = await mkdtemp(join(tmpdir(), 'asfitted-restore-'));
afterAll(() => rm(folder, { recursive: true }));
const place = (name: string) => ({ ...app, log: { ...app.log, files: logFiles(join(folder, name)) } });
const published = async () => (await app.log.files.read('checkpoint'))?.toString() ?? '';
const shop = async (name: string) => (await mustGoWell(brackwater('PUT', `/v1/shops/${name}`, { name }))).body;
const command = async (args: readonly string[], more: Readonly<Record<string, string>> = {}) =>
  await promisify(execFile)('node', ['src/cli/log.ts', ...args], {
    cwd: resolve(import.meta.dirname, '../../..'),
    env: {
      ...process.env,
      ...{ DATABASE_URL: db.serviceUrl, DATA_DIR: service.folder, LOG_DIR: join(service.folder, 'log'), ...more },
    },
  }).then(
    ({ stdout, stderr }) => ({ code: 0, stdout, stderr }),
    (error: { code: number; stdout: string; stderr: string }) => error,
  );

await registerPair(brackwater, 'one');
const frame = { reference: 'R-one', performedAt: '2026-04-02T08:00:00Z' };
const { id: record, receipt } = (
  await mustGoWell(brackwater('POST', '/v1/conversions', await conversionOf(brackwater, 'one', 'load-sense', frame)))
).body;
for (let at = 0; at < 260; at++) await shop(`many-${at}`);
await sequenceAll(app);
await sequenceAll(app);
const early = await published();
const certificate = (await mustGoWell(brackwater('GET', `/v1/records/${record}/certificate`))).body;
await shop('later');
await sequenceAll(app);
const last = await published();
await writeFile(join(folder, 'early'), early);
await writeFile(join(folder, 'last'), last);

describe('compare', () => {
  it('writes a lost LOG_DIR anew, to the same bytes, once a checkpoint kept elsewhere fits', async () => {
    const lost = place('lost');
    await expect(compareLog(lost, null)).rejects.toThrow('--checkpoint FILE');
    const size = Number(last.split('\n')[1]);
    expect(await compareLog(lost, early)).toMatchObject({ size, compared: Number(early.split('\n')[1]) });
    for (const path of await readdir(join(folder, 'lost'), { recursive: true, withFileTypes: true })) {
      if (!path.isFile()) continue;
      const name = join(path.parentPath, path.name).slice(join(folder, 'lost').length + 1);
      expect(await lost.log.files.read(name), name).toEqual(await app.log.files.read(name));
    }
    await shop('goes-on');
    expect(await sequenceAll(app)).toBe(1);
    expect(await compareLog(lost, null)).toMatchObject({ size: size + 1, compared: size });
  });

  it('puts a spoilt file right, by the command', async () => {
    const copy = join(folder, 'copy');
    await cp(join(service.folder, 'log'), copy, { recursive: true });
    await writeFile(join(copy, 'tile/0/000'), Buffer.alloc(8_192));
    const { code, stdout } = await command(['compare', '--checkpoint', join(folder, 'last')], { LOG_DIR: copy });
    expect([code, stdout]).toEqual([
      0,
      expect.stringMatching(/^asfitted: \d+ leaves, the first \d+ as they were signed; \d+ files written\n$/),
    ]);
    expect(await readFile(join(copy, 'tile/0/000'))).toEqual(await app.log.files.read('tile/0/000'));
    expect((await command(['compare', '--after', 'x'])).code).toBe(2);
    expect((await command(['begin-anew', '--after', 'x'])).code).toBe(2);
  });

  it('writes nothing where the database is not what was signed, and says what to do', async () => {
    const lost = place('refused');
    const other = (size: number) => signCheckpoint({ origin: 'asfitted', size, root: new Uint8Array(32) }, [signer]);
    await expect(compareLog(lost, other(99_999))).rejects.toThrow(/99999 leaves were signed .* restore a later backup/);
    await expect(compareLog(lost, other(5))).rejects.toThrow(/first 5 leaves are not those that were signed/);
    const stranger = { ...signer, name: 'stranger' };
    await expect(
      compareLog(lost, signCheckpoint({ origin: 'stranger', size: 0, root: new Uint8Array(32) }, [stranger])),
    ).rejects.toThrow('no-known-key');
    expect(await lost.log.files.read('checkpoint')).toBeNull();
    // What LOG_DIR holds is compared too, whatever is given.
    const ahead = place('ahead');
    await ahead.log.files.write('checkpoint', Buffer.from(other(99_999)));
    await expect(compareLog(ahead, early)).rejects.toThrow(/99999 leaves were signed/);
  });
});

describe('a database that knows less than was published', () => {
  it('refuses to sign, begins a log that follows the old one, and serves it', async () => {
    const from = Number(last.split('\n')[1]);
    const now = await published();
    await takeBack(Number(early.split('\n')[1]));
    await shop('after-restore');
    await expect(sequenceAll(app)).rejects.toThrow(/it comes from a backup/);
    await expect(compareLog(app, null)).rejects.toThrow(/were signed and the database knows/);

    const newKey = await loadSigner({ dataDir: join(folder, 'new-keys') }, 'asfitted/2');
    const keyFile = join(folder, 'new-keys/keys/receipts.pem');
    const logDir = join(folder, 'anew');
    await writeFile(join(folder, 'now'), now);
    const variables = {
      LOG_NAME: 'asfitted/2',
      SIGNING_KEY_FILE: keyFile,
      LOG_DIR: logDir,
      LOG_FORMER_KEYS: signer.verifierKey,
    };
    const begin = async (more: Readonly<Record<string, string>>) =>
      await command(['begin-anew', '--after', join(folder, 'now'), '--reason', 'The last backup was older.'], {
        ...variables,
        ...more,
      });
    expect((await begin({ LOG_NAME: 'asfitted' })).stderr).toContain('needs another name');
    expect((await begin({ SIGNING_KEY_FILE: join(service.folder, 'keys/receipts.pem') })).stderr).toContain(
      'must not sign the new one',
    );
    expect((await begin({ LOG_DIR: join(service.folder, 'log') })).stderr).toContain('LOG_DIR holds a log');
    expect((await begin({ LOG_FORMER_KEYS: '' })).stderr).toContain('LOG_FORMER_KEYS');
    expect(await rowsOf(db, 'select 1 from logs')).toHaveLength(1);

    const begun = await begin({});
    expect([begun.code, begun.stdout]).toEqual([0, expect.stringMatching(/^asfitted\/2: begun, with \d+ leaves\n$/)]);
    const order = await rowsOf<{ same: boolean }>(
      db,
      `select bool_and(o.entry = n.entry) as same from log_leaves o join log_leaves n using (index) where o.log = 1 and n.log = 2`,
    );
    expect(order).toEqual([{ same: true }]);
    // Whoever still signs with the old key is told.
    await expect(sequenceAll(app)).rejects.toThrow(/set LOG_NAME/);

    const running = await startWith({ ...variables, DATABASE_URL: db.serviceUrl, DATA_DIR: service.folder });
    const follows = openFollows(await (await fetch(`${running.base}/log/follows`)).text(), [newKey]);
    expect(follows).toMatchObject({
      origin: 'asfitted/2',
      after: { origin: 'asfitted' },
      reason: 'The last backup was older.',
    });
    expect('after' in follows && follows.after.size).toBeGreaterThan(from);
    const proof = (await (await fetch(`${running.base}/log/inclusion/${receipt.entry}`)).json()) as Parameters<
      typeof inclusionFault
    >[0];
    expect([inclusionFault(proof, [newKey]), inclusionFault(proof, [signer])]).toEqual([
      null,
      'checkpoint-of-no-known-key',
    ]);
    expect(await running.stop()).toBe(0);

    // What was given out before still proves itself by the old key.
    expect(certificateFaults(certificate, [signer])).toEqual([]);
    expect(verifyReceipt(receipt, publicKeyOf(signer.publicKey))).toBe(true);
    const keys = await loadLogKeys({
      files: [keyFile],
      dataDir: service.folder,
      name: 'asfitted/2',
      formerKeys: [signer.verifierKey],
    });
    const log = { files: logFiles(logDir), keys: [...keys.signers, ...keys.former] };
    const audited = await withOwnerPool(db.ownerUrl, (pool) => audit(pool, log, () => {}));
    expect(audited.differences).toEqual([]);
    const again = { ...app, log: { files: logFiles(join(folder, 'third')), signers: [newKey], keys: log.keys } };
    await expect(beginAnew(again, { after: now, reason: 'once more' })).rejects.toThrow(
      'the one in the database is called',
    );
  });

  it('has nothing to follow before that', async () => {
    expect((await service.server.inject({ url: '/log/follows' })).statusCode).toBe(404);
  });
});

/** As a backup would: facts that came later are gone with their leaves. */
async function takeBack(size: number): Promise<void> {
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('delete from outbox where fact in (select fact from log_leaves where index >= $1)', [size]);
    await client.query(`delete from stock_items where fact in (select fact from log_leaves where index >= $1)`, [size]);
    await client.query('delete from fact_privates where fact in (select fact from log_leaves where index >= $1)', [
      size,
    ]);
    await client.query('delete from facts where id in (select fact from log_leaves where index >= $1)', [size]);
    await client.query('delete from log_leaves where index >= $1', [size]);
    await client.query('delete from log_checkpoints where size > $1', [size]);
    await client.query('delete from staged_leaves');
    const frontier = new Frontier();
    const { rows } = await client.query<{ entry: string }>('select entry from log_leaves order by index');
    for (const { entry } of rows) frontier.add(hashOfLeaf(Buffer.from(entry, 'hex')));
    await client.query('update logs set size = $1, frontier = $2', [size, Buffer.concat(frontier.nodes())]);
  });
}
