import pg from 'pg';

const { builtins } = pg.types;
/** Array types that pg has no name for. */
const timestamptzArray = 1185;
const timestampArray = 1115;
const dateArray = 1182;

/**
 * How values arrive: timestamptz as UTC text with six decimals (`2026-03-14T09:25:00.123456Z`), because a Date would
 * drop the microseconds; date and timestamp as Postgres writes them; bigint and numeric as text; json parsed.
 * The session's time zone must be UTC and its DateStyle ISO, as `openPools` sees to.
 */
export const valueTypes = new pg.TypeOverrides();
valueTypes.setTypeParser(builtins.TIMESTAMPTZ, instantText);
valueTypes.setTypeParser(builtins.TIMESTAMP, asWritten);
valueTypes.setTypeParser(builtins.DATE, asWritten);
valueTypes.setTypeParser(timestamptzArray, (text) => arrayOf(text, instantText));
valueTypes.setTypeParser(timestampArray, (text) => arrayOf(text, asWritten));
valueTypes.setTypeParser(dateArray, (text) => arrayOf(text, asWritten));

/** Postgres's text of a timestamptz in a UTC session to ours; `infinity` and `-infinity` stay as they are. */
export function instantText(text: string): string {
  // Nearly all are whole seconds or have six places; matched, thousands of them took a tenth of a reading.
  if (text[10] === ' ' && text.endsWith('+00')) {
    if (text.length === 22) return `${text.slice(0, 10)}T${text.slice(11, 19)}.000000Z`;
    if (text.length === 29) return `${text.slice(0, 10)}T${text.slice(11, 26)}Z`;
  }
  const parts = /^(\d{4,6}-\d\d-\d\d) (\d\d:\d\d:\d\d)(?:\.(\d{1,6}))?\+00$/.exec(text);
  if (parts !== null) return `${parts[1]}T${parts[2]}.${(parts[3] ?? '').padEnd(6, '0')}Z`;
  if (text === 'infinity' || text === '-infinity') return text;
  throw new Error(
    `The database gave the instant "${text}"; expected UTC after the year 0 (is the session's TimeZone UTC?)`,
  );
}

function asWritten(text: string): string {
  return text;
}

/** An array of one dimension whose elements hold no comma or quote, as dates and times don't. */
function arrayOf(text: string, parse: (element: string) => string): (string | null)[] {
  const inner = text.slice(1, -1);
  if (inner === '') return [];
  return inner.split(',').map((element) => (element === 'NULL' ? null : parse(element.replaceAll('"', ''))));
}
