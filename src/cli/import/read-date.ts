/** Dates as tables have them, by a format, in the time of a place. */
import type { TimeInput } from '../../core/time/instant.ts';

const token = /yyyy|MM|M|dd|d|HH|H|mm|ss/g;
const digits: Readonly<Record<string, string>> = {
  yyyy: '(?<year>\\d{4})',
  MM: '(?<month>\\d{2})',
  M: '(?<month>\\d{1,2})',
  dd: '(?<day>\\d{2})',
  d: '(?<day>\\d{1,2})',
  HH: '(?<hour>\\d{2})',
  H: '(?<hour>\\d{1,2})',
  mm: '(?<minute>\\d{2})',
  ss: '(?<second>\\d{2})',
};

/** A year and a month at least, minutes with hours, seconds with minutes, each once, and no other letter than a T. */
export function isDateFormat(format: string): boolean {
  const parts = (format.match(token) ?? []).map((one) => one.charAt(0));
  const has = (part: string) => parts.includes(part);
  const rest = format.replaceAll(token, '');
  return (
    new Set(parts).size === parts.length &&
    !/[^\P{L}T]|\d/u.test(rest) &&
    has('y') &&
    has('M') &&
    has('H') === has('m') &&
    (has('d') || !has('H')) &&
    (has('m') || !has('s'))
  );
}

export function isZone(zone: string): boolean {
  if (/^[+-]\d\d:\d\d$/.test(zone)) return true;
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

/** The time as the service takes it, or what is wrong. A date without a time of day is known to the day, and so on. */
export function readDate(
  text: string,
  formats: readonly string[],
  zone: string,
): { readonly value: TimeInput } | { readonly problem: string } {
  for (const format of formats) {
    const parts = partsOf(text, format);
    if (parts !== null) return timeOf(parts, zone, text);
  }
  return { problem: `"${text}" is not written as ${formats.join(' or ')}` };
}

/** A cell that is a date in the file: `2026-03-14` or `2026-03-14T10:25:00`. */
export function readDateCell(text: string, zone: string): { readonly value: TimeInput } | { readonly problem: string } {
  const format = text.length > 10 ? 'yyyy-MM-ddTHH:mm:ss' : 'yyyy-MM-dd';
  const parts = partsOf(text, format);
  return parts === null ? { problem: `"${text}" is no date` } : timeOf(parts, zone, text);
}

type Parts = Readonly<Record<string, string | undefined>>;

function partsOf(text: string, format: string): Parts | null {
  const pattern = format
    .split(/(yyyy|MM|M|dd|d|HH|H|mm|ss)/)
    .map((part) => digits[part] ?? part.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&'))
    .join('');
  return new RegExp(`^${pattern}$`).exec(text)?.groups ?? null;
}

function timeOf(
  { year = '', month = '', day, hour, minute = '00', second }: Parts,
  zone: string,
  text: string,
): { readonly value: TimeInput } | { readonly problem: string } {
  const two = (part: string) => part.padStart(2, '0');
  const local = `${year}-${two(month)}-${two(day ?? '1')}T${two(hour ?? '0')}:${minute}:${second ?? '00'}`;
  const utc = Date.parse(`${local}Z`);
  // Date moves the 31st of February on, so it is read back.
  if (Number.isNaN(utc) || new Date(utc).toISOString().slice(0, 19) !== local)
    return { problem: `"${text}" is no day, or no time of day, that there is` };
  const at = local + offsetAt(utc, zone);
  if (day === undefined) return { value: { at, precision: 'month' } };
  if (hour === undefined) return { value: { at, precision: 'day' } };
  return { value: second === undefined ? { at, precision: 'minute' } : at };
}

/** The offset of a local time; in the hour that comes twice when clocks are put back it is one of the two. */
function offsetAt(localAsUtc: number, zone: string): string {
  if (/^[+-]/.test(zone)) return zone;
  const minutes = offsetMinutes(localAsUtc - offsetMinutes(localAsUtc, zone) * 60_000, zone);
  const two = (count: number) => String(Math.floor(count)).padStart(2, '0');
  return `${minutes < 0 ? '-' : '+'}${two(Math.abs(minutes) / 60)}:${two(Math.abs(minutes) % 60)}`;
}

function offsetMinutes(utc: number, zone: string): number {
  const parts = new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' }).formatToParts(utc);
  const text = parts.find((part) => part.type === 'timeZoneName')?.value ?? '';
  const [, sign, hours = '0', minutes = '0'] = /GMT([+-])(\d\d):(\d\d)/.exec(text) ?? [];
  return (Number(hours) * 60 + Number(minutes)) * (sign === '-' ? -1 : 1);
}
