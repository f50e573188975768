/** Tells what an error of the database means for the caller, by its shape: this ring doesn't know the driver. */
import type { ProblemCode } from '../errors.ts';

/** Members of PostgreSQL's ErrorResponse as the driver names them. */
export type DatabaseError = Error & {
  readonly code: string;
  readonly severity: string;
  readonly table?: string;
  readonly column?: string;
  readonly constraint?: string;
  readonly routine?: string;
};

export function isDatabaseError(error: unknown): error is DatabaseError {
  return (
    error instanceof Error &&
    'severity' in error &&
    'code' in error &&
    typeof error.code === 'string' &&
    /^[0-9A-Z]{5}$/.test(error.code)
  );
}

/** What to answer where the database can't be reached or gave up; null where the error says neither. */
export function databaseFault(error: unknown): Extract<ProblemCode, 'database-unavailable' | 'busy'> | null {
  for (const each of causes(error)) {
    if (isDatabaseError(each)) return sqlStateFault(each.code);
    if ('code' in each && typeof each.code === 'string' && unreachable.has(each.code)) return 'database-unavailable';
    if (driverMessages.some((message) => each.message.startsWith(message))) return 'database-unavailable';
  }
  return null;
}

/** Codes of PostgreSQL 18, Appendix A: class 08 connection exception, 57P01–57P04 shut down or not started; then what gives way under load. */
function sqlStateFault(code: string): 'database-unavailable' | 'busy' | null {
  if (code.startsWith('08') || /^57P0[1-4]$/.test(code)) return 'database-unavailable';
  if (code.startsWith('53') || busyCodes.has(code)) return 'busy';
  return null;
}

/** Serialisation failure, deadlock, lock not available, query cancelled by a timeout, transaction timeout, idle in transaction. */
const busyCodes = new Set(['40001', '40P01', '55P03', '57014', '25P04', '25P03']);

/** The database is the only peer that a use case calls; the issuer's keys are fetched elsewhere. */
const unreachable = new Set([
  'ECONNREFUSED',
  'ECONNRESET',
  'EPIPE',
  'ETIMEDOUT',
  'EHOSTUNREACH',
  'ENETUNREACH',
  'ENOTFOUND',
  'EAI_AGAIN',
]);

/** The driver and its pool throw these without a code. */
const driverMessages = [
  'timeout exceeded when trying to connect',
  'Connection terminated',
  'Client has encountered a connection error',
  'Client was closed',
  'Cannot use a pool after calling end',
];

/** The error and what caused it; an AggregateError (all addresses of a host refused) counts as its first. */
function* causes(error: unknown): Generator<Error> {
  let each = error;
  for (let depth = 0; depth < 5 && each instanceof Error; depth++) {
    yield each;
    each = each.cause ?? (each instanceof AggregateError ? each.errors[0] : undefined);
  }
}
