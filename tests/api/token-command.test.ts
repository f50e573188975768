import { execFile } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { decodeJwt, decodeProtectedHeader } from 'jose';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { localAudience, localIssuer, localPublicKey } from '../../src/app/issue-token.ts';
import { localVerification } from '../../src/http/authenticate.ts';
import { startShell } from './shell.ts';

const run = promisify(execFile);
let dataDir = '';

beforeAll(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'token-'));
});
afterAll(() => rm(dataDir, { recursive: true }));

function token(args: string[], env: Record<string, string> = {}) {
  return run(process.execPath, ['src/cli/token.ts', ...args], { env: { DATA_DIR: dataDir, ...env } });
}

describe('the token command', () => {
  test('prints a token that a service on the same DATA_DIR accepts', async () => {
    const args = [
      '--distributor',
      'brackwater',
      '--scope',
      'record:write',
      '--scope',
      'record:read',
      '--maker',
      'ardenholm',
    ];
    const { stdout } = await token([...args, '--subject', 'lead', '--client', 'bench', '--minutes', '5']);
    const printed = stdout.trim();
    const verification = localVerification({
      issuer: localIssuer,
      audience: localAudience,
      publicKey: await localPublicKey(dataDir),
    });
    const { app } = await startShell({ verification });
    const answer = await app.inject({ url: '/v1/things/a/b', headers: { authorization: `Bearer ${printed}` } });
    expect(answer.json()).toMatchObject({
      subject: 'lead',
      client: 'bench',
      distributor: 'brackwater',
      maker: 'ardenholm',
    });
    const { exp = 0, iat = 0, scope } = decodeJwt(printed);
    expect([exp - iat, scope]).toEqual([300, 'record:write record:read']);
    expect(decodeProtectedHeader(printed)).toMatchObject({ alg: 'EdDSA', typ: 'at+jwt' });
  });

  test('and that a service with another local key does not', async () => {
    const { stdout } = await token(['--distributor', 'brackwater', '--scope', 'record:read']);
    const { app } = await startShell();
    const answer = await app.inject({ url: '/v1/anybody', headers: { authorization: `Bearer ${stdout.trim()}` } });
    expect(answer.statusCode).toBe(401);
  });

  test.each([
    [[], 'Say who the token speaks for'],
    [['--distributor', 'brackwater'], 'Give at least one --scope'],
    [['--distributor', 'brackwater', '--scope', 'record:wright'], 'There is no scope record:wright'],
    [['--distributor', 'Brackwater Ltd', '--scope', 'record:read'], '--distributor takes a slug'],
    [
      ['--maker', 'ardenholm', '--scope', 'record:read', '--minutes', '0'],
      '--minutes takes a whole number from 1 to 1440',
    ],
    [['--maker', 'ardenholm', '--scope', 'record:read', '--minutes', '1441'], '--minutes takes'],
    [['--maker', 'ardenholm', '--scope', 'record:read', '--subject', ''], '--subject takes 1 to 255 characters'],
    [['--maker', 'ardenholm', '--scope', 'record:read', '--admin'], "Unknown option '--admin'"],
    [['--maker', 'ardenholm', '--scope', 'record:read', 'more'], "Unexpected argument 'more'"],
  ])('of %j explains itself', async (args, says) => {
    const failed = await token(args).catch((error: unknown) => error);
    expect(failed).toMatchObject({ code: 2, stdout: '', stderr: expect.stringContaining(says) });
    expect(failed).toMatchObject({ stderr: expect.stringContaining('usage: npm run -s token') });
  });

  test('refuses where an issuer is configured', async () => {
    const env = { AUTH_ISSUER: 'https://i.example', AUTH_AUDIENCE: 'a', AUTH_JWKS_URL: 'https://i.example/keys' };
    const failed = await token(['--maker', 'ardenholm', '--scope', 'record:read'], env).catch(
      (error: unknown) => error,
    );
    expect(failed).toMatchObject({ code: 2, stderr: expect.stringContaining('AUTH_ISSUER is set') });
  });

  test('tells of a bad configuration without the usage', async () => {
    const failed = await token(['--maker', 'ardenholm', '--scope', 'record:read'], { PORT: 'x' }).catch(
      (error: unknown) => error,
    );
    expect(failed).toMatchObject({ code: 1, stderr: expect.stringContaining('PORT: must be') });
  });
});
