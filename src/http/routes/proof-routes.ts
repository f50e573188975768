/** Proofs of what somebody may read: of a record, and of all that was recorded of a unit. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { certify, readChain } from '../../app/log/certify.ts';
import { editionNamed } from '../../app/read-edition.ts';
import type { UnitKind } from '../../core/history/event.ts';
import { certificateSchema } from '../../core/log/certificate.ts';
import { chainSchema } from '../../core/log/chain.ts';
import { sections } from '../../core/log/leaf.ts';
import { certificatePage } from '../../pages/certificate-page.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { addressOf } from '../address.ts';
import { languageQuery, languagesWanted, orAsPage, unitsQuery, unitsWanted, wantsPage } from '../preferences.ts';
import { sendPage } from '../send-page.ts';
import { noQuery, unitKinds, unitParams } from './answers.ts';

const section = z.enum(sections);
const withheld = z
  .string()
  .transform((text) => text.split(','))
  .pipe(z.array(section))
  .optional()
  .describe(`Sections to leave out, such as "private,statement": of ${sections.join(', ')}`);

export function proofRoutes(app: App): Routes {
  return (rest) => {
    rest.register(
      withScope(['record:read', 'warranty:read'], (scope) => {
        certificates(app, scope);
        for (const { kind, path } of unitKinds) chains(app, scope, kind, path);
      }),
    );
  };
}

function certificates(app: App, rest: Rest): void {
  rest.get(
    '/v1/records/:id/certificate',
    {
      schema: {
        operationId: 'readCertificate',
        summary: 'A released record with its proof, to be checked without this service',
        description: `Later records may exist: it says what was kept, and how far the log was then. \`npm run -s verify -- certificate FILE --key KEY\` checks it. ${orAsPage} The page carries its address and the entry as a code for cameras.`,
        tags: ['records'],
        params: z.strictObject({ id: z.uuid().toLowerCase() }),
        querystring: z.strictObject({
          withhold: withheld,
          ...languageQuery,
          units: unitsQuery.units.describe(
            'Of a page: beside every reading what it is in these units, rounded; JSON stays as it is hashed',
          ),
        }),
        response: { 200: certificateSchema.meta({ id: 'Certificate', description: 'The record and its proof' }) },
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      reply.header('vary', 'Accept, Accept-Language');
      const { certificate, maker } = await certify(app, askerOf(request), id, request.query.withhold ?? []);
      if (!wantsPage(request)) return certificate;
      const named = certificate.leaf.edition;
      return sendPage(
        reply,
        certificatePage(certificate, {
          edition: maker === null || named === null ? null : await editionNamed(app, maker, named),
          languages: languagesWanted(request),
          units: unitsWanted(request),
          address: addressOf(request, `/v1/records/${id}/certificate`),
        }),
      );
    },
  );
}

function chains(app: App, rest: Rest, kind: UnitKind, path: string): void {
  rest.get(
    `${path}/chain`,
    {
      schema: {
        operationId: kind === 'pump' ? 'readPumpChain' : 'readControlChain',
        summary: `All that was recorded of a ${kind}, each in its place, with proofs`,
        description:
          'A record left out would leave a gap. What is hashed is shown of your own records; of others the entry, and its place.',
        tags: ['units'],
        params: unitParams,
        querystring: noQuery,
        response: { 200: chainSchema.meta({ id: 'Chain', description: 'Up to the checkpoint in it' }) },
      },
    },
    async (request) => {
      const { maker, serial } = request.params;
      return await readChain(app, askerOf(request), { kind, maker, name: serial });
    },
  );
}
