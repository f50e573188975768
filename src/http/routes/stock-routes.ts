/** What a distributor states of its shops, people, instruments and lots, and reads back. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { listStock, type StockKind } from '../../app/list-own.ts';
import { instrumentBody, lotBody, shopBody, technicianBody } from '../../core/records/stock-bodies.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { nameParam, noQuery, ownIdParam, pageQuery, putFact, slugParam } from './answers.ts';
import { described } from './common-shapes.ts';
import { examples } from './examples.ts';
import { instrumentStated, lotStated, shopStated, stockPages, technicianStated } from './stock-shapes.ts';

const idParams = z.strictObject({ id: ownIdParam });
const lotParams = z.strictObject({ maker: slugParam, number: nameParam });

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
        operationId: 'stateShop',
        summary: 'State a shop',
        tags: ['stock'],
        params: idParams,
        querystring: noQuery,
        body: shopBody.meta({ examples: [examples.shop] }),
        response: { 200: shopStated, 201: shopStated },
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
        operationId: 'stateTechnician',
        summary: 'State a technician; the name is kept apart from records',
        tags: ['stock'],
        params: idParams,
        querystring: noQuery,
        body: technicianBody.meta({ examples: [examples.technician] }),
        response: { 200: technicianStated, 201: technicianStated },
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'technician', id: request.params.id, body: request.body }),
  );
  rest.put(
    '/v1/instruments/:id',
    {
      schema: {
        operationId: 'stateInstrument',
        summary: 'State a torque wrench, gauge or stand',
        tags: ['stock'],
        params: idParams,
        querystring: noQuery,
        body: instrumentBody.meta({ examples: [examples.instrument] }),
        response: { 200: instrumentStated, 201: instrumentStated },
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'instrument', id: request.params.id, body: request.body }),
  );
  rest.put(
    '/v1/lots/:maker/:number',
    {
      schema: {
        operationId: 'stateLot',
        summary: 'State a lot of kits or parts',
        tags: ['stock'],
        params: lotParams,
        querystring: noQuery,
        body: lotBody.meta({ examples: [examples.lot] }),
        response: { 200: lotStated, 201: lotStated },
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'lot', ...request.params, body: request.body }),
  );
}

function lists(app: App, rest: Rest): void {
  const lists: readonly [string, Exclude<StockKind, 'attachment'>, string][] = [
    ['/v1/shops', 'shop', 'listShops'],
    ['/v1/technicians', 'technician', 'listTechnicians'],
    ['/v1/instruments', 'instrument', 'listInstruments'],
    ['/v1/lots', 'lot', 'listLots'],
  ];
  const schema = { tags: ['stock'], querystring: z.strictObject(pageQuery) };
  for (const [path, kind, operationId] of lists) {
    const response = { 200: described<Awaited<ReturnType<typeof listStock>>>(stockPages[kind]) };
    const summary = `Own ${kind}s, in their current version`;
    rest.get(path, { schema: { ...schema, operationId, summary, response } }, async (request) => {
      const { first, after = null } = request.query;
      return await listStock(app, askerOf(request), kind, { first, after });
    });
  }
}
