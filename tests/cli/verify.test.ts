/** The command for those who distrust the service, run on files that it gave out and on whole logs. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type RequestListener } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sequenceAll } from '../../src/app/log/sequence.ts';
import { sections } from '../../src/core/log/leaf.ts';
import { testKey } from '../core/log/small-log.ts';
import { testDatabase } from '../support/database.ts';
import { verify, verifyCommand } from '../support/run-verify.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, inspectionOf, maker, openShops, registerPair } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';
import { checkpointOf, entriesUpTo, writeLog } from '../support/write-log.ts';

const folder = await mkdtemp(join(tmpdir(), 'asfitted-verify-'));
afterAll(() => rm(folder, { recursive: true }));

// A record is deleted in this database: what is derived doesn't follow from the facts any more.
const db = await testDatabase({ verified: false });
const service = await testService(db);
const { brackwater } = await openShops(service);
const vkey = service.signer.verifierKey;
const stranger = testKey(2);
const get = async (url: string) => (await mustGoWell(brackwater('GET', url))).body;
const open = async (url: string) => (await service.server.inject({ url })).payload;
const certificate = await certificateOf('one');
const other = await certificateOf('two');

async function certificateOf(number: string) {
  await registerPair(brackwater, number);
  const frame = { reference: number, performedAt: '2026-04-02T08:00:00Z' };
  const body = { ...(await conversionOf(brackwater, number, 'load-sense', frame)), note: 'for file 7' };
  const { id } = (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body;
  await sequenceAll(service.app);
  return await get(`/v1/records/${id}/certificate`);
}

async function file(name: string, content: unknown): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, typeof content === 'string' || Buffer.isBuffer(content) ? content : JSON.stringify(content));
  return path;
}

it.each([
  ['what is proven', 0, ['certificate', 'good', vkey]],
  ['what is not', 1, ['certificate', 'bad', vkey]],
  ['a wrong call', 2, ['certificate', 'good', 'no key']],
] as const)('the command says %s with the code %d, as here', async (_, expected, [command, which, key]) => {
  const content = which === 'good' ? certificate : { ...certificate, leaf: other.leaf };
  const args = [command, await file('command.json', content), '--key', key];
  const told = await verifyCommand(...args);
  expect(told.code).toBe(expected);
  expect(told).toEqual(await verify(...args));
});

describe('a certificate', () => {
  it('is proven, and it is told what it does not show', async () => {
    const { code, out } = await verify('certificate', await file('c.json', certificate), '--key', vkey);
    expect(out).toContain(`Proven: record ${certificate.leaf.id} (conversion)`);
    expect(out).toContain('origin, statement, judgement, private.');
    expect(out).toMatch(/Not shown: whether it still stands: it is proven up to the log asfitted of \d+ leaves/);
    expect(code).toBe(0);
  });

  it('with sections withheld is proven without them, by a key in a file among others', async () => {
    const { statement: _, private: __, ...left } = certificate.sections;
    const path = await file('less.json', { ...certificate, sections: left });
    const keys = await file('keys', `${stranger.vkey}\n\n${vkey}\n`);
    const { code, out } = await verify('certificate', path, '--key', keys);
    expect(out).toContain('Not shown: what is withheld: statement, private.');
    expect(code).toBe(0);
  });

  it.each(sections)('names %s where a digit of it was edited', async (section) => {
    const part = certificate.sections[section];
    const text = JSON.stringify(part.content).replace(/\d/, (digit) => (digit === '9' ? '8' : '9'));
    const edited = { ...part, content: JSON.parse(text) };
    const path = await file('e.json', { ...certificate, sections: { ...certificate.sections, [section]: edited } });
    const { code, out } = await verify('certificate', path, '--key', vkey);
    expect(out).toContain(`/sections/${section}: this section is not what was recorded`);
    expect(out).toContain(`expected the digest ${certificate.leaf.digests[section]}.`);
    expect(out.split('\n')).toHaveLength(3);
    expect(code).toBe(1);
  });

  it.each([
    ['another leaf', { leaf: other.leaf }, '/leaf: what is stated here is not what was recorded'],
    ['another index', { proof: { ...certificate.proof, index: 0 } }, '/proof: the proof does not lead to the root'],
  ])('is not proven with %s', async (_, change, said) => {
    const path = await file('x.json', { ...certificate, ...change });
    const { code, out } = await verify('certificate', path, '--key', vkey);
    expect([code, out]).toEqual([1, expect.stringContaining(said)]);
  });

  it('is not proven by another key', async () => {
    const { code, out } = await verify('certificate', await file('c.json', certificate), '--key', stranger.vkey);
    expect([code, out]).toEqual([1, expect.stringContaining('signed by none of the keys')]);
  });

  it('is held against a checkpoint that was kept, with the proof between the two', async () => {
    const path = await file('c.json', certificate);
    const newer = await file('newer', await open('/log/checkpoint'));
    const from = Number(certificate.proof.checkpoint.split('\n')[1]);
    const grown = await file('grown.json', await open(`/log/consistency?from=${from}`));
    const args = ['certificate', path, '--key', vkey, '--checkpoint'];
    expect(await verify(...args, newer, '--consistency', grown)).toMatchObject({ code: 0 });
    const without = await verify(...args, newer);
    expect([without.code, without.out]).toEqual([1, expect.stringContaining('ask /log/consistency for it')]);
    const fork = checkpointOf(entriesUpTo(from), service.signer);
    const forked = await verify(...args, await file('fork', fork));
    expect([forked.code, forked.out]).toEqual([1, expect.stringContaining('not of one log that only grew')]);
  });
});

describe('what is no file of this kind', () => {
  it.each<[string, string | Buffer, string]>([
    ['nothing', '', 'there is no JSON here'],
    ['a certificate cut off', JSON.stringify(certificate).slice(0, -9), 'is not JSON as it should be'],
    ['a member given twice', '{"v": 1, "v": 1}', 'given twice'],
    ['a member that is not known', JSON.stringify({ ...certificate, note: 1 }), '/note: is not known here'],
    ['a wrong type', JSON.stringify({ ...certificate, leaf: [] }), '/leaf: '],
    ['a list', '[]', '(the whole): '],
    ['bytes that are no text', Buffer.from([0x7b, 0xff, 0x7d]), 'is not text in UTF-8'],
    ['more than is read', Buffer.alloc(33 * 2 ** 20, 32), 'has more than 33554432 bytes'],
    ['deep nesting', '['.repeat(100_000), 'nested deeper'],
  ])('%s is told, and exits 2', async (_, content, said) => {
    const { code, out, err } = await verify('certificate', await file('bad.json', content), '--key', vkey);
    expect([code, out, err]).toEqual([2, '', expect.stringContaining(said)]);
  });

  it.each<[string, string[], string]>([
    ['no command', [], 'Say what to verify.'],
    ['another command', ['constructor'], 'There is no command constructor.'],
    ['no key', ['chain', 'x'], 'Name the key'],
    ['no file', ['chain', '--key', vkey], 'Name one thing'],
    ['two files', ['chain', 'a', 'b', '--key', vkey], 'Name one thing'],
    ['an option of another command', ['chain', 'a', '--since', 'b', '--key', vkey], '--since'],
    ['a proof without its checkpoint', ['chain', 'a', '--consistency', 'b', '--key', vkey], 'needs --checkpoint'],
    ['a checkpoint without the proof', ['receipt', 'a', '--checkpoint', 'b', '--key', vkey], 'needs --inclusion'],
    ['a URL of a file', ['log', 'file:///tmp', '--key', vkey], 'is not an http or https URL'],
    ['a user in a URL', ['log', 'http://me@localhost', '--key', vkey], 'leave out user'],
    ['no timeout', ['log', 'x', '--timeout', '0', '--key', vkey], '--timeout is'],
  ])('%s is answered with the usage, and exits 2', async (_, args, said) => {
    const { code, err } = await verify(...args);
    expect([code, err]).toEqual([2, expect.stringContaining(said)]);
    expect(err).toContain('exits 0: proven; 1: not proven');
  });

  it.each([
    ['a file that is not there', 'not-there.json', vkey, 'there is no such file'],
    ['a folder', '.', vkey, 'is not a file'],
    [
      'a key with another character',
      'x',
      vkey.replace(/.$/, (last) => (last === 'A' ? 'B' : 'A')),
      'looks like a vkey',
    ],
    ['a file without keys', 'x', 'package.json', 'line 1, is no vkey'],
  ])('%s is told', async (_, path, key, said) => {
    const { code, err } = await verify('certificate', path, '--key', key);
    expect([code, err]).toEqual([2, expect.stringContaining(said)]);
  });
});

describe('a receipt', () => {
  it('proves the record, its place and the log that it is in, and what was edited', async () => {
    const posted = inspectionOf('one', { reference: 'r', performedAt: '2026-04-04T08:00:00Z' });
    const answer = (await mustGoWell(brackwater('POST', '/v1/inspections', posted))).body;
    await sequenceAll(service.app);
    const record = await get(`/v1/records/${answer.id}`);
    const args = ['receipt', await file('answer.json', answer), '--key', vkey, '--record'];
    const inclusion = await file('in.json', await open(`/log/inclusion/${answer.receipt.entry}`));
    const whole = await verify(...args, await file('record.json', record), '--inclusion', inclusion);
    expect([whole.code, whole.out]).toEqual([0, expect.stringMatching(/as asfitted\+\w{8} signed; it is leaf \d+ in/)]);
    const edited = { ...record, statement: { ...record.statement, reference: 's' } };
    const { code, out } = await verify(...args, await file('edited.json', edited));
    expect([code, out]).toEqual([1, expect.stringContaining('record /statement: this section is not what was')]);
    const strange = await file('strange.json', other.proof);
    const wrong = await verify(...args, await file('record.json', record), '--inclusion', strange);
    expect([wrong.code, wrong.out]).toEqual([1, expect.stringContaining(`expected the entry ${answer.receipt.entry}`)]);
    const forged = await file('forged.json', { ...answer.receipt, recordedAt: '2026-01-01T00:00:00.000000Z' });
    expect(await verify('receipt', forged, '--key', vkey)).toMatchObject({ code: 1 });
  });

  it('of a record that was deleted before it came into the log still proves that it was taken in', async () => {
    const { receipt } = (await mustGoWell(brackwater('PUT', '/v1/shops/lost', { name: 'Lost' }))).body;
    await withSuperuser(db.superuserUrl, (client) =>
      client.query('delete from staged_leaves where entry = $1', [receipt.entry]),
    );
    await sequenceAll(service.app);
    expect(JSON.parse(await open(`/log/inclusion/${receipt.entry}`)).code).toBe('not-found');
    const { code, out } = await verify('receipt', await file('lost.json', receipt), '--key', vkey);
    expect(out).toContain(`a record with the entry ${receipt.entry} was taken in at ${receipt.recordedAt}`);
    expect(out).toContain('Not shown: that it is in the log');
    expect(code).toBe(0);
  });
});

describe('a chain', () => {
  it('is proven whole, and told where it breaks', async () => {
    const chain = await get(`/v1/controls/${maker}/K-two/chain`);
    const whole = await verify('chain', await file('chain.json', chain), '--key', vkey);
    expect([whole.code, whole.out]).toEqual([0, expect.stringContaining(`all ${chain.entries.length} places`)]);
    const gap = { ...chain, entries: chain.entries.slice(1) };
    const { code, out } = await verify('chain', await file('gap.json', gap), '--key', vkey);
    expect([code, out]).toEqual([1, expect.stringContaining(`place 1 of unit ${chain.unit}: this place is missing`)]);
    const hidden = { ...chain, entries: chain.entries.map((one: object) => ({ ...one, leaf: null })) };
    const untied = await verify('chain', await file('hidden.json', hidden), '--key', vkey);
    expect([untied.code, untied.out]).toEqual([1, expect.stringContaining('every record is withheld')]);
  });
});

describe('a log', () => {
  const key = testKey(1);
  const entries = entriesUpTo(600);
  let log = '';
  let count = 0;
  beforeAll(async () => {
    log = await written(entries);
  });
  const written = async (some: readonly Buffer[]) => {
    const path = join(folder, `log-${count++}`);
    await writeLog(path, some as Buffer[], key);
    return path;
  };
  const since = async (size: number, some = entries) =>
    await file(`since-${size}`, checkpointOf(some.slice(0, size), key));

  it('is proven from its entries, and to have grown; progress is told beside', async () => {
    const { code, out, err } = await verify('log', log, '--key', key.vkey, '--since', await since(300));
    expect(out).toContain('the log asfitted.example/log of 600 leaves: all entries, all tiles and the root');
    expect(out).toContain('begins with the log of 300 that was kept');
    expect(err).toContain('600 of 600 leaves (100 %)');
    expect(code).toBe(0);
  });

  it('of the service is proven as it is published', async () => {
    expect(await verify('log', join(service.folder, 'log'), '--key', vkey)).toMatchObject({ code: 0 });
  });

  it.each<[string, string, (bytes: Buffer) => Buffer, string]>([
    ['a bit in a tile', 'tile/0/001', flipped(7 * 32), 'hash 7 of tile/0/001 (leaf 263) is'],
    ['a bit in a bundle', 'tile/entries/001', flipped(7 * 34 + 2), 'hash 7 of tile/0/001 (leaf 263) is'],
    ['a bit in a tile above', 'tile/1/000.p/2', flipped(0), 'hash 0 of tile/1/000.p/2 is'],
    [
      'two leaves swapped',
      'tile/entries/002.p/88',
      (b) => Buffer.concat([b.subarray(34, 68), b.subarray(0, 34), b.subarray(68)]),
      'hash 0 of tile/0/002.p/88 (leaf 512) is',
    ],
    ['a leaf dropped', 'tile/entries/002.p/88', (b) => b.subarray(34), 'has 87 entries; expected 88'],
    ['a bundle cut off', 'tile/entries/000', (b) => b.subarray(0, -1), 'tile/entries/000 ends in the middle'],
    ['a tile cut off', 'tile/0/000', (b) => b.subarray(0, -1), 'tile/0/000 has 8191 bytes; expected 8192'],
    ['a tile that is a page', 'tile/0/000', () => Buffer.alloc(9000, '<p>'), 'tile/0/000 is too large'],
    ['a checkpoint cut off', 'checkpoint', (b) => b.subarray(0, -1), 'checkpoint: the checkpoint is no signed note'],
    [
      'a root that was edited',
      'checkpoint',
      (b) => Buffer.from(String(b).replace('\n600\n', '\n601\n')),
      'was changed',
    ],
  ])('with %s is not proven, and the place is named', async (_, path, change, said) => {
    const copy = await written(entries);
    await writeFile(join(copy, path), change(await readFile(join(copy, path))));
    const { code, out } = await verify('log', copy, '--key', key.vkey);
    expect([code, out]).toEqual([1, expect.stringContaining(said)]);
  });

  it('without one of its files is not proven, but a partial tile may have become a full one', async () => {
    const grown = await written(entriesUpTo(768));
    await writeFile(join(grown, 'checkpoint'), checkpointOf(entries, key));
    const { out } = await verify('log', grown, '--key', key.vkey);
    expect(out).toBe('tile/1/000.p/2 is missing; expected 2 hashes.\nNot proven.\n');
  });

  it('that is another tree, or smaller, than what was signed is not proven', async () => {
    const forked = await written(entries.with(5, Buffer.alloc(32)));
    await writeFile(join(forked, 'checkpoint'), checkpointOf(entries, key));
    const { code, out } = await verify('log', forked, '--key', key.vkey, '--since', await since(300));
    expect(out).toContain('checkpoint: the root of the 600 entries is');
    expect(out).toContain('the log does not begin with the older one: the root of its first 300 entries');
    expect(code).toBe(1);
    const shorter = await verify('log', log, '--key', key.vkey, '--since', await since(601, entriesUpTo(601)));
    expect([shorter.code, shorter.out]).toEqual([1, expect.stringContaining('fewer than before: leaves were taken')]);
  });

  it('is read from a server, which is trusted with nothing', async () => {
    const good: RequestListener = (request, reply) => {
      readFile(join(log, request.url?.replace('/log/', '') ?? '')).then(
        (bytes) => reply.end(bytes),
        () => reply.writeHead(404).end(),
      );
    };
    const atTile = (bad: RequestListener): RequestListener => {
      return (request, reply) => (request.url === '/log/tile/0/001' ? bad : good)(request, reply);
    };
    const answers: [RequestListener, number, string][] = [
      [good, 0, 'Proven'],
      [atTile((_, reply) => reply.writeHead(404).end()), 1, 'tile/0/001 is missing'],
      [atTile((_, reply) => reply.end('<html>no</html>')), 1, 'tile/0/001 has 15 bytes; expected 8192'],
      [atTile((_, reply) => void endless(reply)), 1, 'tile/0/001 is too large'],
      [atTile(() => {}), 2, 'was not answered whole within 1 s'],
      [atTile((_, reply) => void reply.writeHead(200, { 'content-length': 8192 }).write('x')), 2, 'within 1 s'],
      [atTile((_, reply) => void reply.destroy()), 2, "can't be read"],
      [atTile((_, reply) => reply.writeHead(302, { location: 'http://localhost/' }).end()), 2, 'sends elsewhere'],
      [atTile((_, reply) => reply.writeHead(500).end()), 2, 'answers 500'],
      [(_, reply) => reply.writeHead(404).end(), 2, 'There is no checkpoint here'],
      [(_, reply) => reply.end('<html>\u001b[31m</html>'), 1, 'is no signed note of a log'],
    ];
    for (const [listener, code, said] of answers) {
      const server = createServer(listener).listen(0, '127.0.0.1');
      await new Promise((done) => server.once('listening', done));
      const { port } = server.address() as AddressInfo;
      // Short where nothing comes: a busy machine may be slow to answer elsewhere.
      const seconds = said.includes('within') ? '1' : '60';
      const got = await verify('log', `http://127.0.0.1:${port}/log/`, '--key', key.vkey, '--timeout', seconds);
      server.closeAllConnections();
      server.close();
      expect([got.code, got.out + got.err], said).toEqual([code, expect.stringContaining(said)]);
    }
    const nobody = await verify('log', 'http://127.0.0.1:1/log', '--key', key.vkey);
    expect([nobody.code, nobody.err]).toEqual([2, expect.stringContaining("can't be read")]);
  });
});

function flipped(at: number): (bytes: Buffer) => Buffer {
  return (bytes) => {
    bytes[at] = (bytes[at] as number) ^ 1;
    return bytes;
  };
}

function endless(reply: import('node:http').ServerResponse): void {
  if (!reply.destroyed && reply.write(Buffer.alloc(65_536))) setImmediate(endless, reply);
}
