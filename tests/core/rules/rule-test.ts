/** How a rule is tested: one field that gives its findings, and a neighbour of that field that gives none. */
import type { Clear } from '../../../src/core/rules/finding.ts';
import { conversionOnPump, type Setup } from '../../support/cases.ts';

export type RuleTest = {
  /** Completes "<rule>: …". */
  readonly says: string;
  readonly on: () => Setup;
  /** The one field, by JSON pointer into the setup. */
  readonly at: string;
  readonly wrong: unknown;
  readonly right: unknown;
  /** Every finding of the rule that the wrong field gives. */
  readonly gives: readonly {
    readonly pointer: string;
    readonly expected?: string | null;
    readonly found?: string | null;
    readonly because?: string;
    readonly clearedBy?: readonly Clear[];
  }[];
};

export type RuleTests = Readonly<Record<string, readonly RuleTest[]>>;

/** Leave to use, given for the record of these tests. */
export const concession: Clear = { kind: 'disposition', place: 'fact' };

/** The pointer to what the demo edition lists under this id, a function of the block. */
export function inEdition(list: 'elements' | 'functions' | 'checks', id: string): string {
  const index = conversionOnPump().edition[list].findIndex((one) => one.id === id);
  if (index < 0) throw new Error(`the edition has no ${id}`);
  return `/edition/${list}/${index}`;
}

/** The pointer to a joint of the block. */
export function jointInEdition(id: string): string {
  const index = conversionOnPump().edition.bodies[0]?.joints.findIndex((one) => one.id === id) ?? -1;
  if (index < 0) throw new Error(`the block has no joint ${id}`);
  return `/edition/bodies/0/joints/${index}`;
}
