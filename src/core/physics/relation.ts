/** A relation of an edition: a linear sum over settings, pump values and circuit values, held against nothing. Exact. */
import Fraction from 'fraction.js';
import type { Fun } from '../catalogue/edition.ts';
import { decimalOf } from '../quantity/decimal.ts';
import { fromSize, sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';

export type Relation = Fun['relations'][number];
type Term = Relation['sum'][number];

/** What is known of a term; null: it isn't. */
export type KnownTerm = (term: Term) => Quantity | null;

export type Evaluated =
  | { readonly unknown: readonly string[] }
  | {
      /** The bound that the sum misses; null: it holds. */
      readonly broken: 'at most' | 'at least' | null;
      readonly sum: Quantity;
      readonly said: string;
    };

/** Unknown are also values of another quantity than the others: they can't be added. */
export function evaluate({ sum, atMost, atLeast }: Relation, valueIn: KnownTerm): Evaluated {
  const known: Known[] = [];
  const unknown: string[] = [];
  for (const term of sum) {
    const value = valueIn(term);
    const [first] = known;
    if (value === null || !isLike(value, first?.value ?? value)) unknown.push(nameOf(term));
    else known.push({ term, value, times: timesOf(term) });
  }
  const [first] = known;
  if (first === undefined || unknown.length > 0) return { unknown };
  const { unit } = first.value;
  const total = known.reduce((all, { value, times }) => all.add(sizeOf(value).mul(times)), new Fraction(0));
  const sign = total.compare(0);
  return {
    broken: atMost !== undefined && sign > 0 ? 'at most' : atLeast !== undefined && sign < 0 ? 'at least' : null,
    sum: readable(total, unit),
    said: known.map((one, at) => saidTerm(one, at === 0)).join(' '),
  };
}

/** To one decimal; what would be read as nothing there, and isn't, to its first two digits. */
function readable(total: Fraction, unit: string): Quantity {
  const rounded = fromSize(total, unit, { decimals: 1 });
  return Number(rounded.value) === 0 && !total.equals(0) ? fromSize(total, unit, { significant: 2 }) : rounded;
}

function isLike(one: Quantity, other: Quantity): boolean {
  return dimensionOf(one.unit) === dimensionOf(other.unit);
}

function timesOf({ times = 1 }: Term): Fraction {
  return new Fraction(decimalOf(times));
}

function nameOf(term: Term): string {
  if ('setting' in term) return term.setting;
  if ('circuit' in term) return term.circuit;
  return 'pump' in term ? term.pump : 'a value';
}

type Known = { readonly term: Term; readonly value: Quantity; readonly times: Fraction };

function saidTerm({ term, value, times }: Known, isFirst: boolean): string {
  const name = 'value' in term ? '' : `${nameOf(term)} `;
  const factor = times.abs().equals(1) ? '' : `${times.abs().toString()} × `;
  const sign = times.compare(0) < 0 ? '−' : isFirst ? '' : '+';
  return `${sign}${sign === '' ? '' : ' '}${factor}${name}${value.value} ${value.unit}`;
}
