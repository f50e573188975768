/** Routes with one fault each, described as if they had none: what the gate must catch. */
import { z } from 'zod';
import { Problem } from '../../../src/errors.ts';
import { type Routes, withScope } from '../../../src/http/access.ts';
import { zodValidator } from '../../../src/http/zod-validation.ts';

const name = z.string().trim().min(1).max(200);
const body = z.strictObject({ name, count: z.int().min(1).max(10).optional() });
const example = { name: 'north yard' };

/** By path, and the fault that must be among those found. */
export const brokenRoutes: ReadonlyMap<string, RegExp> = new Map([
  ['/v1/broken/throws', /^status 500/],
  ['/v1/broken/writes', /^\d+ rows of organisations written by what was refused/],
  ['/v1/broken/takes-all', /^takes what is forbidden: 200/],
  ['/v1/broken/speaks-plainly', /^is told as text\/plain/],
  ['/v1/broken/names-no-place', /^invalid-input without a place/],
  ['/v1/broken/tells-all', /^tells of the inside/],
  ['/v1/broken/leads-nowhere', /^leads nowhere/],
]);

/** `write` writes a row that nobody asked for. */
export function routesWithFaults(write: () => Promise<void>): Routes {
  return (rest) => {
    rest.register(
      withScope('record:write', (scope) => {
        const refuse = (errors: { pointer: string; detail: string }[] | undefined, detail = 'No.') => {
          throw new Problem('invalid-input', detail, errors === undefined ? {} : { errors });
        };
        const schema = (operationId: string) => ({
          operationId,
          body: body.meta({ examples: [example] }),
          querystring: z.strictObject({}),
        });
        const good = { ok: true };
        const isGood = (value: unknown) => body.safeParse(value).success;
        scope.post('/v1/broken/throws', { schema: schema('brokenThrows') }, async (request) => {
          if (request.body.name.length > 8) throw new TypeError('too long for me');
          return good;
        });
        scope.register(async (open) => {
          // The body is looked at by the handlers themselves, each in its own bad way.
          open.setValidatorCompiler<z.ZodType>((route) =>
            route.httpPart === 'body' ? (value) => ({ value }) : zodValidator(route),
          );
          open.post('/v1/broken/takes-all', { schema: schema('brokenTakesAll') }, async () => good);
          open.post('/v1/broken/writes', { schema: schema('brokenWrites') }, async (request) => {
            if (isGood(request.body)) return good;
            await write();
            return refuse([{ pointer: '', detail: 'no' }]);
          });
          open.post('/v1/broken/speaks-plainly', { schema: schema('brokenSpeaksPlainly') }, async (request, reply) =>
            isGood(request.body) ? good : await reply.code(400).type('text/plain').send('no'),
          );
          open.post('/v1/broken/names-no-place', { schema: schema('brokenNamesNoPlace') }, async (request) =>
            isGood(request.body) ? good : refuse(undefined),
          );
          open.post('/v1/broken/tells-all', { schema: schema('brokenTellsAll') }, async (request) =>
            isGood(request.body) ? good : refuse([{ pointer: '', detail: 'no' }], 'syntax error in: insert into facts'),
          );
          open.post('/v1/broken/leads-nowhere', { schema: schema('brokenLeadsNowhere') }, async (request) =>
            isGood(request.body) ? good : refuse([{ pointer: '/a/b/c', detail: 'no' }]),
          );
        });
      }),
    );
  };
}
