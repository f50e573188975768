/** Leave to work: what people are authorised for, and which shops their maker has approved. */
import { z } from 'zod';
import { askApproval, askApprovalWithdrawal } from '../../app/ask-approval.ts';
import type { App } from '../../app/context.ts';
import { listApprovals } from '../../app/list-approvals.ts';
import { listAuthorisations } from '../../app/list-authorisations.ts';
import { readTechnician } from '../../app/read-technician.ts';
import {
  approvalBody,
  approvalWithdrawalBody,
  authorisationBody,
  authorisationWithdrawalBody,
} from '../../core/records/leave-bodies.ts';
import { erasureBody } from '../../core/records/stock-bodies.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { atQuery, checkQuery, instantIn, ownIdParam, pageQuery, postFact } from './answers.ts';
import { leaveExamples } from './leave-examples.ts';
import {
  approvalChecked,
  approvalOutcome,
  approvalPage,
  approvalWithdrawalChecked,
  approvalWithdrawn,
  authorisationChecked,
  authorisationOutcome,
  authorisationWithdrawalChecked,
  authorisationWithdrawn,
  erasureChecked,
  erasureOutcome,
  runningOutPage,
  technicianAnswer,
} from './leave-shapes.ts';

const ofPerson = z.strictObject({ id: ownIdParam });
/** In the spelling in which ids are kept and compared. */
const ofFact = z.strictObject({ id: z.uuid().toLowerCase() });

export function leaveRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('stock:write', (scope) => authorise(app, scope)));
    rest.register(withScope('stock:write', (scope) => forget(app, scope)));
    rest.register(withScope(['record:read', 'stock:write'], (scope) => readPeople(app, scope)));
    rest.register(withScope('catalogue:publish', (scope) => approve(app, scope)));
    rest.register(
      withScope(['record:read', 'organisation:write', 'catalogue:publish', 'warranty:read'], (scope) =>
        readApprovals(app, scope),
      ),
    );
  };
}

function authorise(app: App, rest: Rest): void {
  rest.post(
    '/v1/technicians/:id/authorisations',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'authoriseTechnician',
        summary: 'Authorise a person for tasks, from a time on',
        description: 'Work that the person did in that time is judged again.',
        tags: ['people'],
        params: ofPerson,
        querystring: checkQuery,
        body: authorisationBody.meta({ examples: [leaveExamples.authorisation] }),
        response: { 200: authorisationChecked, 201: authorisationOutcome },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, {
        kind: 'authorisation',
        technician: request.params.id,
        body: request.body,
      }),
  );
  rest.post(
    '/v1/authorisations/:id/withdrawals',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'withdrawAuthorisation',
        summary: 'Withdraw an authorisation from a time on',
        description: 'Of several withdrawals the earliest counts. Work done after that time is judged again.',
        tags: ['people'],
        params: ofFact,
        querystring: checkQuery,
        body: authorisationWithdrawalBody.meta({ examples: [leaveExamples.authorisationWithdrawal] }),
        response: { 200: authorisationWithdrawalChecked, 201: authorisationWithdrawn },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, {
        kind: 'authorisation-withdrawal',
        authorisation: request.params.id,
        body: request.body,
      }),
  );
}

function forget(app: App, rest: Rest): void {
  rest.post(
    '/v1/technicians/:id/erasures',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'forgetTechnician',
        summary: 'Forget the name of a person, or everything but the id by which records name somebody',
        description: [
          'The id is that of the records (`technician` of GET /v1/technicians), because it stays: records, receipts and the log go on proving what they prove.',
          'Once everything is forgotten the shop may call another person by the same own id. Forgotten too are who gave the authorisations of the person and why they were withdrawn; the tie to a token subject is gone with it, so what is decided about old work of the person is independent of nobody for sure.',
          'Requests that named the person and are sent again with their keys are answered as other requests (key-reused). Notes of records and refused bodies are left as they are.',
        ].join(' '),
        tags: ['people'],
        params: ofFact,
        querystring: checkQuery,
        body: erasureBody.meta({ examples: [leaveExamples.erasure] }),
        response: { 200: erasureChecked, 201: erasureOutcome },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, { kind: 'erasure', person: request.params.id, body: request.body }),
  );
}

function readPeople(app: App, rest: Rest): void {
  rest.get(
    '/v1/technicians/:id',
    {
      schema: {
        operationId: 'readTechnician',
        summary: 'A person with the authorisations, and whether they are in force',
        description: "The id is the shop's own, or the one by which records name the person.",
        tags: ['people'],
        params: ofPerson,
        querystring: z.strictObject(atQuery),
        response: { 200: technicianAnswer },
      },
    },
    async (request) => await readTechnician(app, askerOf(request), request.params.id, instantIn(request.query)),
  );
  rest.get(
    '/v1/authorisations',
    {
      schema: {
        operationId: 'listAuthorisations',
        summary: 'Authorisations that run out, by days left',
        description:
          'Without those that were withdrawn, and those that another of the same person follows that is as wide and lasts longer.',
        tags: ['people'],
        querystring: z.strictObject({
          within: z.coerce.number().int().min(0).max(3660).default(60).describe('Days'),
          expired: z.enum(['true', 'false']).default('false').describe('Also those that are over, before all others'),
          ...atQuery,
          ...pageQuery,
        }),
        response: { 200: runningOutPage },
      },
    },
    async (request) => {
      const { within, expired, first, after = null } = request.query;
      const asked = { within, expired: expired === 'true', at: instantIn(request.query) };
      return await listAuthorisations(app, askerOf(request), asked, { first, after });
    },
  );
}

function approve(app: App, rest: Rest): void {
  rest.post(
    '/v1/approvals',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'approveShop',
        summary: "Approve a distributor's shop, from a time on",
        description: "For the maker's people. Work that the shop did in that time is judged again.",
        tags: ['people'],
        querystring: checkQuery,
        body: approvalBody.meta({ examples: [leaveExamples.approval] }),
        response: { 200: approvalChecked, 201: approvalOutcome },
      },
    },
    async (request, reply) =>
      await postFact(app, request, reply, await askApproval(app, askerOf(request), request.body)),
  );
  rest.post(
    '/v1/approvals/:id/withdrawals',
    {
      config: { idempotencyKey: true },
      schema: {
        operationId: 'withdrawApproval',
        summary: 'Withdraw the approval of a shop from a time on',
        description: 'Of several withdrawals the earliest counts. Work done after that time is judged again.',
        tags: ['people'],
        params: ofFact,
        querystring: checkQuery,
        body: approvalWithdrawalBody.meta({ examples: [leaveExamples.approvalWithdrawal] }),
        response: { 200: approvalWithdrawalChecked, 201: approvalWithdrawn },
      },
    },
    async (request, reply) =>
      await postFact(
        app,
        request,
        reply,
        await askApprovalWithdrawal(app, askerOf(request), request.params.id, request.body),
      ),
  );
}

function readApprovals(app: App, rest: Rest): void {
  rest.get(
    '/v1/approvals',
    {
      schema: {
        operationId: 'listApprovals',
        summary: 'Shops that a maker has approved',
        description: "The maker's people see all of theirs, a distributor those of its own shops.",
        tags: ['people'],
        querystring: z.strictObject({ ...atQuery, ...pageQuery }),
        response: { 200: approvalPage },
      },
    },
    async (request) => {
      const { first, after = null } = request.query;
      return await listApprovals(app, askerOf(request), instantIn(request.query), { first, after });
    },
  );
}
