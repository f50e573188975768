/** What an instrument may deviate by, where nothing but its type and class is known. */
import type Fraction from 'fraction.js';
import { compare, sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';

/** Of ISO 6789: I indicates, II is set and clicks (or slips); its classes are letters. */
export type TorqueTool = { readonly type: 'I' | 'II'; readonly class: string; readonly max: Quantity };

/**
 * The permissible deviation of a hand torque tool in % of the reading, by ISO 6789 (2003 edition, as quoted by makers of
 * tools): ± 4 % for a type II class A tool whose maximum exceeds 10 N·m, ± 6 % where it doesn't. What counts is the
 * tool's maximum, not the torque that it is set to. Other types and classes are taken with the wider ± 6 %; a shop
 * whose tool is better states its permissible deviation, which then counts instead.
 */
export function permissibleOfTorqueTool(tool: TorqueTool): Quantity {
  const isNarrow = tool.type === 'II' && tool.class.toUpperCase() === 'A' && compare(tool.max, smallTool) > 0;
  return { value: isNarrow ? '4' : '6', unit: '%' };
}

const smallTool: Quantity = { value: '10', unit: 'N.m' };

/** A gauge or another instrument of class n: n % of its span, anywhere on its scale. */
export type ClassedInstrument = {
  readonly class: string;
  readonly range: { readonly min: Quantity; readonly max: Quantity };
};

/**
 * The permissible deviation of an instrument of class n as a difference in the base unit: n % of the span (EN 837-1:1996
 * table 11), taken from zero where the range begins above it, since a range may be stated narrower than the scale.
 * Null where the class is no number above 0.
 */
export function permissibleOfClass({ class: name, range: { min, max } }: ClassedInstrument): Fraction | null {
  if (!/^\d+(\.\d+)?$/.test(name) || Number(name) === 0) return null;
  const [least, most] = [sizeOf(min), sizeOf(max)];
  const fromZero = dimensionOf(max.unit) !== 'temperature' && least.compare(0) > 0;
  return (fromZero ? most : most.sub(least)).mul(name).div(100);
}
