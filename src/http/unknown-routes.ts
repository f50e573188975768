/** 404 and 405, decided before a body is read. */
import type { FastifyInstance } from 'fastify';
import { Problem } from '../errors.ts';

/** Call it before any route is registered. */
export function answerUnknownRoutes(app: FastifyInstance): void {
  const methodsByUrl = new Map<string, Set<string>>();
  app.addHook('onRoute', ({ url, method }) => {
    const methods = methodsByUrl.get(url) ?? new Set();
    for (const each of [method].flat()) methods.add(each.toUpperCase());
    methodsByUrl.set(url, methods);
  });
  app.addHook('onRequest', async (request) => {
    if (!request.is404) return;
    const path = request.url.split('?', 1)[0] ?? '';
    const allowed = [...methodsByUrl].flatMap(([url, methods]) => (matches(url, path) ? [...methods] : []));
    if (allowed.length === 0) throw new Problem('not-found', 'Nothing is at this path; /openapi.json lists what is.');
    const allow = [...new Set(allowed)].sort().join(', ');
    throw new Problem('method-not-allowed', `This path takes ${allow}.`, { headers: { allow } });
  });
}

/** Route urls have whole parts that are names (`:serial`), and `*` for the rest. */
function matches(url: string, path: string): boolean {
  const pattern = url.split('/');
  const parts = path.split('/');
  if (pattern.at(-1) === '*') return parts.length >= pattern.length && samePrefix(pattern.slice(0, -1), parts);
  return parts.length === pattern.length && samePrefix(pattern, parts);
}

function samePrefix(pattern: readonly string[], parts: readonly string[]): boolean {
  return pattern.every((part, index) => (part.startsWith(':') ? parts[index] !== '' : part === parts[index]));
}
