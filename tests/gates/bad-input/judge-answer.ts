/** What is wrong with an answer, whatever was asked. */
import { type ProblemCode, problemCodes } from '../../../src/errors.ts';
import { problemSchema } from '../../../src/http/problems.ts';
import type { Case } from './make-case.ts';

export type Answered = {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly text: string;
};

/** Codes that are of no use without a place. */
const ofInput = new Set<string>(['invalid-input', 'malformed-json', 'edition-problems']);
const pointer = /^(?:\/(?:[^~/]|~[01])*)*$/;
/** Signs of the inside. */
const inside = /node_modules|\.ts:\d|\bat (?:async )?\w+ \(|SqlState|\bpg_\w+|insert into|select \w+ from/i;

export function faultsOf(one: Case, answer: Answered): string[] {
  const faults = judgeOf(one, answer)(one, answer);
  return inside.test(answer.text) && answer.status >= 400 ? [...faults, 'tells of the inside'] : faults;
}

function judgeOf(one: Case, { status, headers }: Answered) {
  if (one.isLines && status === 200) return faultsOfLines;
  const isGraphql = one.operation === 'POST /graphql' && /^application\/json/.test(String(headers['content-type']));
  return isGraphql && (status === 200 || status === 400) ? faultsOfGraphql : faultsOfOne;
}

/** As GraphQL has it: errors in the answer, each with a code of the same list. */
export function faultsOfGraphql(one: Pick<Case, 'isForbidden'>, { status, text }: Answered): string[] {
  const { errors = [] } = jsonOf(text) as { errors?: { message?: unknown; extensions?: { code?: string } }[] };
  if (errors.length === 0) return one.isForbidden || status !== 200 ? [`takes what is forbidden: ${status}`] : [];
  return errors.flatMap(({ message, extensions }) => {
    const known = problemCodes[extensions?.code as ProblemCode] as { status: number } | undefined;
    if (typeof message !== 'string' || known === undefined) return [`an error without a code: ${text.slice(0, 100)}`];
    return known.status >= 500 ? [`an error with code ${extensions?.code}`] : [];
  });
}

function faultsOfOne(one: Case, { status, headers, text }: Answered): string[] {
  if (status >= 500) return [`status ${status}`];
  if (status < 400) return one.isForbidden ? [`takes what is forbidden: ${status}`] : [];
  const faults: string[] = [];
  if (headers['content-type'] !== 'application/problem+json') faults.push(`is told as ${headers['content-type']}`);
  return [...faults, ...faultsOfProblem(text, status, one, headers['x-request-id'])];
}

function faultsOfLines(one: Case, { text }: Answered): string[] {
  const outcomes = text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as { status: number; problem?: unknown });
  if (outcomes.length === 0 && one.isForbidden) return ['tells nothing of the line'];
  return outcomes.flatMap(({ status, problem }) => {
    if (status >= 500) return [`a line with status ${status}`];
    if (status >= 400) return faultsOfProblem(JSON.stringify(problem), status, { ...one, body: undefined }, undefined);
    return one.isForbidden ? [`takes a line that is forbidden: ${status}`] : [];
  });
}

function faultsOfProblem(text: string, status: number, { body }: Case, requestId: unknown): string[] {
  const read = problemSchema.safeParse(jsonOf(text));
  if (!read.success) return [`is no problem document: ${text.slice(0, 100)}`];
  const { code, type, title, status: stated, requestId: told, errors = [] } = read.data;
  const entry = problemCodes[code as ProblemCode];
  const faults: string[] = [];
  if (entry.status !== status || stated !== status || title !== entry.title)
    faults.push(`${code} with status ${status}`);
  if (type !== `/problems/${code}`) faults.push(`type ${type} of ${code}`);
  if (requestId !== undefined && told !== requestId) faults.push('the request id is another than in the header');
  if (ofInput.has(code) && errors.length === 0) faults.push(`${code} without a place`);
  for (const error of errors) {
    if (!('pointer' in error)) continue;
    if (!pointer.test(error.pointer)) faults.push(`no pointer: ${error.pointer}`);
    else if (body !== undefined && code === 'invalid-input' && !leadsInto(body, error.pointer))
      faults.push(`leads nowhere: ${error.pointer}`);
  }
  return faults;
}

/** To a value, or to what a value lacks. */
function leadsInto(body: unknown, text: string): boolean {
  const path = text
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'));
  let value = body;
  for (const [nth, part] of path.entries()) {
    if (typeof value !== 'object' || value === null) return false;
    if (!Object.hasOwn(value, part)) return nth === path.length - 1;
    value = (value as Record<string, unknown>)[part];
  }
  return true;
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
