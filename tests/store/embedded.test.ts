import { existsSync, mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { socketSetting } from '../../src/store/embedded/socket.ts';
import { ask, embeddedFolder, homeOf } from '../support/embedded-folder.ts';

const { folder, lines, newDataDir, start } = embeddedFolder();

test('a fresh folder becomes a database with an owner and a service that may do nothing yet', async () => {
  const server = await start(newDataDir());
  expect(server.adopted).toBe(false);
  expect(await ask(server.ownerUrl, 'select current_user::text as who, current_database()::text as at')).toEqual([
    { who: 'asfitted_owner', at: 'asfitted' },
  ]);
  expect(
    await ask(
      server.serviceUrl,
      `select rolsuper or rolbypassrls or rolcreatedb or rolcreaterole or rolinherit as powerful,
         (select count(*)::int from pg_auth_members m where m.member = r.oid and m.set_option and not m.inherit_option) as roles
       from pg_roles r where rolname = current_user`,
    ),
  ).toEqual([{ powerful: false, roles: 5 }]);
  await expect(ask(server.serviceUrl, 'create table t (a int)')).rejects.toThrow('permission denied');
});

test('started again after a stop, the same database is there, with the same passwords', async () => {
  const dataDir = newDataDir();
  const first = await start(dataDir);
  await ask(first.ownerUrl, `create table kept as select 'still here' as word`);
  await first.stop();
  expect(existsSync(join(homeOf(dataDir), 'cluster', 'postmaster.pid'))).toBe(false);
  const second = await start(dataDir);
  expect(second.adopted).toBe(false);
  expect(new URL(second.ownerUrl).password).toBe(new URL(first.ownerUrl).password);
  expect(await ask(second.ownerUrl, 'select word from kept')).toEqual([{ word: 'still here' }]);
});

test('passwords are long, differ, are kept in a file of mode 0600, and the server insists on them by scram', async () => {
  const dataDir = newDataDir();
  const server = await start(dataDir);
  expect(statSync(join(dataDir, 'postgres.json')).mode & 0o777).toBe(0o600);
  expect(statSync(join(dataDir, 'postgres.log')).mode & 0o777).toBe(0o600);
  const urls = [server.ownerUrl, server.serviceUrl, server.superuserUrl].map((url) => new URL(url));
  expect(new Set(urls.map(({ password }) => password)).size).toBe(3);
  for (const url of urls) {
    expect(url.password.length).toBeGreaterThanOrEqual(32);
    url.password = 'guessed';
    await expect(ask(url.href, 'select 1')).rejects.toThrow('password authentication failed');
  }
  const rules = await ask(server.superuserUrl, 'select distinct auth_method as method from pg_hba_file_rules');
  expect(rules).toEqual([{ method: 'scram-sha-256' }]);
});

test('it listens on the loopback only, and on a socket in the cluster, which is its own alone', async () => {
  const dataDir = newDataDir();
  const server = await start(dataDir);
  const cluster = join(homeOf(dataDir), 'cluster');
  expect(
    await ask(
      server.superuserUrl,
      `select current_setting('listen_addresses') as addresses, current_setting('unix_socket_directories') as sockets`,
    ),
  ).toEqual([{ addresses: '127.0.0.1', sockets: `"${cluster}"` }]);
  expect(statSync(cluster).mode & 0o777).toBe(0o700);
  const over = await ask(server.serviceUrl, 'select inet_client_addr() is null as "isSocket"');
  expect(over).toEqual([{ isSocket: true }]);
});

test('a folder whose name takes more bytes than a socket may is asked over the port', () => {
  const folder = (letter: string) => `/${letter.repeat(60)}`;
  expect(socketSetting(folder('o'))).toBe(process.platform === 'win32' ? '' : `"${folder('o')}"`);
  expect(socketSetting(folder('ö'))).toBe('');
  expect(socketSetting('/with"quote')).toBe('');
});

test('the service keeps fsync and synchronous commit on unless it is told otherwise', async () => {
  const dataDir = newDataDir();
  const server = await start(dataDir, {});
  expect(
    await ask(
      server.serviceUrl,
      `select name, setting from pg_settings where name in ('fsync', 'full_page_writes', 'synchronous_commit') order by 1`,
    ),
  ).toEqual([
    { name: 'fsync', setting: 'on' },
    { name: 'full_page_writes', setting: 'on' },
    { name: 'synchronous_commit', setting: 'on' },
  ]);
});

test('below a folder that nobody else may enter it works, for root by placing the database elsewhere and saying so', async () => {
  const closed = join(folder, 'closed');
  mkdirSync(closed, { mode: 0o700 });
  const dataDir = newDataDir(join('closed', 'data'));
  const first = await start(dataDir);
  await ask(first.ownerUrl, `create table kept as select 'still here' as word`);
  const home = homeOf(dataDir);
  const isRoot = process.getuid?.() === 0;
  expect(home === dataDir).toBe(!isRoot);
  expect(lines.some((line) => line.includes(`the database lies in ${home}`))).toBe(isRoot);
  await first.stop();
  const second = await start(dataDir);
  expect(homeOf(dataDir)).toBe(home);
  expect(await ask(second.ownerUrl, 'select word from kept')).toEqual([{ word: 'still here' }]);
});

test('an initialisation that was interrupted leaves nothing that a start keeps', async () => {
  const dataDir = newDataDir();
  mkdirSync(join(dataDir, '.new-interrupted', 'cluster'), { recursive: true });
  writeFileSync(join(dataDir, '.new-interrupted', 'cluster', 'PG_VERSION'), '18\n');
  const server = await start(dataDir);
  expect(await ask(server.serviceUrl, 'select 1 as one')).toEqual([{ one: 1 }]);
  expect(readdirSync(dataDir).sort()).toEqual(['cluster', 'postgres.json', 'postgres.log']);
});

test('an interruption between the cluster and the database is made good', async () => {
  const dataDir = newDataDir();
  const first = await start(dataDir);
  await ask(first.superuserUrl, 'drop database asfitted with (force)');
  await ask(first.superuserUrl, 'alter role asfitted_service password null');
  await ask(first.superuserUrl, 'drop role asfitted_eraser');
  await first.stop();
  const second = await start(dataDir);
  expect(await ask(second.serviceUrl, `select pg_has_role('asfitted_eraser', 'set') as may`)).toEqual([{ may: true }]);
});

test('a finished database that is gone is not replaced by an empty one', async () => {
  const dataDir = newDataDir();
  await (await start(dataDir)).stop();
  rmSync(join(homeOf(dataDir), 'cluster'), { recursive: true });
  await expect(start(dataDir)).rejects.toThrow(/should lie in .* and isn't there.*remove .*postgres\.json to begin/);
});

test('a damaged postgres.json stops the start, and the message names it', async () => {
  const dataDir = newDataDir();
  mkdirSync(dataDir, { mode: 0o755 });
  writeFileSync(join(dataDir, 'postgres.json'), '{"home"');
  await expect(start(dataDir)).rejects.toThrow(`${join(dataDir, 'postgres.json')} can't be read`);
  rmSync(join(dataDir, 'postgres.json'));
});

test('a server that cannot start says why, with the end of its log', async () => {
  const dataDir = newDataDir();
  await (await start(dataDir)).stop();
  const broken = start(dataDir, { shared_buffers: 'not-a-size' });
  await expect(broken).rejects.toThrow(/Postgres didn't start.*postgres\.log[\s\S]*shared_buffers/);
});
