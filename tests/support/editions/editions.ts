/** The editions that tests work on, as JSON files beside this one. */
import { readFileSync } from 'node:fs';
import { checkEdition } from '../../../src/core/catalogue/check-edition.ts';
import type { Edition } from '../../../src/core/catalogue/edition.ts';

export type EditionName =
  | 'small'
  | 'deep-access'
  | 'rotation'
  | 'linkage'
  | 'workshop-account'
  | 'demo'
  | 'electric'
  | 'unloading'
  | 'springs'
  | 'adjustable-orifice'
  | 'ports';

const demo = new URL('../../../src/cli/demo/ardenholm-2026-1.json', import.meta.url);

/** As it would be sent, and fresh each time: a test may change it. */
export function editionInput(name: EditionName): unknown {
  const file = name === 'demo' ? demo : new URL(`${name}.json`, import.meta.url);
  return JSON.parse(readFileSync(file, 'utf8'));
}

/** Checked and parsed, as the service would hold it. Throws when the check finds problems. */
export function editionNamed(name: EditionName): Edition {
  return checkedEdition(editionInput(name));
}

export function checkedEdition(input: unknown): Edition {
  const checked = checkEdition(input);
  if ('problems' in checked) throw new Error(JSON.stringify(checked.problems, null, 2));
  return checked.edition;
}

/**
 * A JSON document with some places changed, by JSON pointer: a value to put there, `undefined` to take what is there
 * out. A last step `-` adds to a list.
 */
export function changed(document: unknown, changes: Readonly<Record<string, unknown>>): unknown {
  const copy: unknown = structuredClone(document);
  for (const [pointer, value] of Object.entries(changes)) change(copy, pointer, value);
  return copy;
}

function change(document: unknown, pointer: string, value: unknown): void {
  const steps = pointer
    .split('/')
    .slice(1)
    .map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
  const last = steps.pop() ?? '';
  let holder = document;
  for (const step of steps) holder = Reflect.get(toObject(holder, pointer), step);
  const target = toObject(holder, pointer);
  if (Array.isArray(target) && last === '-') target.push(value);
  else if (Array.isArray(target) && value === undefined) target.splice(Number(last), 1);
  else if (value === undefined) Reflect.deleteProperty(target, last);
  else Reflect.set(target, last, value);
}

function toObject(value: unknown, pointer: string): object {
  if (typeof value !== 'object' || value === null) throw new Error(`nothing to change at ${pointer}`);
  return value;
}
