/** What is held and what is due at a distributor: by shop, rule and age. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { listHeld } from '../../app/list-held.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { ownIdParam, pageQuery, slugParam } from './answers.ts';
import { interval, openFinding, pageOf, unitName, uuid } from './common-shapes.ts';

const query = z.strictObject({
  shop: ownIdParam.optional().describe('Where the record was made'),
  rule: slugParam.optional().describe('The id of a rule'),
  days: z.coerce.number().int().min(0).max(36_500).optional().describe('Whose work ended at least so many days ago'),
  ...pageQuery,
});

const { fact: _, ...finding } = openFinding.shape;
const standing = z
  .strictObject({
    id: z.string().meta({ description: 'Of the place in this list' }),
    unit: z.strictObject({ unit: uuid, kind: z.enum(['pump', 'control']).nullable(), name: unitName }),
    record: uuid.meta({ description: 'The record that opened it' }),
    kind: z.string().meta({ description: 'Of the record' }),
    reference: z.string().nullable(),
    shop: z.string().nullable(),
    performed: interval,
    ageDays: z.number().meta({ type: 'integer', description: 'Whole days since the work ended' }),
    ...finding,
  })
  .meta({ id: 'Standing', description: 'A finding that stands, with the unit and the record that it is about' });
const page = pageOf(standing, 'Those of the oldest record first');

export function heldRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('record:read', (scope) => getStanding(app, scope)));
  };
}

function getStanding(app: App, rest: Rest): void {
  for (const { path, severity: of, operationId, summary } of lists) {
    rest.get(
      path,
      {
        schema: {
          ...{ operationId, summary, tags: ['records'], querystring: query, response: { 200: page } },
          description: "Of the distributor's own records. What somebody else has taken over is not among it.",
        },
      },
      async (request) => {
        const { shop, rule: named, days, first, after = null } = request.query;
        const sought = {
          severity: of,
          ...(shop !== undefined && { shop }),
          ...(named !== undefined && { rule: named }),
          ...(days !== undefined && { olderThanDays: days }),
        };
        return await listHeld(app, askerOf(request), sought, { first, after });
      },
    );
  }
}

const lists = [
  { path: '/v1/held', severity: 'hold', operationId: 'listHeld', summary: 'What holds units, and what would clear it' },
  {
    path: '/v1/due',
    severity: 'due',
    operationId: 'listDue',
    summary: 'What is due on units, and what would clear it',
  },
] as const;
