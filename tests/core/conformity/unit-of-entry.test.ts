import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Instrument } from '../../../src/core/conformity/accuracy.ts';
import { assess } from '../../../src/core/conformity/assess.ts';
import { compare, inUnit } from '../../../src/core/quantity/exact.ts';
import type { Quantity } from '../../../src/core/quantity/quantity.ts';
import { q } from './given.ts';

/** What one in the first unit is in the second ends as a decimal, so that the same can be written in both. */
const pairs = [
  ['lbf.ft', 'N.m'],
  ['lbf.in', 'N.m'],
  ['lbf.ft', 'lbf.in'],
  ['bar', 'kPa'],
  ['kPa', 'MPa'],
  ['gal/min', 'L/min'],
  ['in3', 'cm3'],
  ['A', 'mA'],
  ['h', 's'],
] as const;

const hundredths = (min: number, max: number) =>
  fc.integer({ min, max }).map((count) => (count / 100).toFixed(2).replace(/\.?0+$/, ''));

/** Readings on and beside the limits 58 and 64, and on the edges of bands of 0.5, 1 and 2 about them. */
const reading = fc.oneof(
  fc.constantFrom('58', '64', '57', '59', '63', '65', '58.5', '57.5', '63.5', '64.5', '60', '62', '61'),
  hundredths(5500, 6700),
);

describe('the unit of entry', () => {
  it('never changes a verdict, nor what it rests on', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(
        fc.constantFrom(...pairs),
        reading,
        fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
        fc.constantFrom('0', '1', '2', '2.88'),
        fc.option(hundredths(0, 300)),
        fc.option(hundredths(-500, 500), { freq: 2 }),
        fc.constantFrom(0, 0.5, 1),
        ([from, to], value, elsewhere, uncertainty, step, percent, factor) => {
          const as = (number: string, at: number): Quantity => inEither(number, from, to, elsewhere[at] === true);
          const ask = (write: (number: string, at: number) => Quantity) =>
            assess(
              {
                reading: write(value, 0),
                range: { min: write('58', 1), max: write('64', 2) },
                rule: { name: 'guard-band', factor },
              },
              instrumentOf(write, uncertainty, step, percent),
            );
          const [plain, other] = [ask((number) => q(number, from)), ask(as)];
          const of = ({ verdict, zone, canConform, probability, basis, fitness }: typeof plain) => ({
            ...{ verdict, zone, canConform, basis, probability, ratio: fitness.ratio, fit: fitness.fit },
          });
          expect(of(other)).toEqual(of(plain));
          seen.add(plain.zone ?? 'unknown');
        },
      ),
      { numRuns: 500 },
    );
    expect([...seen].sort()).toEqual(['conditional-fail', 'conditional-pass', 'fail', 'pass']);
  });
});

function instrumentOf(
  write: (number: string, at: number) => Quantity,
  uncertainty: string,
  step: string | null,
  percent: string | null,
): Instrument {
  const resolution = step === null ? undefined : write(step, 3);
  if (percent === null) return { permissible: write(uncertainty, 4), resolution };
  const point = { indicated: write('60', 5), deviation: q(percent, '%'), uncertainty: write(uncertainty, 4) };
  return { points: [{ ...point, coverageFactor: '2' }], resolution };
}

function inEither(value: string, from: string, to: string, isOther: boolean): Quantity {
  const written = isOther ? inUnit(q(value, from), to, { decimals: 40 }) : q(value, from);
  if (compare(written, q(value, from)) !== 0) throw new Error('this does not end as a decimal');
  return written;
}
