/** A server that is killed at a bad moment: what it says then ends no process. */
import { once } from 'node:events';
import { type AddressInfo, createServer } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { closePools, openPools } from '../../src/store/pools.ts';
import { withTransaction } from '../../src/store/transaction.ts';

/** Of the PostgreSQL frontend/backend protocol, version 3: a letter, the length with itself, the content. */
function message(letter: string, content: Buffer): Buffer {
  const length = Buffer.alloc(4);
  length.writeInt32BE(content.length + 4);
  return Buffer.concat([Buffer.from(letter), length, content]);
}
const welcome = Buffer.concat([message('R', Buffer.alloc(4)), message('Z', Buffer.from('I'))]);
const goodbye = message('E', Buffer.from('SFATAL\0VFATAL\0C57P01\0Mterminating connection\0\0'));

it('a connection that is ended in the breath of its welcome fails who asked for it, and nothing else', async () => {
  const server = createServer((socket) => {
    socket.on('error', () => {});
    socket.once('data', () => socket.end(Buffer.concat([welcome, goodbye])));
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const uncaught: unknown[] = [];
  const hear = (error: unknown) => uncaught.push(error);
  process.on('uncaughtException', hear);
  const pools = openPools({ serviceUrl: `postgresql://a:b@127.0.0.1:${port}/c`, onLost: () => {} });
  const work = withTransaction(pools.reading, { role: 'reader', orgs: [], readOnly: true }, async () => 'done');
  await expect(work).rejects.toThrow();
  await pause(50);
  await closePools(pools);
  server.close();
  process.removeListener('uncaughtException', hear);
  expect(uncaught).toEqual([]);
});
