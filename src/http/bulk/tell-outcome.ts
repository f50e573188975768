/** What a line of a bulk upload is answered with: one line of JSON. */
import type { FastifyRequest } from 'fastify';
import type { LineOutcome } from '../../app/record-lines.ts';
import type { InputError, Problem } from '../../errors.ts';
import { problemCodes } from '../../errors.ts';
import { logFault, problemBody, toProblem } from '../problems.ts';
import type { ReadLine } from './read-line.ts';

type Told = Pick<ReadLine, 'number' | 'key' | 'kind'>;

export function tellOutcome(request: FastifyRequest, line: Told, outcome: LineOutcome): string {
  if (outcome.kind === 'problem') return tellProblem(request, line, outcome.error);
  const { status, answer, replayed } = outcome;
  const said = JSON.parse(answer) as { id?: string; status?: string; findings?: Finding[]; receipt?: unknown };
  return JSON.stringify({
    ...headOf(line, status),
    ...(replayed && { replayed }),
    ...(said.id !== undefined && { id: said.id }),
    ...(said.status !== undefined && { judged: said.status }),
    ...(said.findings !== undefined && { findings: said.findings.map(inLine) }),
    ...(said.receipt !== undefined && { receipt: said.receipt }),
  });
}

/** Places in what is recorded are places in its body; here all are places in the line. `ofLine`: they are so already. */
export function tellProblem(request: FastifyRequest, line: Told, error: unknown, ofLine = false): string {
  const problem = toProblem(error);
  logFault(request, problem, error);
  const { findings, errors, ...body } = problemBody(problem, request.id);
  return JSON.stringify({
    ...headOf(line, problemCodes[problem.code].status),
    problem: {
      ...body,
      ...(errors !== undefined && { errors: ofLine ? errors : errors.map(inLine) }),
      ...(findings !== undefined && { findings: findings.map(inLine) }),
    },
  });
}

export function isOutage(outcome: LineOutcome): boolean {
  return (
    outcome.kind === 'problem' && toProblem(outcome.error).code === ('database-unavailable' satisfies Problem['code'])
  );
}

type Finding = { readonly pointer: string };

function headOf({ number, key, kind }: Told, status: number) {
  return { line: number, ...(key !== null && { key }), ...(kind !== null && { kind }), status };
}

function inLine<Place extends Finding | InputError>(place: Place): Place {
  return 'pointer' in place ? { ...place, pointer: `/body${place.pointer}` } : place;
}
