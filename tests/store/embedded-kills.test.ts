import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { ask, embeddedFolder } from '../support/embedded-folder.ts';
import { end } from '../support/embedded-process.ts';

const { lines, newDataDir, start, startElsewhere } = embeddedFolder();
const pidFile = (dataDir: string) => join(dataDir, 'cluster', 'postmaster.pid');
const serverPid = (dataDir: string) => Number(readFileSync(pidFile(dataDir), 'utf8').split('\n')[0]);

test('a killed service leaves its server running, and the next start adopts it with all that was committed', async () => {
  const dataDir = newDataDir();
  const { child, ready } = startElsewhere(dataDir);
  const first = await ready;
  await ask(first.ownerUrl, `create table kept as select 'still here' as word`);
  const pid = serverPid(dataDir);
  await end(child, 'SIGKILL');
  const second = await start(dataDir);
  expect(second.adopted).toBe(true);
  expect(serverPid(dataDir)).toBe(pid);
  expect(await ask(second.ownerUrl, 'select word from kept')).toEqual([{ word: 'still here' }]);
  await second.stop();
  expect(existsSync(pidFile(dataDir))).toBe(false);
});

test('a killed server is started again by who uses it, where it was, and recovers what was committed', async () => {
  const dataDir = newDataDir();
  const { serviceUrl, ownerUrl } = await start(dataDir);
  for (const word of ['once', 'twice']) {
    await ask(ownerUrl, `create table ${word} as select 'still here' as word`);
    const pid = serverPid(dataDir);
    process.kill(pid, 'SIGKILL');
    await expect.poll(async () => await ask(serviceUrl, 'select 1 as one').catch(() => 'gone')).toEqual([{ one: 1 }]);
    expect(serverPid(dataDir)).not.toBe(pid);
    expect(await ask(ownerUrl, `select word from ${word}`)).toEqual([{ word: 'still here' }]);
  }
});

test('a killed server whose port somebody has meanwhile is started again once that is free', async () => {
  const dataDir = newDataDir();
  const { serviceUrl } = await start(dataDir);
  const port = Number(new URL(serviceUrl).port);
  process.kill(serverPid(dataDir), 'SIGKILL');
  // Nothing of ours runs until the port is free, and then this is first.
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500);
  const other = createServer().listen(port, '127.0.0.1');
  await once(other, 'listening');
  const told = lines.length;
  await expect.poll(() => lines.slice(told).join('\n'), { timeout: 10_000 }).toContain(`EADDRINUSE`);
  other.close();
  const answer = async () => await ask(serviceUrl, 'select 1 as one').catch(() => 'gone');
  await expect.poll(answer, { timeout: 10_000 }).toEqual([{ one: 1 }]);
});

test('a killed server that several use is started once, and all find it again', async () => {
  const dataDir = newDataDir();
  const one = startElsewhere(dataDir);
  const { serviceUrl } = await one.ready;
  await startElsewhere(dataDir).ready;
  const here = await start(dataDir);
  process.kill(serverPid(dataDir), 'SIGKILL');
  const present = `select count(*)::int as n from pg_stat_activity where application_name = 'asfitted presence'`;
  await expect
    .poll(async () => await ask(here.superuserUrl, present).catch(() => 'gone'), { timeout: 20_000 })
    .toEqual([{ n: 3 }]);
  expect(here.serviceUrl).toBe(serviceUrl);
});

test('a server that is stopped in order stays so', async () => {
  const dataDir = newDataDir();
  lines.splice(0);
  await (await start(dataDir)).stop();
  expect(lines.filter((line) => line.includes('is gone'))).toEqual([]);
  expect(existsSync(pidFile(dataDir))).toBe(false);
});

test('a killed server that nobody uses is started anew by who comes next', async () => {
  const dataDir = newDataDir();
  const { child, ready } = startElsewhere(dataDir);
  const first = await ready;
  await ask(first.ownerUrl, `create table kept as select 'still here' as word`);
  await end(child, 'SIGKILL');
  process.kill(serverPid(dataDir), 'SIGKILL');
  const second = await start(dataDir);
  expect(second.adopted).toBe(false);
  expect(await ask(second.ownerUrl, 'select word from kept')).toEqual([{ word: 'still here' }]);
});

test('a server killed together with its service while queries run is ready again', async () => {
  const dataDir = newDataDir();
  const { child, ready } = startElsewhere(dataDir);
  const { serviceUrl, ownerUrl } = await ready;
  await ask(ownerUrl, `create table kept as select 'still here' as word`);
  const sleeping = ask(serviceUrl, 'select pg_sleep(60)');
  sleeping.catch(() => {});
  await end(child, 'SIGKILL');
  process.kill(serverPid(dataDir), 'SIGKILL');
  await expect(sleeping).rejects.toThrow();
  const second = await start(dataDir);
  expect(await ask(second.ownerUrl, 'select word from kept')).toEqual([{ word: 'still here' }]);
});

test('a pid file left by a power loss, whose process id another program has now, does not stop the start', async () => {
  const dataDir = newDataDir();
  const first = await start(dataDir);
  const text = readFileSync(pidFile(dataDir), 'utf8');
  await first.stop();
  const { uid, gid } = statSync(join(dataDir, 'cluster'));
  // Of the same user as the server: Postgres itself believes that this is a server.
  const stranger = spawn('sleep', ['600'], process.getuid?.() === 0 ? { uid, gid } : {});
  try {
    writeFileSync(pidFile(dataDir), text.replace(/^\d+/, String(stranger.pid)));
    const second = await start(dataDir);
    expect(second.adopted).toBe(false);
    expect(stranger.exitCode ?? stranger.signalCode).toBeNull();
    expect(await ask(second.serviceUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
  } finally {
    stranger.kill('SIGKILL');
  }
});

test('a server that has hung is stopped, and another one takes its place', async () => {
  const dataDir = newDataDir();
  const { child, ready } = startElsewhere(dataDir);
  await ready;
  await end(child, 'SIGKILL');
  const pid = serverPid(dataDir);
  process.kill(pid, 'SIGSTOP');
  const second = await start(dataDir);
  expect(second.adopted).toBe(false);
  expect(serverPid(dataDir)).not.toBe(pid);
  expect(await ask(second.serviceUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
});

test('killed in the middle of the initialisation, the next start begins again and leaves nothing behind', async () => {
  const dataDir = newDataDir();
  const { child } = startElsewhere(dataDir);
  while (!existsSync(dataDir) || !readdirSync(dataDir).some((name) => name.startsWith('.new-'))) await pause(1);
  await end(child, 'SIGKILL');
  expect(existsSync(join(dataDir, 'cluster'))).toBe(false);
  const server = await start(dataDir);
  expect(await ask(server.serviceUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
  expect(readdirSync(dataDir).sort()).toEqual(['cluster', 'postgres.json', 'postgres.log']);
});

test('of three services that start in one new folder at once, one starts the server and the others adopt it', async () => {
  const dataDir = newDataDir();
  const servers = await Promise.all([0, 1, 2].map(() => startElsewhere(dataDir).ready));
  expect(servers.map(({ adopted }) => adopted).sort()).toEqual([false, true, true]);
  expect(new Set(servers.map(({ serviceUrl }) => serviceUrl)).size).toBe(1);
});

test('the server stops with the last service that uses it, not with the first', async () => {
  const dataDir = newDataDir();
  const one = startElsewhere(dataDir);
  await one.ready;
  const two = startElsewhere(dataDir);
  const { serviceUrl } = await two.ready;
  await end(one.child, 'SIGTERM');
  expect(await ask(serviceUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
  await end(two.child, 'SIGTERM');
  expect(existsSync(pidFile(dataDir))).toBe(false);
});
