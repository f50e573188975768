/** What is under suspicion: contained, seen to unit by unit, and lifted. */
import { Readable } from 'node:stream';
import { z } from 'zod';
import { askContainment, askLift, askProgress } from '../../app/containing/ask-containment.ts';
import {
  everyUnitContained,
  reachOfContainment,
  readContainment,
  readContainments,
} from '../../app/containing/read-containments.ts';
import type { App } from '../../app/context.ts';
import { journalEach } from '../../app/journal-access.ts';
import { containmentBody, liftBody, progressBody } from '../../core/records/containment-bodies.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { prefers } from '../preferences.ts';
import { checkQuery, noQuery, pageQuery, postFact } from './answers.ts';
import { described, pageOf } from './common-shapes.ts';
import { containmentExamples } from './containment-examples.ts';
import { containmentAnswer, containmentOutcomes, containmentPage, unitContained } from './containment-shapes.ts';
import { linesOf } from './reach-routes.ts';

/** In the spelling in which ids are kept and compared. */
const params = z.strictObject({ id: z.uuid().toLowerCase() });
const ndjson = 'application/x-ndjson';
const json = 'application/json';

export function containmentRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('containment:write', (scope) => issue(app, scope)));
    rest.register(withScope(['containment:write', 'record:write'], (scope) => tellProgress(app, scope)));
    rest.register(withScope(['record:read', 'warranty:read'], (scope) => reads(app, scope)));
  };
}

function issue(app: App, rest: Rest): void {
  const shared = { tags: ['containments'], querystring: checkQuery };
  rest.post(
    '/v1/containments',
    {
      config: { idempotencyKey: true },
      schema: {
        ...{ ...shared, operationId: 'contain', summary: 'Contain whatever something under suspicion reached' },
        description:
          "By the maker's people for units of their make, or by a distributor for its own records. The units that it reaches are kept with it; whatever record brings in another one later adds that. The answer comes when all of them are contained.",
        body: containmentBody.meta({ examples: [containmentExamples.containment] }),
        response: containmentOutcomes.containment,
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, await askContainment(app, askerOf(request), request.body)),
  );
  rest.post(
    '/v1/containments/:id/lift',
    {
      config: { idempotencyKey: true },
      schema: {
        ...{ ...shared, params, operationId: 'liftContainment', summary: 'Lift a containment from all its units' },
        description: 'By whoever issued it. What was scrapped for it stays so.',
        body: liftBody.meta({ examples: [containmentExamples.lift] }),
        response: containmentOutcomes.lift,
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, askLift(askerOf(request), request.params.id, request.body)),
  );
}

function tellProgress(app: App, rest: Rest): void {
  rest.post(
    '/v1/containments/:id/progress',
    {
      config: { idempotencyKey: true },
      schema: {
        ...{ operationId: 'tellProgress', summary: 'Say what was done about a unit under a containment' },
        description: 'By whoever issued it, or by a distributor that has recorded something of the unit.',
        ...{ tags: ['containments'], params, querystring: checkQuery },
        body: progressBody.meta({ examples: [containmentExamples.progress] }),
        response: containmentOutcomes.progress,
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, await askProgress(app, askerOf(request), request.params.id, request.body)),
  );
}

function reads(app: App, rest: Rest): void {
  rest.get(
    '/v1/containments',
    {
      schema: {
        ...{ operationId: 'listContainments', summary: 'Containments, lifted or not', tags: ['containments'] },
        description:
          "The maker's people see those of their make; a distributor its own, and those that reach a unit that it has recorded something of.",
        querystring: z.strictObject(pageQuery),
        response: { 200: containmentPage },
      },
    },
    async (request) => {
      const { first, after = null } = request.query;
      return await readContainments(app, askerOf(request), { first, after });
    },
  );
  rest.get(
    '/v1/containments/:id',
    {
      schema: {
        ...{ operationId: 'readContainment', summary: 'A containment', tags: ['containments'] },
        ...{ params, querystring: noQuery, response: { 200: containmentAnswer } },
      },
    },
    async (request) => await readContainment(app, askerOf(request), request.params.id),
  );
  rest.get(
    '/v1/containments/:id/reach',
    {
      schema: {
        ...{
          operationId: 'reachOfContainment',
          summary: 'The units under a containment, and what was done about them',
        },
        description:
          'A distributor sees those that it has recorded something of. With Accept: application/x-ndjson all are streamed, a unit a line.',
        ...{ tags: ['containments'], params },
        querystring: z.strictObject({
          overdue: z.enum(['true', 'false']).default('false').describe('Only what should have been done by now'),
          ...pageQuery,
        }),
        response: {
          200: {
            description: 'A page of units; as NDJSON all of them, a unit a line',
            content: {
              [json]: { schema: described<object>(pageOf(unitContained, 'By unit')) },
              [ndjson]: { schema: described<object>(unitContained) },
            },
          },
        },
      },
    },
    async (request, reply) => {
      const { first, after = null, overdue: asked } = request.query;
      const [asker, { id }, overdue] = [askerOf(request), request.params, asked === 'true'];
      reply.header('vary', 'Accept');
      if (!prefers(request, ndjson, json)) return await reachOfContainment(app, asker, id, { first, after, overdue });
      const found = await everyUnitContained(app, asker, id, overdue);
      const pages = journalEach(app, asker, 'GET /v1/containments/:id/reach', found);
      return await reply.type(ndjson).send(Readable.from(linesOf(pages), { highWaterMark: 1 }));
    },
  );
}
