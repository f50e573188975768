/**
 * When work happened. A bench may know it to the second or only to the month, so a time is an interval. All times are
 * kept as UTC text with six decimals, `2026-03-14T09:25:00.000000Z`: it has one length and one spelling, so the order
 * of texts is the order of times and a hash over it can be repeated; a JS Date would drop the microseconds.
 */
import { z } from 'zod';

/** UTC text with six decimals. */
export type Instant = string;

/** Both ends belong to the interval; an exact time has the same twice. */
export type Interval = { readonly from: Instant; readonly to: Instant };

const precisions = ['minute', 'day', 'month'] as const;
export type Precision = (typeof precisions)[number];

/** RFC 3339 with an offset and at most six decimals, alone or with the precision to which it is known. */
export type TimeInput = string | { readonly at: string; readonly precision: Precision };

/** Years beyond these are slips of the pen; within them every time has a year of four digits in UTC too. */
const [firstYear, lastYear] = [1900, 2999];
const mostDecimals = 6;
/** Looked at; twice what a sound time has, so that a long text costs nothing. */
const mostLength = 64;
const microsecondsPer = { millisecond: 1000n, minute: 60_000_000n, day: 86_400_000_000n };
const example = '"2026-03-14T10:25:00+01:00"';

/** An exact time as text, such as "2026-03-14T10:25:00+01:00". Gives it as sent: see `parseTime`. */
export const exactTimeSchema = z
  .string({ error: `write a time with its offset, such as ${example}` })
  .superRefine((text, context) => {
    const problem = problemOf(text);
    if (problem !== null) context.addIssue({ code: 'custom', message: problem });
  })
  .meta({ format: 'date-time' });

/** `performedAt` and its like, exact or `{at, precision}`. Gives it as sent: see `parseTime`. */
export const timeSchema = z
  .union([exactTimeSchema, z.strictObject({ at: exactTimeSchema, precision: z.enum(precisions) })], {
    error: `write a time with its offset, such as ${example}, or {"at": ${example}, "precision": "minute" | "day" | "month"}`,
  })
  .meta({ description: 'A time with its offset, or with the precision to which it is known' });

/**
 * The interval that a time names: an exact time is its own first and last instant; a minute, day or month runs from
 * its start to its last microsecond, in the offset written. Throws a RangeError for what `timeSchema` refuses.
 */
export function parseTime(input: TimeInput): Interval {
  const { at, precision } = typeof input === 'string' ? { at: input, precision: null } : input;
  const problem = problemOf(at);
  if (problem !== null) throw new RangeError(problem);
  const offset = offsetOf(at);
  const local = microsecondsOf(at.slice(0, 19), /\.\d+/.exec(at)?.[0]);
  const [first, next] = precision === null ? [local, local + 1n] : around(local, precision);
  return { from: instantOf(first - offset), to: instantOf(next - 1n - offset) };
}

/** An instant so many microseconds later, or earlier for a negative number. */
export function addMicroseconds(instant: Instant, count: number | bigint): Instant {
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z$/.test(instant)) {
    throw new RangeError(`${JSON.stringify(instant)} is not UTC text with six decimals`);
  }
  return instantOf(microsecondsOf(instant.slice(0, 19), instant.slice(19, 26)) + BigInt(count));
}

/** How long after `from` `to` is, in microseconds; negative where it is before. */
export function microsecondsBetween(from: Instant, to: Instant): bigint {
  const since = (instant: Instant) => microsecondsOf(instant.slice(0, 19), instant.slice(19, 26));
  return since(to) - since(from);
}

/** Whether a is before (-1), the same as (0) or after (1) b. */
export function compareInstants(a: Instant, b: Instant): -1 | 0 | 1 {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What to write instead; null for a sound time. */
function problemOf(text: string): string | null {
  const [, date, clock, decimals, offset] =
    /^(.*?)(?:T(.*?))?(?:\.(\d+))?(Z|[+-]\d\d:\d\d)?$/i.exec(text.slice(0, mostLength)) ?? [];
  if (date === undefined || !/^\d{4}-\d\d-\d\d$/.test(date) || clock === undefined) {
    return `write date, time and offset, such as ${example}`;
  }
  if (/^\d\d:\d\d$/.test(clock)) return `write the seconds too, such as ${example}`;
  if (!/^\d\d:\d\d:\d\d$/.test(clock)) return `write the time as hours, minutes and seconds, such as ${example}`;
  if (offset === undefined) return `say the offset from UTC: write ${example}, or end the time with Z`;
  if (decimals !== undefined && decimals.length > mostDecimals)
    return `write at most ${mostDecimals} decimals of a second`;
  const year = Number(date.slice(0, 4));
  if (year < firstYear || year > lastYear) return `the year must lie between ${firstYear} and ${lastYear}`;
  if (!exists(`${date}T${clock}`))
    return `there is no ${date} ${clock}: check the day, and that hours end at 23 and seconds at 59`;
  if (!/^(Z|[+-]([01]\d|2[0-3]):[0-5]\d)$/i.test(offset))
    return `there is no offset ${offset}: write one such as +01:00`;
  return null;
}

/** Date accepts some days and hours that aren't there and moves them on, so it is read back. */
function exists(local: string): boolean {
  const milliseconds = Date.parse(`${local.toUpperCase()}Z`);
  return !Number.isNaN(milliseconds) && new Date(milliseconds).toISOString().startsWith(local);
}

function offsetOf(text: string): bigint {
  const [, sign, hours = '0', minutes = '0'] = /([+-])(\d\d):(\d\d)$/.exec(text) ?? [];
  const size = BigInt(Number(hours) * 60 + Number(minutes)) * microsecondsPer.minute;
  return sign === '-' ? -size : size;
}

/** Microseconds since 1970 of a date and time of 19 characters, taken as UTC, and decimals such as ".25". */
function microsecondsOf(seconds: string, decimals = ''): bigint {
  const whole = BigInt(Date.parse(`${seconds.toUpperCase()}Z`)) * microsecondsPer.millisecond;
  return whole + BigInt(decimals.slice(1).padEnd(mostDecimals, '0'));
}

/** Where the minute, day or month of a local time begins, and where the next does. */
function around(local: bigint, precision: Precision): [bigint, bigint] {
  if (precision === 'month') {
    const date = new Date(Number(floor(local, microsecondsPer.day) / microsecondsPer.millisecond));
    const first = (month: number) => BigInt(Date.UTC(date.getUTCFullYear(), month)) * microsecondsPer.millisecond;
    return [first(date.getUTCMonth()), first(date.getUTCMonth() + 1)];
  }
  const size = microsecondsPer[precision];
  return [floor(local, size), floor(local, size) + size];
}

/** Rounded down also before 1970, where BigInt's remainder is negative. */
function floor(value: bigint, size: bigint): bigint {
  return value - (((value % size) + size) % size);
}

function instantOf(microseconds: bigint): Instant {
  const millisecond = floor(microseconds, microsecondsPer.millisecond);
  const text = new Date(Number(millisecond / microsecondsPer.millisecond)).toISOString();
  return `${text.slice(0, -1)}${String(microseconds - millisecond).padStart(3, '0')}Z`;
}
