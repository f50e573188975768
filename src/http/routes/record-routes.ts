/** Records of bench work, dispositions; and reading one. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { listJudgements } from '../../app/list-judgements.ts';
import { listAttempts } from '../../app/list-own.ts';
import { editionNamed } from '../../app/read-edition.ts';
import { readRecord, readRecordKnown } from '../../app/read-record.ts';
import {
  adjustmentBody,
  conversionBody,
  correctionBody,
  identityBody,
  inspectionBody,
  mountingBody,
  repairBody,
  testBody,
} from '../../core/records/bodies.ts';
import { dispositionBody } from '../../core/records/disposition-body.ts';
import { parseTime } from '../../core/time/instant.ts';
import { recordPage } from '../../pages/record-page.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { languageQuery, languagesWanted, orAsPage, unitsQuery, unitsWanted, wantsPage } from '../preferences.ts';
import { sendPage } from '../send-page.ts';
import { checkQuery, inUnits, pageQuery, postFact } from './answers.ts';
import { knownQuery, lastOf } from './common-shapes.ts';
import { examples } from './examples.ts';
import { judgementPage } from './judgement-shapes.ts';
import {
  attemptPage,
  correctionChecked,
  correctionOutcome,
  dispositionChecked,
  dispositionOutcome,
  identityChecked,
  identityOutcome,
  recordAnswer,
  recordChecked,
  recordOutcome,
} from './record-shapes.ts';

/** In the spelling in which ids are kept and compared. */
const recordId = z.strictObject({ id: z.uuid().toLowerCase() });

export function recordRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('record:write', (scope) => postRecords(app, scope)));
    rest.register(withScope('record:write', (scope) => postCorrection(app, scope)));
    rest.register(withScope('record:write', (scope) => postIdentity(app, scope)));
    rest.register(withScope('disposition:write', (scope) => postDisposition(app, scope)));
    rest.register(withScope(['record:read', 'warranty:read'], (scope) => readRecords(app, scope)));
    rest.register(withScope('record:read', (scope) => readAttempts(app, scope)));
    rest.register(withScope(['record:read', 'warranty:read'], (scope) => readJudgements(app, scope)));
  };
}

function postRecords(app: App, rest: Rest): void {
  const config = { idempotencyKey: true } as const;
  const response = { 200: recordChecked, 201: recordOutcome };
  const schema = (operationId: string, summary: string) => ({
    operationId,
    summary,
    tags: ['records'],
    querystring: checkQuery,
    response,
  });
  rest.post(
    '/v1/conversions',
    {
      config,
      schema: {
        ...schema('recordConversion', 'Record a completed conversion'),
        body: conversionBody.meta({ examples: [examples.conversion] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'conversion', body: request.body }),
  );
  rest.post(
    '/v1/mountings',
    {
      config,
      schema: {
        ...schema('recordMounting', 'Record a control put on a pump or taken off it'),
        body: mountingBody.meta({ examples: [examples.mounting] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'mounting', body: request.body }),
  );
  rest.post(
    '/v1/adjustments',
    {
      config,
      schema: {
        ...schema('recordAdjustment', 'Record settings, and torques, seals and checks made good'),
        body: adjustmentBody.meta({ examples: [examples.adjustment] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'adjustment', body: request.body }),
  );
  rest.post(
    '/v1/repairs',
    {
      config,
      schema: {
        ...schema('recordRepair', 'Record parts renewed, and joints closed again'),
        body: repairBody.meta({ examples: [examples.repair] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'repair', body: request.body }),
  );
  rest.post(
    '/v1/tests',
    {
      config,
      schema: {
        ...schema('recordTest', 'Record a test: measurements, settings and checks'),
        body: testBody.meta({ examples: [examples.test] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'test', body: request.body }),
  );
  rest.post(
    '/v1/inspections',
    {
      config,
      schema: {
        ...schema('recordInspection', 'Record what was found'),
        body: inspectionBody.meta({ examples: [examples.inspection] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'inspection', body: request.body }),
  );
}

function postDisposition(app: App, rest: Rest): void {
  rest.post(
    '/v1/records/:id/dispositions',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'decideDisposition',
        summary: 'Decide about a record that holds its unit',
        tags: ['records'],
        params: recordId,
        querystring: checkQuery,
        body: dispositionBody.meta({ examples: [examples.disposition] }),
        response: { 200: dispositionChecked, 201: dispositionOutcome },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'disposition', record: request.params.id, body: request.body }),
  );
}

function postIdentity(app: App, rest: Rest): void {
  rest.post(
    '/v1/identities',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'recordIdentity',
        summary:
          'Say which unit is which: new plates and tags, wrong plates, exchanged controls, two units that are one',
        tags: ['records'],
        querystring: checkQuery,
        body: identityBody.meta({ examples: [examples.identity] }),
        response: { 200: identityChecked, 201: identityOutcome },
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'identity', body: request.body }),
  );
}

function postCorrection(app: App, rest: Rest): void {
  rest.post(
    '/v1/records/:id/corrections',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'correctRecord',
        summary: 'Replace a record by what it should have said, or make it void',
        tags: ['records'],
        params: recordId,
        querystring: checkQuery,
        body: correctionBody.meta({ examples: [examples.correction] }),
        response: { 200: correctionChecked, 201: correctionOutcome },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'correction', record: request.params.id, body: request.body }),
  );
}

function readRecords(app: App, rest: Rest): void {
  rest.get(
    '/v1/records/:id',
    {
      schema: {
        operationId: 'readRecord',
        summary: 'One record whole',
        description: `${orAsPage} With "known": the corrections and later judgements that there were then, and what was open; a record that was not there yet is not found. "performed" is its own.`,
        tags: ['records'],
        params: recordId,
        querystring: z.strictObject({ ...knownQuery, ...languageQuery, ...unitsQuery }),
        response: { 200: recordAnswer },
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      const { known } = request.query;
      const record =
        known === undefined
          ? await readRecord(app, askerOf(request), id)
          : await readRecordKnown(app, askerOf(request), id, parseTime(known).to);
      reply.header('vary', 'Accept, Accept-Language');
      if (!wantsPage(request)) return inUnits(request, record);
      const { maker, edition: named } = record;
      const edition = maker === null || named === null ? null : await editionNamed(app, maker, named);
      return sendPage(
        reply,
        recordPage(record, { edition, languages: languagesWanted(request), units: unitsWanted(request) }),
      );
    },
  );
}

function readAttempts(app: App, rest: Rest): void {
  rest.get(
    '/v1/attempts',
    {
      schema: {
        operationId: 'listAttempts',
        summary: 'Refused bodies with their findings',
        tags: ['records'],
        querystring: z.strictObject(pageQuery),
        response: { 200: attemptPage },
      },
    },
    async (request) =>
      await listAttempts(app, askerOf(request), { first: request.query.first, after: request.query.after ?? null }),
  );
}

function readJudgements(app: App, rest: Rest): void {
  rest.get(
    '/v1/judgements',
    {
      schema: {
        operationId: 'listJudgements',
        summary: 'Which records a later fact has judged otherwise, on which units, and how',
        description:
          'A correction, a calibration, an intake or an authorisation changes what other records are judged by. Each that comes out otherwise is judged again by a fact that names its cause; the record and its first judgement stay as they are. With "known" those that had been given then, with the units as they were known; "performed" is of the work and not asked here.',
        tags: ['records'],
        querystring: z.strictObject({
          cause: z.uuid().toLowerCase().describe('The fact that changed it'),
          ...knownQuery,
          ...pageQuery,
        }),
        response: { 200: judgementPage },
      },
    },
    async (request) => {
      const { cause, known, first, after = null } = request.query;
      return await listJudgements(app, askerOf(request), { cause, known: lastOf(known) }, { first, after });
    },
  );
}
