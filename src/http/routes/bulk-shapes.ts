/** Lines of a bulk upload and what they are answered with. */
import { z } from 'zod';
import { lineKindNames } from '../bulk/line-kinds.ts';
import { problemSchema } from '../problems.ts';
import { nameParam, ownIdParam, slugParam, unitParams } from './answers.ts';
import { finding, list, status, uuid } from './common-shapes.ts';
import { examples } from './examples.ts';
import { receipt } from './record-shapes.ts';

/** As described; what a line of its kind must have exactly is in its own schema. */
export const bulkLine = z
  .strictObject({
    key: z
      .string()
      .regex(/^[!-~]{1,255}$/)
      .optional()
      .meta({ description: 'As the header Idempotency-Key; needed unless nothing is to be written' }),
    kind: z.enum(lineKindNames),
    id: ownIdParam.optional().meta({
      description:
        'Of a shop, technician or instrument, and of whom an authorisation is for; of an erasure the id of records',
    }),
    lot: z
      .strictObject({ maker: slugParam, number: nameParam })
      .optional()
      .meta({ description: 'Of a lot, and of what comes into it or leaves it' }),
    pump: unitParams.optional().meta({ description: 'Of a pump-registration' }),
    control: unitParams.optional().meta({ description: 'Of a control-registration' }),
    record: z
      .uuid()
      .optional()
      .meta({ description: 'Of a disposition or correction; of a withdrawal the authorisation' }),
    body: z.looseObject({}).meta({ description: 'The body that the route of this kind takes' }),
  })
  .meta({
    id: 'BulkLine',
    description: 'One line',
    examples: [{ key: 'card-4711', kind: 'conversion', body: examples.conversion }],
  });

export const lineOutcome = z
  .strictObject({
    line: z.int().min(1).meta({ description: 'The number of the line, counted from 1, empty lines too' }),
    key: z.string().optional(),
    kind: z.string().optional(),
    status: z.int().meta({ description: 'As the route of its kind would have answered' }),
    replayed: z.literal(true).optional().meta({ description: 'It was recorded before under this key' }),
    id: uuid.optional(),
    judged: status.optional().meta({ description: 'Of a record: as judged when it was recorded' }),
    findings: list(finding).optional().meta({ description: 'Pointers are into the line' }),
    receipt: receipt.optional(),
    problem: problemSchema.optional().meta({ description: 'Why nothing was recorded; pointers are into the line' }),
  })
  .meta({ id: 'LineOutcome', description: 'What became of one line' });
