/** Records of a unit's life off the bench: movements, start-ups, retirements. */
import type { App } from '../../app/context.ts';
import { movementBody, retirementBody, startUpBody } from '../../core/records/life-bodies.ts';
import { type Rest, type Routes, withScope } from '../access.ts';
import { checkQuery, postFact } from './answers.ts';
import { lifeExamples } from './life-examples.ts';
import { lifeChecked, lifeOutcome } from './record-shapes.ts';

export function lifeRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('record:write', (scope) => postLife(app, scope)));
  };
}

function postLife(app: App, rest: Rest): void {
  const config = { idempotencyKey: true } as const;
  const schema = (operationId: string, summary: string) => ({
    operationId,
    summary,
    tags: ['records'],
    querystring: checkQuery,
    response: { 200: lifeChecked, 201: lifeOutcome },
  });
  rest.post(
    '/v1/movements',
    {
      config,
      schema: {
        ...schema('recordMovement', 'Record that a unit came in, went out or got a tag'),
        body: movementBody.meta({ examples: [lifeExamples.movement] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'movement', body: request.body }),
  );
  rest.post(
    '/v1/start-ups',
    {
      config,
      schema: {
        ...schema('recordStartUp', 'Record that a unit runs in its machine, and what somebody has taken over'),
        body: startUpBody.meta({ examples: [lifeExamples.startUp] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'start-up', body: request.body }),
  );
  rest.post(
    '/v1/retirements',
    {
      config,
      schema: {
        ...schema('recordRetirement', 'Record that a unit is out of use for good'),
        body: retirementBody.meta({ examples: [lifeExamples.retirement] }),
      },
    },
    async (request, reply) => await postFact(app, request, reply, { kind: 'retirement', body: request.body }),
  );
}
