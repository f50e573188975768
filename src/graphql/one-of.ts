/** Words of closed lists that hold a hyphen or may grow are strings in the schema, and looked at here. */
import { Problem } from '../errors.ts';

/** @throws Problem of a word that is none of the list */
export function oneOf<T extends string>(words: readonly T[], word: string, parameter: string): T {
  const found = words.find((one) => one === word);
  if (found !== undefined) return found;
  throw new Problem('invalid-input', `This ${parameter} is not known.`, {
    errors: [{ parameter, detail: `use one of ${words.join(', ')}` }],
  });
}
