/** Pumps and controls: registering, reading, their history. Their job sheets are in `sheet-routes.ts`. */

import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { orders, readHistory } from '../../app/read-history.ts';
import { readTrace } from '../../app/read-trace.ts';
import { readUnit } from '../../app/read-unit.ts';
import { readUnitThen } from '../../app/read-unit-then.ts';
import type { UnitKind } from '../../core/history/event.ts';
import { controlRegistration, pumpRegistration } from '../../core/records/bodies.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { languageQuery, orAsPage, unitsQuery } from '../preferences.ts';
import { sendTrace } from '../send-trace.ts';
import { inUnits, noQuery, pageQuery, putFact, unitKinds, unitParams } from './answers.ts';
import { described, knownQuery, lastOf, performedQuery } from './common-shapes.ts';
import { examples } from './examples.ts';
import { controlRegistered, pumpRegistered } from './record-shapes.ts';
import { jobSheets } from './sheet-routes.ts';
import { traceAnswer } from './trace-shapes.ts';
import { controlAnswer, historyAnswer, pumpAnswer } from './unit-shapes.ts';

export function unitRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('record:write', (scope) => register(app, scope)));
    rest.register(withScope('record:write', (scope) => jobSheets(app, scope)));
    rest.register(withScope(['record:read', 'warranty:read'], (scope) => reading(app, scope)));
  };
}

function register(app: App, rest: Rest): void {
  rest.put(
    '/v1/pumps/:maker/:serial',
    {
      schema: {
        operationId: 'registerPump',
        summary: 'Register a pump and what is on it',
        tags: ['units'],
        params: unitParams,
        querystring: noQuery,
        body: pumpRegistration.meta({ examples: [examples.pump] }),
        response: { 200: pumpRegistered, 201: pumpRegistered },
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, { kind: 'registration', of: 'pump', ...request.params, body: request.body }),
  );
  rest.put(
    '/v1/controls/:maker/:serial',
    {
      schema: {
        operationId: 'registerControl',
        summary: 'Register a control in stock',
        tags: ['units'],
        params: unitParams,
        querystring: noQuery,
        body: controlRegistration.meta({ examples: [examples.control] }),
        response: { 200: controlRegistered, 201: controlRegistered },
      },
    },
    async (request, reply) =>
      await putFact(app, request, reply, {
        kind: 'registration',
        of: 'control',
        ...request.params,
        body: request.body,
      }),
  );
}

function reading(app: App, rest: Rest): void {
  for (const { kind, path } of unitKinds) readingOf(app, rest, kind, path);
}

function readingOf(app: App, rest: Rest, kind: UnitKind, path: string): void {
  rest.get(
    path,
    {
      schema: {
        operationId: kind === 'pump' ? 'readPump' : 'readControl',
        summary: `A ${kind} as it is now, or as at "performed", as known at "known"`,
        description:
          'Past states are for those who have recorded work on the unit, and for its maker. Names are those that it has now.',
        tags: ['units'],
        params: unitParams,
        querystring: z.strictObject({ ...performedQuery, ...knownQuery, ...unitsQuery }),
        response: { 200: described<object>(kind === 'pump' ? pumpAnswer : controlAnswer) },
      },
    },
    async (request) => {
      const { maker, serial } = request.params;
      const { performed, known } = request.query;
      const path = { kind, maker, name: serial };
      const asker = askerOf(request);
      const { unit, partner, ...then } =
        performed === undefined && known === undefined
          ? await readUnit(app, asker, path)
          : await readUnitThen(app, asker, path, { performed: lastOf(performed), known: lastOf(known) });
      const units = kind === 'pump' ? { pump: unit, control: partner } : { control: unit, pump: partner };
      return inUnits(request, { ...units, ...then });
    },
  );
  rest.get(
    `${path}/history`,
    {
      schema: {
        operationId: kind === 'pump' ? 'readPumpHistory' : 'readControlHistory',
        summary: `A ${kind} as at "performed", as known at "known", with its records`,
        tags: ['units'],
        params: unitParams,
        querystring: z.strictObject({
          ...performedQuery,
          ...knownQuery,
          order: z.enum(orders).default('oldest').describe('Which end of the work is listed first'),
          ...pageQuery,
          ...unitsQuery,
        }),
        response: { 200: historyAnswer },
      },
    },
    async (request) => {
      const { maker, serial } = request.params;
      const { performed, known, order, first, after } = request.query;
      const history = await readHistory(app, askerOf(request), {
        kind,
        maker,
        name: serial,
        performed: lastOf(performed),
        known: lastOf(known),
        order,
        first,
        after: after ?? null,
      });
      return inUnits(request, history);
    },
  );
  rest.get(
    `${path}/trace`,
    {
      schema: {
        operationId: kind === 'pump' ? 'tracePump' : 'traceControl',
        summary: `What was in a ${kind} on a day, where it came from, and what of that bears on a claim`,
        tags: ['units'],
        params: unitParams,
        description: orAsPage,
        querystring: z.strictObject({ ...performedQuery, ...knownQuery, ...languageQuery, ...unitsQuery }),
        response: { 200: described<object>(traceAnswer) },
      },
    },
    async (request, reply) => {
      const { maker, serial } = request.params;
      const { performed, known } = request.query;
      const asked = { kind, maker, name: serial, performed: lastOf(performed), known: lastOf(known) };
      return await sendTrace(app, request, reply, await readTrace(app, askerOf(request), asked), maker);
    },
  );
}
