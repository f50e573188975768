/** What the bench was asked for. */
import { parseArgs } from 'node:util';

export type Options = {
  /** Rows by name; empty: all. */
  readonly names: readonly string[];
  readonly records: number;
  readonly rounds: number;
  readonly quick: boolean;
  readonly seed: number;
  /** An earlier bench-results.json. */
  readonly against: string | null;
};

/** @throws RangeError that names the option. */
export function readOptions(args: readonly string[], known: readonly string[]): Options {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      records: { type: 'string' },
      rounds: { type: 'string' },
      quick: { type: 'boolean', default: false },
      seed: { type: 'string', default: '1' },
      against: { type: 'string' },
    },
  });
  for (const name of positionals)
    if (!known.includes(name)) throw new RangeError(`There is no row ${name}; there are ${known.join(', ')}.`);
  const whole = (option: string, text: string) => {
    const number = Number(text);
    if (!Number.isSafeInteger(number) || number < 1)
      throw new RangeError(`--${option} takes a whole number above 0, not ${text}.`);
    return number;
  };
  const { quick } = values;
  return {
    ...{ names: positionals, quick, seed: whole('seed', values.seed), against: values.against ?? null },
    records: whole('records', values.records ?? (quick ? '2000' : '200000')),
    rounds: whole('rounds', values.rounds ?? (quick ? '1' : '5')),
  };
}
