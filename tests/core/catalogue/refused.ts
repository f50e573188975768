/** Rows of one kind of test: a small valid edition, one thing in it changed, and what the check says of it. */
import { expect, it } from 'vitest';
import { checkEdition } from '../../../src/core/catalogue/check-edition.ts';
import { changed, editionInput } from '../../support/editions/editions.ts';

export type Changes = Readonly<Record<string, unknown>>;
export type Row = {
  readonly it: string;
  /** JSON pointers into the small edition, and what to put there. */
  readonly wrong: Changes;
  /** Every problem, in order: its pointer, and what its detail must contain. */
  readonly says: readonly (readonly [pointer: string, detail: string])[];
  /** The nearest edition that nothing is said of. */
  readonly right: Changes;
};

export function refuses(rows: readonly Row[]): void {
  for (const row of rows) {
    it(`refuses ${row.it}`, () => {
      expect(problemsOf(row.wrong)).toEqual(row.says.map(([pointer, detail]) => said(pointer, detail)));
      expect(problemsOf(row.right)).toEqual([]);
    });
  }
}

export function warnsOf(rows: readonly Row[]): void {
  for (const row of rows) {
    it(`warns of ${row.it}`, () => {
      expect(warningsOf(row.wrong)).toEqual(row.says.map(([pointer, detail]) => said(pointer, detail)));
      expect(warningsOf(row.right)).toEqual([]);
    });
  }
}

function problemsOf(changes: Changes) {
  const checked = checkEdition(changed(editionInput('small'), changes));
  return 'problems' in checked ? checked.problems : [];
}

function warningsOf(changes: Changes) {
  const checked = checkEdition(changed(editionInput('small'), changes));
  return 'problems' in checked ? checked.problems : checked.warnings;
}

function said(pointer: string, detail: string) {
  return { pointer, detail: expect.stringContaining(detail) };
}
