/**
 * The whole service on a test database, in this process, wired as `wire.ts` wires it, but for the tokens, which a key
 * of the test signs. Requests are injected: they pass all that a request over a socket passes, but for the socket. For
 * the service in a process of its own see running-service.ts.
 */
import { randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { v7 } from 'uuid';
import { afterAll } from 'vitest';
import { type Asker, type Scope, scopes } from '../../src/app/asker.ts';
import type { App } from '../../src/app/context.ts';
import { organisationResolver } from '../../src/app/organisations.ts';
import type { Asked, Request } from '../../src/app/recording/request.ts';
import type { Routes } from '../../src/http/access.ts';
import { type Authenticate, localVerification, makeAuthenticate } from '../../src/http/authenticate.ts';
import { makeLogger } from '../../src/http/logger.ts';
import { buildServer } from '../../src/http/server.ts';
import { addOrganisation } from '../../src/store/add-organisation.ts';
import { loadSigner, type Signer } from '../../src/store/local-keys.ts';
import { closePools, openPools, type Pools } from '../../src/store/pools.ts';
import { appOf, everyRoute } from '../../src/wire.ts';
import { audience, ed25519, issuer, LogTape, signed, toJwk } from '../api/shell.ts';
import type { TestDatabase } from './database.ts';
import type { Answer } from './over-http.ts';

/** The organisations that every test service knows, by slug. */
export const organisations = {
  ardenholm: { id: v7(), kind: 'maker' },
  'other-maker': { id: v7(), kind: 'maker' },
  brackwater: { id: v7(), kind: 'distributor' },
  tollan: { id: v7(), kind: 'distributor' },
} as const;

export type Who = {
  readonly distributor?: keyof typeof organisations;
  readonly maker?: keyof typeof organisations;
  /** Left out: every scope there is. */
  readonly scopes?: readonly Scope[];
  readonly subject?: string;
  readonly client?: string;
};

/**
 * A body that is a text is sent as it is, anything else as JSON. A POST has a key of its own unless one is given;
 * null: none.
 */
export type Caller = (method: string, path: string, body?: unknown, key?: string | null) => Promise<Answer>;

export type TestService = {
  readonly app: App;
  readonly server: FastifyInstance;
  readonly signer: Signer;
  /** DATA_DIR. */
  readonly folder: string;
  /** All that the service logged. */
  readonly tape: LogTape;
  readonly as: (who: Who) => Promise<Caller>;
  readonly tokenOf: (who: Who) => Promise<string>;
};

export type ServiceParts = {
  /** Left to whoever gives them to close. */
  readonly pools?: Pools;
  /** Beside the service's own. */
  readonly routes?: Routes;
  /** A good token is looked up once: for many requests that are not about tokens. */
  readonly rememberTokens?: boolean;
};

/** At the top level of a test file, on its database. Closed after the file's last test. */
export async function testService(db: TestDatabase, parts: ServiceParts = {}): Promise<TestService> {
  const folder = await mkdtemp(join(tmpdir(), 'asfitted-service-'));
  const signer = await loadSigner({ dataDir: folder });
  const keys = { signers: [signer], former: [] } as const;
  for (const [slug, { id, kind }] of Object.entries(organisations)) {
    await addOrganisation(db.ownerUrl, { id, slug, kind, name: slug });
  }
  const pools = parts.pools ?? openPools({ serviceUrl: db.serviceUrl, onLost: () => {} });
  const app = appOf(pools, keys, { dataDir: folder, logDir: join(folder, 'log') });
  const key = ed25519('test');
  const tape = new LogTape();
  const verification = localVerification({ issuer, audience, publicKey: await toJwk(key) });
  const authenticate = makeAuthenticate(verification, organisationResolver(pools));
  const server = buildServer({
    logger: makeLogger({ level: 'trace', destination: tape }),
    trustProxy: [],
    authenticate: parts.rememberTokens === true ? remembering(authenticate) : authenticate,
    checks: { ready: {}, started: {} },
    publicKeys: keys,
    routes: async (rest) => {
      await everyRoute(app, { adHoc: true, introspection: true })(rest);
      await parts.routes?.(rest);
    },
  });
  afterAll(async () => {
    await server.close();
    if (parts.pools === undefined) await closePools(pools);
    await rm(folder, { recursive: true });
  });
  const tokenOf = async (who: Who) => {
    const { subject, client, scopes: held, distributor, maker } = askerOf(who);
    const scope = [...held].join(' ');
    const claims = {
      // A busy machine takes its time, and no test of a service is about tokens that end.
      exp: Math.floor(Date.now() / 1_000) + 3_600,
      sub: subject,
      client_id: client,
      scope,
      distributor: distributor ?? undefined,
      maker: maker ?? undefined,
    };
    return await signed(key, claims);
  };
  const as = async (who: Who) => callerOf(server, await tokenOf(who));
  return { app, server, signer, folder, tape, as, tokenOf };
}

function remembering(authenticate: Authenticate): Authenticate {
  const askers = new Map<string | undefined, Asker>();
  return async (authorization) => {
    const asker = askers.get(authorization) ?? (await authenticate(authorization));
    askers.set(authorization, asker);
    return { ...asker, shown: new Map() };
  };
}

/** Who asks, as the token and the directory say. */
export function askerOf({ distributor, maker, scopes: some, subject = 'user-17', client = 'shop-system' }: Who): Asker {
  const idOf = (slug: keyof typeof organisations | undefined) => (slug === undefined ? null : organisations[slug].id);
  return {
    distributor: distributor ?? null,
    maker: maker ?? null,
    subject,
    client,
    scopes: new Set(some ?? scopes),
    organisations: { distributor: idOf(distributor), maker: idOf(maker) },
    shown: new Map(),
  };
}

/** A request as `recordFact` would hand it on, for batches. */
export function requestOf(
  app: App,
  who: { distributor: keyof typeof organisations; client?: string },
  asked: Asked & { readonly sent: unknown },
  more: Partial<Pick<Request, 'key' | 'checkOnly' | 'route'>> = {},
): Request {
  const { client, subject } = askerOf(who);
  const frame = { owner: organisations[who.distributor].id, client, subject, fact: app.effects.newId() };
  return { key: randomUUID(), checkOnly: false, route: asked.kind, ...more, ...frame, ...asked };
}

function callerOf(server: FastifyInstance, token: string): Caller {
  return async (method, path, body, key = randomUUID()) => {
    const answer = await server.inject({
      method: method as 'GET' | 'PUT' | 'POST',
      url: path,
      headers: {
        authorization: `Bearer ${token}`,
        ...(body !== undefined && { 'content-type': 'application/json' }),
        ...(method === 'POST' && key !== null && { 'idempotency-key': key }),
      },
      ...(body !== undefined && { payload: typeof body === 'string' ? body : JSON.stringify(body) }),
    });
    const headers = new Headers();
    for (const [name, value] of Object.entries(answer.headers)) headers.set(name, String(value));
    const isJson = /^application\/(problem\+)?json/.test(headers.get('content-type') ?? '');
    const text = answer.payload;
    return { status: answer.statusCode, headers, body: isJson ? JSON.parse(text) : null, text };
  };
}
