/**
 * Dates in spreadsheets are numbers of days (ECMA-376-1 §18.17.4.1): in the 1900 system day 1 is 1900-01-01 and day 60
 * the 29th of February 1900, which never was; in the 1904 system day 0 is 1904-01-01.
 */

/** `2026-03-14`, or with a time of day `2026-03-14T10:25:00`; null for what is no day. */
export function dateOfSerial(serial: number, since1904: boolean): string | null {
  const seconds = Math.round(serial * 86_400);
  const days = Math.floor(seconds / 86_400);
  const mostDays = 2_958_465;
  if (!Number.isFinite(serial) || days < (since1904 ? 0 : 1) || days > mostDays || (!since1904 && days === 60))
    return null;
  const shift = since1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, days < 60 ? 31 : 30);
  const text = new Date(shift + seconds * 1000).toISOString();
  return seconds % 86_400 === 0 ? text.slice(0, 10) : text.slice(0, 19);
}

/** Formats that every spreadsheet has built in and that show a day (§18.8.30). */
const builtIn = new Set([14, 15, 16, 17, 22, 27, 28, 29, 30, 31, 34, 35, 36, 50, 51, 52, 53, 54, 57, 58]);

/** Whether a number with this format is shown as a day. `code` is the format's own text, where it has one. */
export function showsDay(id: number, code: string | undefined): boolean {
  if (code === undefined) return builtIn.has(id);
  // Without what is quoted, escaped or in brackets, such as a colour or a condition.
  const plain = code.replaceAll(/"[^"]*"|\\.|\[[^\]]*\]|_.|\*./g, '');
  return /[dy]/i.test(plain);
}
