import type { Difference } from '../store/projections/compare-expected.ts';

const longestValue = 200;

/** One line, whatever the values hold. */
export function differenceLine({ table, key, column, expected, found }: Difference): string {
  return `${table} (${key}), ${column}: expected ${shown(expected)}, found ${shown(found)}`;
}

function shown(value: string | null): string {
  if (value === null) return 'null';
  const line = value.replaceAll('\n', '\\n');
  return line.length > longestValue ? `${line.slice(0, longestValue)}…` : line;
}
