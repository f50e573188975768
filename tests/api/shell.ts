/** A server with three throw-away routes and what a test needs around it. */
import { createHash, generateKeyPairSync, type KeyObject } from 'node:crypto';
import { exportJWK, type JWK, SignJWT } from 'jose';
import { z } from 'zod';
import type { ResolveOrganisations } from '../../src/app/asker.ts';
import { askerOf, publicRoutes, type Routes, withAnyScope, withScope } from '../../src/http/access.ts';
import { localVerification, makeAuthenticate, type Verification } from '../../src/http/authenticate.ts';
import { readIdempotencyKey } from '../../src/http/idempotency-key.ts';
import { makeLogger } from '../../src/http/logger.ts';
import { problemSchema } from '../../src/http/problems.ts';
import { buildServer, type ServerOptions } from '../../src/http/server.ts';

export const issuer = 'https://issuer.example';
export const audience = 'https://asfitted.example';

export type Key = { kid: string; alg: string; privateKey: KeyObject; publicKey: KeyObject };

export function ed25519(kid: string): Key {
  return { kid, alg: 'EdDSA', ...generateKeyPairSync('ed25519') };
}

export async function toJwk(key: Key): Promise<JWK> {
  return { ...(await exportJWK(key.publicKey)), kid: key.kid, alg: key.alg, use: 'sig' };
}

export function now(): number {
  return Math.floor(Date.now() / 1000);
}

/** Claims of a good token of distributor Brackwater, valid for five minutes. */
export function goodClaims(): Record<string, unknown> {
  return {
    iss: issuer,
    aud: audience,
    exp: now() + 300,
    iat: now(),
    sub: 'user-17',
    client_id: 'shop-system',
    scope: 'record:write record:read',
    distributor: 'brackwater',
  };
}

/** A token of these claims; a claim or header member that is undefined is left out. */
export async function signed(
  key: Key,
  claims: Record<string, unknown> = {},
  header: Record<string, unknown> = {},
): Promise<string> {
  return new SignJWT({ ...goodClaims(), ...claims })
    .setProtectedHeader({ alg: key.alg, kid: key.kid, typ: 'at+jwt', ...header })
    .sign(key.privateKey);
}

/** A directory that knows distributor Brackwater and maker Ardenholm. */
export const directory: ResolveOrganisations = async ({ distributor, maker }) => ({
  distributor: distributor === 'brackwater' ? uuidOf(distributor) : null,
  maker: maker === 'ardenholm' ? uuidOf(maker) : null,
});

export function uuidOf(slug: string): string {
  return createHash('sha256').update(slug).digest('hex').slice(0, 32);
}

export const bodySchema = z
  .strictObject({
    name: z.string().min(1).max(20),
    'odd/na~me': z.number().optional(),
    kind: z.enum(['plug', 'orifice']).default('plug'),
    lot: z.union([z.string(), z.strictObject({ unknown: z.string().min(1) })]).optional(),
    readings: z
      .array(z.strictObject({ value: z.string(), turns: z.int().min(0).optional() }))
      .max(3)
      .default([]),
  })
  .meta({ examples: [{ name: 'sense seat' }] });

/** `fail` is what the failing route throws. */
export function throwAwayRoutes(fail: () => unknown = () => new Error('unexpected')): Routes {
  return (app) => {
    app.register(
      withScope('record:write', (scoped) => {
        scoped.post(
          '/v1/things/:maker/:serial',
          {
            config: { idempotencyKey: true },
            schema: {
              params: z.strictObject({ maker: z.string().max(20), serial: z.string() }),
              querystring: z.strictObject({
                check: z.literal('only').optional(),
                first: z.coerce.number().int().optional(),
              }),
              body: bodySchema,
            },
          },
          async (request) => ({
            body: request.body,
            sent: request.sent,
            key: readIdempotencyKey(request.headers),
          }),
        );
      }),
    );
    app.register(
      withScope(['record:read', 'warranty:read'], (scoped) => {
        scoped.get('/v1/things/:maker/:serial', async (request) => {
          const { scopes: _, ...asker } = askerOf(request);
          return asker;
        });
      }),
    );
    app.register(
      withAnyScope((scoped) => {
        scoped.get('/v1/anybody', async () => ({ ok: true }));
      }),
    );
    app.register(
      publicRoutes((open) => {
        open.get('/fails', async () => {
          throw fail();
        });
        open.get('/badly-answered', { schema: { response: { 200: z.strictObject({ n: z.int() }) } } }, async () => {
          return { n: 'a secret word' } as unknown as { n: number };
        });
        open.get('/where', async (request) => ({ ip: request.ip }));
      }),
    );
  };
}

/** Keeps what is logged. */
export class LogTape {
  text = '';

  write(line: string): void {
    this.text += line;
  }

  lines(): Record<string, unknown>[] {
    return this.text
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Record<string, unknown>);
  }
}

export const receiptKey = {
  name: 'test',
  keyId: '00000000',
  publicKey: new Uint8Array(32),
  verifierKey: 'test+00000000+',
};

export async function startShell(
  more: Partial<ServerOptions> & { verification?: Verification; fail?: () => unknown } = {},
) {
  const key = ed25519('k-1');
  const tape = new LogTape();
  const verification = more.verification ?? localVerification({ issuer, audience, publicKey: await toJwk(key) });
  const app = buildServer({
    logger: makeLogger({ level: 'trace', destination: tape }),
    trustProxy: [],
    authenticate: makeAuthenticate(verification, directory),
    checks: { ready: {}, started: {} },
    publicKeys: { signers: [receiptKey], former: [] },
    routes: throwAwayRoutes(more.fail),
    ...more,
  });
  const token = await signed(key);
  return { app, key, tape, token, bearer: { authorization: `Bearer ${token}` } };
}

type Answer = { statusCode: number; headers: Record<string, unknown>; body: string };

/** The problem that an answer carries, checked against the shape that every problem has. */
export function problemOf(answer: Answer) {
  if (answer.headers['content-type'] !== 'application/problem+json') {
    throw new Error(`no problem+json but ${answer.headers['content-type']}: ${answer.statusCode} ${answer.body}`);
  }
  const problem = problemSchema.parse(JSON.parse(answer.body));
  if (problem.status !== answer.statusCode)
    throw new Error(`status ${problem.status} in an answer ${answer.statusCode}`);
  return problem;
}
