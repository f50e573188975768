/** What comes into a lot at a shop and leaves it otherwise than by use; and how lots stand. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { listMoves } from '../../app/list-own.ts';
import { readLotBalances, readStockAt } from '../../app/read-balances.ts';
import { countBody, intakeBody, restockingBody, returnBody, scrappingBody } from '../../core/records/lot-bodies.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { checkQuery, nameParam, ownIdParam, pageQuery, postFact, slugParam } from './answers.ts';
import { knownQuery, lastOf, performedQuery } from './common-shapes.ts';
import { lotExamples } from './lot-examples.ts';
import { lotAnswer, moveOutcomes, movePage, restockingOutcomes, stockAtPage } from './lot-shapes.ts';

const params = z.strictObject({ maker: slugParam, number: nameParam });
const posted = { tags: ['stock'], querystring: checkQuery };
const config = { idempotencyKey: true } as const;

export function lotRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('stock:write', (scope) => moves(app, scope)));
    rest.register(withScope(['record:read', 'stock:write'], (scope) => reads(app, scope)));
  };
}

function moves(app: App, rest: Rest): void {
  const ofLot = { ...posted, params };
  rest.post(
    '/v1/lots/:maker/:number/intakes',
    {
      config,
      schema: {
        ...{ ...ofLot, operationId: 'recordIntake', summary: 'Goods of a lot coming into a shop' },
        ...{ body: intakeBody.meta({ examples: [lotExamples.intake] }), response: moveOutcomes.intake },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'intake', ...request.params, body: request.body }),
  );
  rest.post(
    '/v1/lots/:maker/:number/scrappings',
    {
      config,
      schema: {
        ...{ ...ofLot, operationId: 'recordScrapping', summary: 'Goods of a lot that are thrown away' },
        ...{ body: scrappingBody.meta({ examples: [lotExamples.scrapping] }), response: moveOutcomes.scrapping },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'scrapping', ...request.params, body: request.body }),
  );
  rest.post(
    '/v1/lots/:maker/:number/returns',
    {
      config,
      schema: {
        ...{ ...ofLot, operationId: 'recordReturn', summary: 'Goods of a lot sent back to who supplied them' },
        ...{ body: returnBody.meta({ examples: [lotExamples.return] }), response: moveOutcomes.return },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'return', ...request.params, body: request.body }),
  );
  rest.post(
    '/v1/lots/:maker/:number/counts',
    {
      config,
      schema: {
        ...{ ...ofLot, operationId: 'recordCount', summary: 'What a count of a lot found in a shop' },
        description:
          'What it finds beyond the balance of that time came in unrecorded, what it misses left unrecorded; earlier work that is recorded later is part of that.',
        ...{ body: countBody.meta({ examples: [lotExamples.count] }), response: moveOutcomes.count },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'count', ...request.params, body: request.body }),
  );
  rest.post(
    '/v1/restockings',
    {
      config,
      schema: {
        ...{
          ...posted,
          operationId: 'recordRestocking',
          summary: 'A part that was taken out of a unit, back in stock',
        },
        ...{ body: restockingBody.meta({ examples: [lotExamples.restocking] }), response: restockingOutcomes },
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'restocking', body: request.body }),
  );
}

const balancesThen =
  'With "performed" of what had been done by then, with "known" of what was known then, with the lot as it was stated then; a page of lots may then hold fewer than were asked for.';

function reads(app: App, rest: Rest): void {
  const lists = [
    ['/v1/lots/:maker/:number/intakes', 'intake', 'listIntakes', 'Intakes of a lot'],
    ['/v1/lots/:maker/:number/moves', null, 'listMoves', 'All that came into a lot, or left it otherwise than by use'],
  ] as const;
  for (const [path, what, operationId, summary] of lists) {
    const schema = { operationId, summary, tags: ['stock'], params, querystring: z.strictObject(pageQuery) };
    rest.get(path, { schema: { ...schema, response: { 200: movePage } } }, async (request) => {
      const { first, after = null } = request.query;
      return await listMoves(app, askerOf(request), request.params, what, { first, after });
    });
  }
  rest.get(
    '/v1/lots/:maker/:number',
    {
      schema: {
        ...{ operationId: 'readLot', summary: 'A lot, and how it stands at each shop', tags: ['stock'] },
        ...{ params, description: balancesThen, response: { 200: lotAnswer } },
        querystring: z.strictObject({ ...performedQuery, ...knownQuery }),
      },
    },
    async (request) => {
      const until = { performed: lastOf(request.query.performed), known: lastOf(request.query.known) };
      const isNow = until.performed === null && until.known === null;
      return await readLotBalances(app, askerOf(request), request.params, isNow ? null : until);
    },
  );
  rest.get(
    '/v1/stock',
    {
      schema: {
        ...{ operationId: 'listStock', summary: 'How every lot stands at a shop', tags: ['stock'] },
        ...{ querystring: z.strictObject({ shop: ownIdParam, ...performedQuery, ...knownQuery, ...pageQuery }) },
        ...{ description: balancesThen, response: { 200: stockAtPage } },
      },
    },
    async (request) => {
      const { shop, performed, known, first, after = null } = request.query;
      const asked = { shop, performed: lastOf(performed), known: lastOf(known) };
      return await readStockAt(app, askerOf(request), asked, { first, after });
    },
  );
}
