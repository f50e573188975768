/** What a distributor states of its shops, people, instruments and lots, and reads back. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { listIntakes, listStock, type StockKind } from '../../app/list-own.ts';
import { instrumentBody, intakeBody, lotBody, shopBody, technicianBody } from '../../core/records/stock-bodies.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { checkQuery, keptSchema, nameParam, ownIdParam, pageQuery, postFact, putFact, slugParam } from './answers.ts';
import { examples } from './examples.ts';
import { pageSchema } from './record-routes.ts';

const idParams = z.strictObject({ id: ownIdParam });
const lotParams = z.strictObject({ maker: slugParam, number: nameParam });
const response = { 200: keptSchema, 201: keptSchema };

export function stockRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('organisation:write', (scope) => putShop(app, scope)));
    rest.register(withScope('stock:write', (scope) => putStock(app, scope)));
    rest.register(withScope(['record:read', 'stock:write'], (scope) => lists(app, scope)));
  };
}

function putShop(app: App, rest: Rest): void {
  rest.put(
    '/v1/shops/:id',
    {
      schema: {
        summary: 'State a shop',
        tags: ['stock'],
        params: idParams,
        body: shopBody.meta({ examples: [examples.shop] }),
        response,
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'shop', id: request.params.id, body: request.body }),
  );
}

function putStock(app: App, rest: Rest): void {
  rest.put(
    '/v1/technicians/:id',
    {
      schema: {
        summary: 'State a technician; the name is kept apart from records',
        tags: ['stock'],
        params: idParams,
        body: technicianBody.meta({ examples: [examples.technician] }),
        response,
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'technician', id: request.params.id, body: request.body }),
  );
  rest.put(
    '/v1/instruments/:id',
    {
      schema: {
        summary: 'State a torque wrench, gauge or stand',
        tags: ['stock'],
        params: idParams,
        body: instrumentBody.meta({ examples: [examples.instrument] }),
        response,
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'instrument', id: request.params.id, body: request.body }),
  );
  rest.put(
    '/v1/lots/:maker/:number',
    {
      schema: {
        summary: 'State a lot of kits or parts',
        tags: ['stock'],
        params: lotParams,
        body: lotBody.meta({ examples: [examples.lot] }),
        response,
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'lot', ...request.params, body: request.body }),
  );
  rest.post(
    '/v1/lots/:maker/:number/intakes',
    {
      config: { idempotencyKey: true },
      schema: {
        summary: 'Goods of a lot coming into a shop',
        tags: ['stock'],
        params: lotParams,
        querystring: checkQuery,
        body: intakeBody.meta({ examples: [examples.intake] }),
        response,
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'intake', ...request.params, body: request.body }),
  );
}

function lists(app: App, rest: Rest): void {
  const paths: readonly [string, StockKind][] = [
    ['/v1/shops', 'shop'],
    ['/v1/technicians', 'technician'],
    ['/v1/instruments', 'instrument'],
    ['/v1/lots', 'lot'],
  ];
  const schema = { tags: ['stock'], querystring: z.strictObject(pageQuery), response: { 200: pageSchema } };
  for (const [path, kind] of paths) {
    rest.get(path, { schema: { ...schema, summary: `Own ${kind}s, in their current version` } }, async (request) => {
      const { first, after = null } = request.query;
      return await listStock(app, askerOf(request), kind, { first, after });
    });
  }
  rest.get(
    '/v1/lots/:maker/:number/intakes',
    { schema: { ...schema, summary: 'Intakes of a lot', params: lotParams } },
    async (request) => {
      const { first, after = null } = request.query;
      return await listIntakes(app, askerOf(request), request.params, { first, after });
    },
  );
}
