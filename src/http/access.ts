/** Who may call a route, declared where routes are registered: every route is wrapped by name, none is exempt by its path. */
import type { FastifyInstance, FastifyPluginAsync, RouteOptions } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { type Asker, type Scope, scopes } from '../app/asker.ts';
import { Problem } from '../errors.ts';
import type { Authenticate } from './authenticate.ts';

/** `public`, or groups of scopes: one of every group is needed. */
export type Access = 'public' | readonly (readonly Scope[])[];

declare module 'fastify' {
  interface FastifyRequest {
    /** Null on public routes; elsewhere read it with `askerOf`. */
    asker: Asker | null;
  }
  interface FastifyInstance {
    authenticate: Authenticate;
  }
  interface FastifyContextConfig {
    access?: Access;
  }
}

export type Rest = FastifyInstance<
  FastifyInstance['server'],
  import('node:http').IncomingMessage,
  import('node:http').ServerResponse,
  FastifyInstance['log'],
  ZodTypeProvider
>;
export type Routes = (app: Rest) => void | Promise<void>;
type RestPlugin = FastifyPluginAsync<Record<never, never>, Rest['server'], ZodTypeProvider>;

/** Routes for tokens that carry the scope, or any one of several. Nested, every level must be met. */
export function withScope(scope: Scope | readonly [Scope, ...Scope[]], routes: Routes): RestPlugin {
  const anyOf = typeof scope === 'string' ? [scope] : scope;
  return async (app) => {
    app.addHook('onRoute', (route) => addGroup(route, anyOf));
    app.addHook('onRequest', async (request) => {
      request.asker ??= await app.authenticate(request.headers.authorization);
      requireScope(request.asker, anyOf);
    });
    await routes(app);
  };
}

/** Routes for any token that carries at least one scope of this service. */
export function withAnyScope(routes: Routes): RestPlugin {
  return withScope(scopes, routes);
}

/** Routes for everybody. */
export function publicRoutes(routes: Routes): RestPlugin {
  return async (app) => {
    app.addHook('onRoute', (route) => {
      if (Array.isArray(route.config?.access)) throw new Error(`${route.url} takes a scope and can't be public`);
      route.config = { ...route.config, access: 'public' };
      route.schema = { ...route.schema, security: [] };
    });
    await routes(app);
  };
}

/** Who asks, on a route that isn't public. */
export function askerOf(request: { asker: Asker | null }): Asker {
  if (request.asker === null) throw new Error('a public route asked who asks');
  return request.asker;
}

/** Refuses to start with a route that was registered outside of all wrappers. Call it before any route is registered. */
export function requireDeclaredAccess(app: FastifyInstance): void {
  const routes: RouteOptions[] = [];
  app.decorateRequest('asker', null);
  app.addHook('onRoute', (route) => {
    routes.push(route);
  });
  app.addHook('onReady', async () => {
    const open = routes
      .filter((route) => route.config?.access === undefined)
      .map(({ method, url }) => `${method} ${url}`);
    if (open.length > 0)
      throw new Error(`no access is declared for ${open.join(', ')}: wrap it in withScope or publicRoutes`);
  });
}

/** The group is added once: a HEAD route is made from its GET, which carries it already. */
function addGroup(route: RouteOptions, anyOf: readonly Scope[]): void {
  const before = route.config?.access;
  if (before === 'public') throw new Error(`${route.url} is public and takes no scope`);
  const access = before?.includes(anyOf) ? before : [...(before ?? []), anyOf];
  route.config = { ...route.config, access };
  route.schema = { ...route.schema, security: alternatives(access).map((all) => ({ bearer: all })) };
}

/** OpenAPI states alternatives of scopes that are all needed. */
function alternatives(access: readonly (readonly Scope[])[]): Scope[][] {
  return access.reduce<Scope[][]>((sets, group) => sets.flatMap((set) => group.map((scope) => [...set, scope])), [[]]);
}

function requireScope(asker: Asker, anyOf: readonly Scope[]): void {
  if (anyOf.some((scope) => asker.scopes.has(scope))) return;
  throw new Problem('forbidden', `The token lacks the scope ${anyOf.join(' or ')}.`, {
    headers: { 'www-authenticate': `Bearer error="insufficient_scope", scope="${anyOf.join(' ')}"` },
    extra: { scopes: anyOf },
  });
}
