/** Editions of a maker's catalogue: published once, read by everybody with a token. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { readEdition } from '../../app/read-edition.ts';
import { checkEdition } from '../../core/catalogue/check-edition.ts';
import { Problem } from '../../errors.ts';
import { askerOf, type Routes, withAnyScope, withScope } from '../access.ts';
import { noQuery, putFact, slugParam } from './answers.ts';
import { smallEdition } from './examples.ts';
import { editionAnswer, editionPublished } from './record-shapes.ts';

const params = z.strictObject({ maker: slugParam, edition: slugParam });
const path = '/v1/catalogue/:maker/editions/:edition';
/** An edition with every text is some 300 KiB; ten times that is not one. */
const bodyLimit = 3 * 1024 * 1024;
/** Only that it is an object: its shape is looked at with its meaning, so that all is said at once. */
const editionBody = z.looseObject({ maker: z.unknown(), edition: z.unknown() }).meta({ examples: [smallEdition] });

export function catalogueRoutes(app: App): Routes {
  return (rest) => {
    rest.register(
      withScope('catalogue:publish', (scope) => {
        scope.put(
          path,
          {
            bodyLimit,
            schema: {
              operationId: 'publishEdition',
              summary: 'Publish an edition',
              description: 'The body is an edition: schema/edition.schema.json. Every problem is answered at once.',
              tags: ['catalogue'],
              params,
              querystring: noQuery,
              body: editionBody,
              response: { 200: editionPublished, 201: editionPublished },
            },
          },
          async (request, reply) => {
            const { maker, edition } = request.params;
            if (askerOf(request).maker !== maker)
              throw new Problem('forbidden', `The token doesn't speak for ${maker}.`);
            const checked = checkEdition(request.sent);
            if ('problems' in checked)
              throw new Problem('edition-problems', 'The edition has problems; nothing is published.', {
                errors: checked.problems,
              });
            if (checked.edition.maker !== maker || checked.edition.edition !== edition) {
              throw new Problem('edition-problems', 'The edition is another than the path says.', {
                errors: [{ pointer: '/edition', detail: `the path says ${maker}, ${edition}` }],
              });
            }
            return await putFact(app, request, reply, { kind: 'edition', maker, edition, checked: checked.edition });
          },
        );
      }),
    );
    rest.register(
      withAnyScope((scope) => {
        scope.get(
          path,
          {
            schema: {
              operationId: 'readEdition',
              summary: 'An edition with its digest',
              tags: ['catalogue'],
              params,
              querystring: noQuery,
              response: { 200: editionAnswer },
            },
          },
          async (request) => await readEdition(app, request.params.maker, request.params.edition),
        );
      }),
    );
  };
}
