/** The OpenAPI 3.1 description, made from the routes' zod schemas. */
import swagger, { type FastifyDynamicSwaggerOptions } from '@fastify/swagger';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { z } from 'zod';
import packageJson from '../../package.json' with { type: 'json' };
import { problemCodes } from '../errors.ts';
import { docsPage } from '../pages/docs-page.ts';
import type { Page } from '../pages/page.ts';
import type { Rest, Routes } from './access.ts';
import { nameComponents } from './component-names.ts';
import { keepSiblings, tidyComponents } from './openapi-components.ts';
import { problemMediaType } from './problems.ts';
import { sendPage } from './send-page.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** The route reads an Idempotency-Key; the description says so. */
    idempotencyKey?: true;
  }
}

type Transform = NonNullable<FastifyDynamicSwaggerOptions['transform']>;
type TransformObject = NonNullable<FastifyDynamicSwaggerOptions['transformObject']>;
type OpenApi = Extract<Parameters<TransformObject>[0], { openapiObject: unknown }>['openapiObject'];

/** Describes the routes that are registered in this scope afterwards. */
export async function describeRoutes(app: Rest): Promise<void> {
  nameComponents();
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: { title: 'Asfitted', version: packageJson.version, description: packageJson.description },
      components: {
        securitySchemes: {
          bearer: {
            type: 'http',
            scheme: 'bearer',
            bearerFormat: 'JWT',
            description: 'A JWT access token (RFC 9068); an operation lists the scopes that it needs.',
          },
        },
      },
    },
    transform: withIdempotencyKey,
    transformObject: withProblems,
  });
}

/** `GET /openapi.json`, and the same for people. The routes don't change while the service runs: the page is made once. */
export const openApiRoute: Routes = (app) => {
  let page: Page | null = null;
  app.get('/openapi.json', { schema: { hide: true } }, async () => app.swagger());
  app.get('/docs', { schema: { hide: true } }, async (_, reply) => {
    page ??= docsPage(app.swagger() as unknown as Parameters<typeof docsPage>[0]);
    return sendPage(reply, page);
  });
};

const withIdempotencyKey: Transform = (route) => {
  const transformed = withExamples(route);
  if (route.route.config?.idempotencyKey !== true) return transformed;
  const headers = {
    type: 'object',
    required: ['Idempotency-Key'],
    properties: {
      'Idempotency-Key': {
        type: 'string',
        minLength: 1,
        description:
          'New for every record, the same when a request is repeated, which is then answered with the same bytes and the header Idempotency-Replayed: true; 1 to 255 visible ASCII characters, in double quotes or bare. With check=only none is needed.',
      },
    },
  };
  return { ...transformed, schema: { ...(transformed.schema as object), headers } };
};

/** zod leaves the examples out of every schema that transforms, since they may be of what comes in or what goes out. */
const withExamples: Transform = (route) => {
  const transformed = jsonSchemaTransform(route);
  const body: unknown = (route.schema as { body?: unknown } | undefined)?.body;
  const examples = body instanceof z.ZodType ? body.meta()?.['examples'] : undefined;
  const schema = keepSiblings(transformed.schema) as { body: object };
  return {
    ...transformed,
    schema: examples === undefined ? schema : { ...schema, body: { ...schema.body, examples } },
  };
};

/** Every operation may answer with a problem; it is described once. */
const withProblems: TransformObject = (document) => {
  // Of the two kinds of document that the type allows, this one is never Swagger 2.0.
  const openapi = jsonSchemaTransformObject(document) as OpenApi;
  const problem = { $ref: '#/components/responses/Problem' };
  for (const path of Object.values(openapi.paths ?? {})) {
    for (const operation of Object.values(path ?? {})) {
      if (operation !== null && typeof operation === 'object' && 'responses' in operation) {
        operation.responses = { ...operation.responses, default: problem };
      }
    }
  }
  return tidyComponents({
    ...openapi,
    components: {
      ...openapi.components,
      responses: {
        Problem: {
          description: problemDescription,
          content: { [problemMediaType]: { schema: { $ref: '#/components/schemas/Problem' } } },
        },
      },
    },
  }) as ReturnType<TransformObject>;
};

const problemDescription = [
  'Problem details (RFC 9457). After a 503, or without an answer, the request may have been applied: repeat it with the same key.',
  '',
  ...Object.entries(problemCodes).map(([code, { status, meaning }]) => `- \`${code}\` (${status}): ${meaning}`),
].join('\n');
