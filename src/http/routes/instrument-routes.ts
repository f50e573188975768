/** Instruments over time: calibrations, interim checks, incidents; how one stands, and which are due. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { listDueInstruments, readInstrument } from '../../app/read-instrument.ts';
import {
  calibrationBody,
  incidentBody,
  instrumentVoidBody,
  interimCheckBody,
} from '../../core/records/instrument-bodies.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { atQuery, checkQuery, instantIn, ownIdParam, pageQuery, postFact } from './answers.ts';
import { knownQuery, lastOf } from './common-shapes.ts';
import { instrumentExamples } from './instrument-examples.ts';
import {
  dueInstrumentsPage,
  instrumentAnswer,
  instrumentEventChecked,
  instrumentEventOutcome,
  instrumentVoidChecked,
  instrumentVoidOutcome,
} from './instrument-shapes.ts';

const params = z.strictObject({ id: ownIdParam });

export function instrumentRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('stock:write', (scope) => postEvents(app, scope)));
    rest.register(withScope('stock:write', (scope) => postVoids(app, scope)));
    rest.register(withScope(['record:read', 'stock:write'], (scope) => readInstruments(app, scope)));
  };
}

function postEvents(app: App, rest: Rest): void {
  const config = { idempotencyKey: true } as const;
  const schema = (operationId: string, summary: string) => ({
    operationId,
    summary,
    description:
      'Every record that names the instrument is judged again by what is known then, in the order of the work: GET /v1/judgements?cause= lists what came out otherwise.',
    tags: ['stock'],
    params,
    querystring: checkQuery,
    response: { 200: instrumentEventChecked, 201: instrumentEventOutcome },
  });
  rest.post(
    '/v1/instruments/:id/calibrations',
    {
      config,
      schema: {
        ...schema('calibrateInstrument', 'State a calibration: how far off the instrument was found and left'),
        body: calibrationBody.meta({ examples: [instrumentExamples.calibration] }),
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'calibration', instrument: request.params.id, body: request.body }),
  );
  rest.post(
    '/v1/instruments/:id/checks',
    {
      config,
      schema: {
        ...schema('checkInstrument', "State an interim check on the shop's own checker"),
        body: interimCheckBody.meta({ examples: [instrumentExamples.interimCheck] }),
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'interim-check', instrument: request.params.id, body: request.body }),
  );
  rest.post(
    '/v1/instruments/:id/incidents',
    {
      config,
      schema: {
        ...schema('reportIncident', 'State that an instrument was dropped, overloaded, adjusted or repaired'),
        body: incidentBody.meta({ examples: [instrumentExamples.incident] }),
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'incident', instrument: request.params.id, body: request.body }),
  );
}

function postVoids(app: App, rest: Rest): void {
  rest.post(
    '/v1/instruments/:id/voids',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'voidInstrumentEvent',
        summary: 'Say that a calibration, check or incident was a mistake',
        description:
          'It stays readable and counts no more; what is true is stated anew under a reference of its own. Every record that names the instrument is judged again: GET /v1/judgements?cause= lists what came out otherwise.',
        tags: ['stock'],
        params,
        querystring: checkQuery,
        body: instrumentVoidBody.meta({ examples: [instrumentExamples.void] }),
        response: { 200: instrumentVoidChecked, 201: instrumentVoidOutcome },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, {
        ...{ kind: 'instrument-void', instrument: request.params.id, body: request.body },
      }),
  );
}

function readInstruments(app: App, rest: Rest): void {
  rest.get(
    '/v1/instruments/:id',
    {
      schema: {
        operationId: 'readInstrument',
        summary: 'An instrument with its calibrations, checks and incidents, and how it stands',
        tags: ['stock'],
        params,
        description:
          'With "known" what was known of it then, and as it was stated then; "at" is the time for which it is asked.',
        querystring: z.strictObject({ ...atQuery, ...knownQuery }),
        response: { 200: instrumentAnswer },
      },
    },
    async (request) =>
      await readInstrument(app, askerOf(request), request.params.id, {
        at: instantIn(request.query),
        known: lastOf(request.query.known),
      }),
  );
  rest.get(
    '/v1/calibrations',
    {
      schema: {
        operationId: 'listDueInstruments',
        summary: 'Instruments whose calibration is due or not known, or that are under suspicion, by days left',
        tags: ['stock'],
        querystring: z.strictObject({
          within: z.coerce.number().int().min(0).max(3660).default(60).describe('Days'),
          ...atQuery,
          ...knownQuery,
          ...pageQuery,
        }),
        response: { 200: dueInstrumentsPage },
      },
    },
    async (request) => {
      const { within, known, first, after = null } = request.query;
      return await listDueInstruments(
        app,
        askerOf(request),
        { within, at: instantIn(request.query), known: lastOf(known) },
        { first, after },
      );
    },
  );
}
