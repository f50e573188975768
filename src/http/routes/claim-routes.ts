/** Claims under warranty: raised and supported by distributors, decided by the maker's people under their terms. */
import { z } from 'zod';
import { askClaimDecision, askTerms } from '../../app/ask-claim.ts';
import type { App } from '../../app/context.ts';
import { listClaims } from '../../app/list-claims.ts';
import { readClaim } from '../../app/read-claim.ts';
import { readClaimTrace } from '../../app/read-claim-trace.ts';
import { readTerms } from '../../app/read-terms.ts';
import { claimBody, claimEvidenceBody, claimedParts } from '../../core/claims/claim-body.ts';
import { claimDecisionBody } from '../../core/claims/decision-body.ts';
import { claimStatuses } from '../../core/claims/status.ts';
import { termsBody } from '../../core/claims/terms-body.ts';
import { lotNamed } from '../../core/records/lot-name.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { languageQuery, orAsPage, unitsQuery } from '../preferences.ts';
import { sendTrace } from '../send-trace.ts';
import { checkQuery, inUnits, noQuery, pageQuery, postFact, putFact, slugParam } from './answers.ts';
import { claimExamples } from './claim-examples.ts';
import {
  claimAnswer,
  claimChecked,
  claimDecisionChecked,
  claimDecisionOutcome,
  claimOutcome,
  claimPage,
  evidenceChecked,
  evidenceOutcome,
  termsAnswer,
  termsOutcome,
} from './claim-shapes.ts';
import { described } from './common-shapes.ts';
import { claimTraceAnswer } from './trace-shapes.ts';

const ofClaim = z.strictObject({ id: z.uuid().toLowerCase() });
const ofTerms = z.strictObject({ maker: slugParam, id: slugParam });
const config = { idempotencyKey: true } as const;
const tags = ['warranty'];

export function claimRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('record:write', (scope) => claim(app, scope)));
    rest.register(withScope('warranty:decide', (scope) => decide(app, scope)));
    rest.register(withScope(['record:read', 'warranty:read'], (scope) => read(app, scope)));
    rest.register(withScope(['record:read', 'warranty:read', 'warranty:decide'], (scope) => terms(app, scope)));
  };
}

function claim(app: App, rest: Rest): void {
  rest.post(
    '/v1/claims',
    {
      config,
      schema: {
        operationId: 'raiseClaim',
        summary: 'Claim under warranty for one unit',
        description: [
          'Refused is only what can not be read or contradicts itself; what is not known may say so.',
          'A claim changes nothing of the unit. It is read by its distributor and by the people of the maker, free text too.',
          'One that was wrong is corrected by another that says `replaces`.',
        ].join(' '),
        ...{ tags, querystring: checkQuery, body: claimBody.meta({ examples: [claimExamples.claim] }) },
        response: { 200: claimChecked, 201: claimOutcome },
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'claim', body: request.body }),
  );
  rest.post(
    '/v1/claims/:id/evidence',
    {
      config,
      schema: {
        operationId: 'addClaimEvidence',
        summary: 'Say what came to light about an own claim',
        description: 'A claim that was decided is open again: the decision was made without this.',
        ...{ tags, params: ofClaim, querystring: checkQuery },
        body: claimEvidenceBody.meta({ examples: [claimExamples.evidence] }),
        response: { 200: evidenceChecked, 201: evidenceOutcome },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'claim-evidence', claim: request.params.id, body: request.body }),
  );
}

function decide(app: App, rest: Rest): void {
  rest.post(
    '/v1/claims/:id/decisions',
    {
      config,
      schema: {
        operationId: 'decideClaim',
        summary: 'Decide about a claim',
        description: "For the maker's people. The distributor reads the decision with its claim.",
        ...{ tags, params: ofClaim, querystring: checkQuery },
        body: claimDecisionBody.meta({ examples: [claimExamples.decision] }),
        response: { 200: claimDecisionChecked, 201: claimDecisionOutcome },
      },
    },
    async (request, reply) =>
      await postFact(
        app,
        request,
        reply,
        await askClaimDecision(app, askerOf(request), request.params.id, request.body),
      ),
  );
  rest.put(
    '/v1/terms/:maker/:id',
    {
      schema: {
        operationId: 'stateTerms',
        summary: 'State terms of warranty',
        description:
          "For the maker's people. Each statement is a version; the same again changes nothing. Of versions that are valid at one time the latest counts.",
        ...{ tags, params: ofTerms, querystring: noQuery },
        body: termsBody.meta({ examples: [claimExamples.terms] }),
        response: { 200: termsOutcome, 201: termsOutcome },
      },
    },
    async (request, reply) => {
      const { maker, id } = request.params;
      return await putFact(app, request, reply, askTerms(askerOf(request), maker, id, request.body));
    },
  );
}

function read(app: App, rest: Rest): void {
  rest.get(
    '/v1/claims',
    {
      schema: {
        operationId: 'listClaims',
        summary: 'Claims, and how they stand',
        description: 'A distributor sees its own, the people of a maker all of its make.',
        tags,
        querystring: z.strictObject({
          unit: z
            .string()
            .regex(/^[a-z0-9][a-z0-9.-]*\/.+$/, { error: 'name the unit as MAKER/SERIAL' })
            .optional(),
          status: z.enum(claimStatuses).optional(),
          part: z.enum(claimedParts).optional(),
          from: exactTimeSchema.optional().describe('Failed then or later'),
          to: exactTimeSchema.optional().describe('Failed before'),
          ...pageQuery,
        }),
        response: { 200: claimPage },
      },
    },
    async (request) => {
      const { first, after = null, unit, status, part, from, to } = request.query;
      const { maker, number } = lotNamed(unit ?? '');
      const asked = {
        ...(unit !== undefined && { unit: { maker, name: number } }),
        ...(status !== undefined && { status }),
        ...(part !== undefined && { part }),
        ...(from !== undefined && { from: parseTime(from).from }),
        ...(to !== undefined && { to: parseTime(to).from }),
      };
      return await listClaims(app, askerOf(request), asked, { first, after });
    },
  );
  rest.get(
    '/v1/claims/:id',
    {
      schema: {
        operationId: 'readClaim',
        summary: 'A claim with its evidence, decisions and coverage',
        description: 'Coverage is computed from the terms that are stated, and explained; it decides nothing.',
        ...{ tags, params: ofClaim },
        querystring: z.strictObject({
          known: exactTimeSchema.optional().describe('As it was known then; left out: as now'),
          ...unitsQuery,
        }),
        response: { 200: described<object>(claimAnswer) },
      },
    },
    async (request) => {
      const { known } = request.query;
      const at = known === undefined ? null : parseTime(known).from;
      return inUnits(request, await readClaim(app, askerOf(request), request.params.id, at));
    },
  );
  rest.get(
    '/v1/claims/:id/trace',
    {
      schema: {
        operationId: 'traceClaim',
        summary: 'What was in a claimed unit on the day it failed, and what of that bears on the claim',
        description: `What the teardown found and what was seen stand beside it. It decides nothing, and blames nobody. ${orAsPage}`,
        ...{ tags, params: ofClaim },
        querystring: z.strictObject({
          known: exactTimeSchema.optional().describe('By what was known then; left out: by all that is known'),
          ...languageQuery,
          ...unitsQuery,
        }),
        response: { 200: described<object>(claimTraceAnswer) },
      },
    },
    async (request, reply) => {
      const { known } = request.query;
      const at = known === undefined ? null : parseTime(known).from;
      const { maker, ...trace } = await readClaimTrace(app, askerOf(request), request.params.id, at);
      return await sendTrace(app, request, reply, trace, maker);
    },
  );
}

function terms(app: App, rest: Rest): void {
  rest.get(
    '/v1/terms/:maker/:id',
    {
      schema: {
        operationId: 'readTerms',
        summary: 'Terms of warranty, every version',
        ...{ tags, params: ofTerms, querystring: noQuery, response: { 200: described<object>(termsAnswer) } },
      },
    },
    async (request) => await readTerms(app, askerOf(request), request.params.maker, request.params.id),
  );
}
