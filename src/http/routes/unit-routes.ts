/** Pumps and controls: registering, reading, their history, and job sheets. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { planConversionOf, planMountingOf } from '../../app/plan-job.ts';
import { reachLot } from '../../app/reach-lot.ts';
import { orders, readHistory } from '../../app/read-history.ts';
import { readUnit } from '../../app/read-unit.ts';
import { id, place, rotation } from '../../core/catalogue/edition.ts';
import type { UnitKind } from '../../core/history/event.ts';
import { controlRegistration, pumpRegistration } from '../../core/records/bodies.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { nameParam, noQuery, pageQuery, putFact, slugParam } from './answers.ts';
import { described } from './common-shapes.ts';
import { examples } from './examples.ts';
import { controlRegistered, pumpRegistered } from './record-shapes.ts';
import { sheetAnswer } from './sheet-shapes.ts';
import { controlAnswer, historyAnswer, pumpAnswer, reachPage } from './unit-shapes.ts';

const unitParams = z.strictObject({ maker: slugParam, serial: nameParam });
const kinds = [
  { kind: 'pump', path: '/v1/pumps/:maker/:serial' },
  { kind: 'control', path: '/v1/controls/:maker/:serial' },
] as const;

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
  for (const { kind, path } of kinds) readingOf(app, rest, kind, path);
  rest.get(
    '/v1/reach',
    {
      schema: {
        operationId: 'reachOfLot',
        summary: 'The units that parts of a lot went into',
        tags: ['units'],
        querystring: z.strictObject({ lot: lotQuery, ...pageQuery }),
        response: { 200: reachPage },
      },
    },
    async (request) => {
      const { query } = request;
      const at = query.lot.indexOf('/');
      const lot = { maker: query.lot.slice(0, at), number: query.lot.slice(at + 1) };
      return await reachLot(app, askerOf(request), lot, { first: query.first, after: query.after ?? null });
    },
  );
}

const lotQuery = z.string().regex(/^[a-z0-9][a-z0-9.-]*\/.+$/, { error: 'name the lot as MAKER/NUMBER' });

function readingOf(app: App, rest: Rest, kind: UnitKind, path: string): void {
  rest.get(
    path,
    {
      schema: {
        operationId: kind === 'pump' ? 'readPump' : 'readControl',
        summary: `A ${kind} as it is now`,
        tags: ['units'],
        params: unitParams,
        querystring: noQuery,
        response: { 200: described<object>(kind === 'pump' ? pumpAnswer : controlAnswer) },
      },
    },
    async (request) => {
      const { maker, serial } = request.params;
      const { unit, partner } = await readUnit(app, askerOf(request), { kind, maker, name: serial });
      return kind === 'pump' ? { pump: unit, control: partner } : { control: unit, pump: partner };
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
          performed: exactTimeSchema.optional(),
          known: exactTimeSchema.optional(),
          order: z.enum(orders).default('oldest').describe('Which end of the work is listed first'),
          ...pageQuery,
        }),
        response: { 200: historyAnswer },
      },
    },
    async (request) => {
      const { maker, serial } = request.params;
      const { performed, known, order, first, after } = request.query;
      return await readHistory(app, askerOf(request), {
        kind,
        maker,
        name: serial,
        performed: performed === undefined ? null : parseTime(performed).to,
        known: known === undefined ? null : parseTime(known).to,
        order,
        first,
        after: after ?? null,
      });
    },
  );
}

function jobSheets(app: App, rest: Rest): void {
  const query = z.strictObject({
    function: id,
    choice: z
      .union([choiceQuery(), z.array(choiceQuery()).max(50)])
      .optional()
      .describe('STATION:ELEMENT, once or several times'),
    size: id.optional(),
    rotation: rotation.optional(),
    edition: id.optional(),
  });
  for (const { kind, path } of kinds) {
    rest.get(
      `${path}/job-sheet`,
      {
        schema: {
          operationId: kind === 'pump' ? 'planConversionOnPump' : 'planConversion',
          summary: `What a conversion of this ${kind === 'pump' ? "pump's control" : 'control'} takes`,
          tags: ['units'],
          params: unitParams,
          querystring: query,
          response: { 200: described<{ sheet: string }>(sheetAnswer) },
        },
      },
      async (request) => {
        const { maker, serial } = request.params;
        const { choice = [], size = null, rotation: turns = null, edition = null, function: fun } = request.query;
        const choices = Object.fromEntries([choice].flat().map((one) => one.split(':') as [string, string]));
        return await planConversionOf(app, askerOf(request), {
          kind,
          maker,
          name: serial,
          function: fun,
          choices,
          size,
          rotation: turns,
          edition,
        });
      },
    );
  }
  rest.get(
    '/v1/controls/:maker/:serial/mounting-sheet',
    {
      schema: {
        operationId: 'planMounting',
        summary: 'What mounting this control on a pump takes',
        tags: ['units'],
        params: unitParams,
        querystring: z.strictObject({
          pump: z.string().regex(/^[a-z0-9][a-z0-9.-]*\/.+$/, { error: 'name the pump as MAKER/SERIAL' }),
          edition: id.optional(),
        }),
        response: { 200: described<{ sheet: string }>(sheetAnswer) },
      },
    },
    async (request) => {
      const { maker, serial } = request.params;
      const { pump, edition = null } = request.query;
      const at = pump.indexOf('/');
      return await planMountingOf(app, askerOf(request), {
        kind: 'control',
        maker,
        name: serial,
        pump: { maker: pump.slice(0, at), name: pump.slice(at + 1) },
        edition,
      });
    },
  );
}

function choiceQuery() {
  return z.string().refine((text) => {
    const [station, element, ...more] = text.split(':');
    return more.length === 0 && place.safeParse(station).success && id.safeParse(element).success;
  }, 'write STATION:ELEMENT');
}
