/** What of an error leaves the service: a code of the closed list, and of an unexpected one nothing but that it happened. */
import type { GraphQLError, GraphQLFormattedError } from 'graphql';
import { Problem } from '../errors.ts';

/** What this ring takes of the REST shell, handed in where both are put together. */
export type Faults<Request> = {
  readonly toProblem: (error: unknown) => Problem;
  readonly logFault: (request: Request, problem: Problem, error: unknown) => void;
};

/** A document or its variables were not taken. The words are the library's and ours; they hold nothing looked up. */
export function tellRefusal(error: GraphQLError): GraphQLFormattedError {
  return told(error, new Problem('invalid-input', error.message));
}

/** A resolver threw. */
export function tellFault<Request extends { readonly id: string }>(
  error: GraphQLError,
  request: Request,
  { toProblem, logFault }: Faults<Request>,
): GraphQLFormattedError {
  const cause = error.originalError ?? error;
  const problem = toProblem(cause);
  logFault(request, problem, cause);
  return told(error, problem, { requestId: request.id });
}

function told(error: GraphQLError, problem: Problem, more: object = {}): GraphQLFormattedError {
  const { locations, path } = error.toJSON();
  return {
    message: problem.detail,
    ...(locations === undefined ? {} : { locations }),
    ...(path === undefined ? {} : { path }),
    extensions: {
      code: problem.code,
      ...(problem.errors === undefined ? {} : { errors: problem.errors }),
      ...more,
    },
  };
}
