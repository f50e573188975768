/** `POST /graphql`: one query in the body, or one of the named reports. No other way in: no GET, no list, no socket. */
import { createHash } from 'node:crypto';
import type {
  FastifyBaseLogger,
  FastifyInstance,
  FastifyReply,
  FastifyRequest,
  RawReplyDefaultExpression,
  RawRequestDefaultExpression,
  RawServerDefault,
} from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { buildSchema, type ExecutionResult, type GraphQLError, type GraphQLSchema, isScalarType } from 'graphql';
import mercurius from 'mercurius';
import { z } from 'zod';
import type { Asker } from '../app/asker.ts';
import { Problem } from '../errors.ts';
import { compiling, forCompiled, hasDirectives } from './compiled.ts';
import { type Asked, queryCheck, reportCheck } from './limits/check-query.ts';
import { type Faults, tellFault, tellRefusal } from './tell-errors.ts';

export type GraphqlOptions = {
  /** Whether queries are taken that are none of the named reports. */
  readonly adHoc: boolean;
  /** Whether the schema may be asked for. */
  readonly introspection: boolean;
  /** False: nothing is compiled, and answers are the same. */
  readonly compiles?: boolean;
};

/** What this ring takes of the REST shell, which has let the request in by its token. */
export type Shell = Faults<FastifyRequest> & { readonly askerOf: (request: FastifyRequest) => Asker };

type Rest = FastifyInstance<
  RawServerDefault,
  RawRequestDefaultExpression,
  RawReplyDefaultExpression,
  FastifyBaseLogger,
  ZodTypeProvider
>;

/** What the route answers from. */
export type Answers = {
  /** The schema, in its own language. */
  readonly sdl: string;
  /** By type and field. */
  readonly resolvers: object;
  /** Documents by the names that they are asked for by. */
  readonly reports: ReadonlyMap<string, string>;
  /**
   * What the resolvers of one request share. `isCut` says that nobody waits for the answer any more.
   * @throws Problem where the asker may not ask at all
   */
  readonly contextFor: (asker: Asker, isCut: () => boolean) => object;
};

/** @throws at once where a report is over the limits, or asks for what the schema does not have */
export function graphqlRoutes(answers: Answers, options: GraphqlOptions, shell: Shell): (rest: Rest) => Promise<void> {
  const { sdl, resolvers, reports, contextFor } = answers;
  const schema = withScalars(buildSchema(sdl), resolvers);
  const check = queryCheck(schema, options);
  const { compiles = true } = options;
  requireGoodReports(schema, reports);
  return async (rest) => {
    await rest.register(mercurius, {
      schema: sdl,
      resolvers: resolvers as never,
      routes: false,
      subscription: false,
      allowBatchedQueries: false,
      ...(compiles && compiling),
      errorFormatter: (execution, context) => ({
        statusCode: 200,
        response: {
          data: execution.data ?? null,
          errors: (execution.errors ?? []).map((error) =>
            tellFault(error as GraphQLError, (context as unknown as WithReply).reply.request, shell),
          ) as unknown as GraphQLError[],
        },
      }),
    });
    if (compiles)
      // Mercurius compiles no document that a hook hands on.
      rest.graphql.addHook('preExecution', async (_schema, document) => (hasDirectives(document) ? { document } : {}));
    rest.post('/graphql', { schema: description }, async (request, reply) => {
      const asker = shell.askerOf(request);
      const context = contextFor(asker, () => request.raw.socket?.destroyed === true);
      const { variables, operationName } = request.body;
      const asked = {
        source: sourceOf(request.body, reports, options),
        variables: variables ?? {},
        operationName: operationName ?? null,
      };
      const document = check(asked);
      if (!('kind' in document)) return reply.code(400).send({ errors: document.map(tellRefusal) });
      return await answer(reply, context, compiles ? forCompiled(document, asked) : asked);
    });
  };
}

/** What is taken for a scalar is the resolvers' to say, of documents that are only checked too. */
function withScalars(schema: GraphQLSchema, resolvers: object): GraphQLSchema {
  for (const [name, resolver] of Object.entries(resolvers)) {
    const type = schema.getType(name);
    if (isScalarType(type)) Object.assign(type, resolver);
  }
  return schema;
}

type WithReply = { readonly reply: FastifyReply };

/** Everything that can be wrong with the document has been looked for: what fails now is told with the answer. */
async function answer(reply: FastifyReply, context: object, asked: Asked): Promise<ExecutionResult> {
  const { source, variables, operationName } = asked;
  return (await reply.graphql(source, context as never, variables, operationName ?? undefined)) as ExecutionResult;
}

function requireGoodReports(schema: GraphQLSchema, reports: ReadonlyMap<string, string>): void {
  const check = reportCheck(schema);
  for (const [name, source] of reports) {
    const errors = check(source);
    if (errors.length > 0) throw new Error(`report ${name}: ${errors.map(({ message }) => message).join(' ')}`);
  }
}

type Body = z.output<typeof body>;

function sourceOf({ query, report }: Body, reports: ReadonlyMap<string, string>, { adHoc }: GraphqlOptions): string {
  if ((query === undefined) === (report === undefined)) throw wrong('', 'send either a query or the name of a report');
  const names = [...reports.keys()].join(', ');
  if (query !== undefined) {
    if (adHoc) return query;
    throw wrong('/query', `only named reports are taken here: send "report" with one of ${names}`);
  }
  const source = reports.get(report ?? '') ?? [...reports.values()].find((text) => digestOf(text) === report);
  if (source === undefined) throw wrong('/report', `there is no such report; there are ${names}`);
  return source;
}

/** By which a caller can ask for the very text that it knows. */
function digestOf(text: string): string {
  return `sha256:${createHash('sha256').update(text).digest('hex')}`;
}

function wrong(pointer: string, detail: string): Problem {
  return new Problem('invalid-input', 'The request cannot be taken.', { errors: [{ pointer, detail }] });
}

const body = z
  .strictObject({
    query: z.string().optional().describe('A GraphQL document, where queries of your own are taken'),
    report: z
      .string()
      .max(100)
      .optional()
      .describe('Or the name of a report, or sha256: and the digest of its text in hexadecimal'),
    variables: z.record(z.string(), z.unknown()).nullable().optional(),
    operationName: z.string().max(200).nullable().optional(),
  })
  .meta({
    examples: [
      {
        query: 'query Pump($name: String!) { pump(maker: "ardenholm", serial: $name) { function status } }',
        variables: { name: 'P-7741' },
      },
    ],
  });

/** What is sent is the library's to type. */
const answerShape = z
  .looseObject({
    data: z.unknown().optional(),
    errors: z
      .array(z.looseObject({ message: z.string(), extensions: z.looseObject({ code: z.string() }) }))
      .optional()
      .meta({ description: 'Each with extensions.code, which is a code of the same list as that of a problem' }),
  })
  .meta({
    id: 'GraphqlAnswer',
    description: 'As GraphQL has it: what was asked for, and what of it failed',
  }) as unknown as z.ZodType<object, object>;

const description = {
  operationId: 'askGraphql',
  summary: 'Reports and nested history, by GraphQL',
  description: 'The schema is in schema/*.graphql. A document that is not taken is answered with 400 and its errors.',
  tags: ['reports'],
  querystring: z.strictObject({}),
  body,
  response: { 200: answerShape, 400: answerShape },
};
