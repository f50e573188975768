/** Texts that would be markup, attributes, styles or scripts if anything let them. */

import { actions } from '../../src/core/fit/plan.ts';
import { isUnit } from '../../src/core/quantity/unit.ts';
import { escaped } from '../../src/pages/html.ts';

const text = `"'\`></style></bdi></text><img src=x onerror=alert(1)><script>alert(2)</script>&lt;`;

export const hostile = {
  text,
  escaped: escaped(text),
  /** None of these may be found in a page as they are. */
  pieces: ['<img', '<script', '</bdi></text>', `"'\``, 'onerror=alert(1)><', '&lt;'],
};

/** Words that code, not people, chooses: without them nothing would be drawn at all. */
const chosen = new Set<string>([
  ...actions,
  ...['en', 'de', 'disturbed', 'required', 'after-setting', 'rising', 'falling', 'none', 'keep'],
  ...[
    'seat',
    'bore',
    'adjuster',
    'closure',
    'port',
    'cavity',
    'linkage',
    'safety',
    'plate',
    'leak',
    'function',
    'other',
  ],
  ...['hold', 'due', 'note', 'released', 'incomplete', 'held', 'torque', 'seal', 'setting', 'check', 'content'],
]);

/** The same with the hostile text after every other text and after every name that somebody chose. */
export function hostilely<T>(json: T): T {
  return spoiled(json, '') as T;
}

function spoiled(json: unknown, member: string): unknown {
  if (typeof json === 'string') return isChosen(json, member) ? json : spoiledName(json);
  if (Array.isArray(json)) return json.map((one) => spoiled(one, ''));
  if (typeof json !== 'object' || json === null) return json;
  const isNamed = ['texts', 'stations', 'ranges', 'people', 'en', 'de', 'conditions', 'measured', 'choices'].includes(
    member,
  );
  return Object.fromEntries(
    Object.entries(json).map(([name, value]) => [
      isNamed && !['en', 'de'].includes(name) ? spoiledName(name) : name,
      spoiled(value, name),
    ]),
  );
}

/** A place on the pump is told by how it begins, and a text of the edition by kind and name. */
function spoiledName(name: string): string {
  return `${name}${text}`;
}

function isChosen(value: string, member: string): boolean {
  return chosen.has(value) || isUnit(value) || (member === 'value' && /^-?\d+(\.\d+)?$/.test(value));
}
