/** A reading against its limits as a picture: it says what the numbers say, and nothing that isn't known. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { limitsPicture, type Pictured } from '../../src/pages/limits-picture.ts';

const q = (value: number | string, unit = 'N.m') => ({ value: String(value), unit }) as Pictured['reading'];
const given = (value: number | string, more: Partial<Pictured> = {}): Pictured => ({
  ...{ min: q(58), max: q(64), target: null, reading: q(value), estimate: q(value) },
  ...{ uncertainty: q('0.8'), guardBand: null, verdict: 'conforms', ...more },
});

const drawn = (one: Pictured): string => limitsPicture(one, 'in words')?.markup ?? '';
const first = (markup: string, pattern: RegExp): number => Number(pattern.exec(markup)?.[1]);
const wallsIn = (markup: string): number[] =>
  [...markup.matchAll(/d="M([\d.]+) 4V28" stroke="#000" stroke-width="2\.5"/g)].map((match) => Number(match[1]));
const discAt = (markup: string): number => first(markup, /d="M([\d.]+) 16a5/) + 5;
const crossAt = (markup: string): number => first(markup, /d="M([\d.]+) 11l10 10/) + 5;
const whiskerIn = (markup: string): number[] =>
  (/d="M([\d.]+) 16H([\d.]+)M[^"]*" fill="none" stroke="#000" stroke-width="1\.6"/.exec(markup) ?? [])
    .slice(1)
    .map(Number);

describe('the picture of a reading against its limits', () => {
  it('has the reading between the limits where it is between them, in proportion', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 600 }), (tenths) => {
        const markup = drawn(given((5800 + tenths) / 100));
        const [min = 0, max = 0] = wallsIn(markup);
        expect((discAt(markup) - min) / (max - min)).toBeCloseTo(tenths / 600, 1);
      }),
      { numRuns: 100 },
    );
  });

  it('has it beyond the limit that it misses, at the edge with an arrow where it is far off', () => {
    const near = drawn(given('65.5', { verdict: 'outside' }));
    expect(crossAt(near)).toBeGreaterThan(wallsIn(near)[1] ?? 0);
    expect(near).not.toMatch(/l?Z"\/>/);
    const far = drawn(given('9.9', { verdict: 'outside' }));
    expect(crossAt(far)).toBeLessThan(wallsIn(far)[0] ?? 0);
    expect(far).toMatch(/L[\d.]+ 16L[\d.]+ 21Z"\/>/);
  });

  it('puts a reading in another unit where it belongs', () => {
    // 61 N·m is 44.9914 lbf·ft: 1 lbf·ft = 1.355 818 N·m (NIST SP 811, app. B.8).
    const imperial = { reading: q('44.9914', 'lbf.ft'), estimate: q('44.9914', 'lbf.ft') };
    const uncertainty = q('0.59', 'lbf.ft');
    expect(discAt(drawn(given('61', { ...imperial, uncertainty })))).toBeCloseTo(discAt(drawn(given('61'))), 0);
  });

  it('has a whisker of twice the standard uncertainty on either side', () => {
    const markup = drawn(given('61', { uncertainty: q('1.5') }));
    // ± 3 N·m about 61 is from limit to limit.
    expect(whiskerIn(markup)).toEqual(wallsIn(markup));
  });

  it('has a question mark and no whisker where the uncertainty is not known, and neither where there is none', () => {
    const unknown = drawn(given('61', { uncertainty: null }));
    expect([whiskerIn(unknown), unknown.includes('>?</text>')]).toEqual([[], true]);
    const none = drawn(given('61', { uncertainty: q('0') }));
    expect([whiskerIn(none), none.includes('>?</text>')]).toEqual([[], false]);
  });

  it.each([
    ['min', 'max'],
    ['max', 'min'],
  ] as const)('without a %s has one wall alone and is open on the other side', (missing, there) => {
    const markup = drawn(given('61', { [missing]: null }));
    expect(wallsIn(markup)).toHaveLength(1);
    const [wall = 0] = wallsIn(markup);
    expect(discAt(markup) < wall).toBe(there === 'max');
    const allowed = [first(markup, /<rect x="([\d.]+)"/), first(markup, /width="([\d.]+)" height/)] as const;
    expect(missing === 'min' ? allowed[0] : allowed[0] + allowed[1]).toBeCloseTo(missing === 'min' ? 0 : 200, 5);
  });

  it('shades the guard band within the limits, and all between them where it takes that up', () => {
    const linesIn = (markup: string) => [...markup.matchAll(/M([\d.]+) 9V23/g)].map((match) => Number(match[1]));
    const narrow = drawn(given('61', { guardBand: q('1') }));
    const [min = 0, max = 0] = wallsIn(narrow);
    const share = (x: number) => (x - min) / (max - min);
    const shaded = linesIn(narrow).map(share);
    expect(shaded.length).toBeGreaterThan(4);
    for (const one of shaded) expect(one <= 1 / 6 + 0.01 || one >= 5 / 6 - 0.01).toBe(true);
    const wide = drawn(given('61', { guardBand: q('5') }));
    expect(linesIn(wide).some((x) => x > 95 && x < 105)).toBe(true);
    for (const x of linesIn(wide)) {
      expect(x).toBeGreaterThanOrEqual(wallsIn(wide)[0] ?? 0);
      expect(x).toBeLessThanOrEqual(wallsIn(wide)[1] ?? 0);
    }
  });

  it('tells verdicts apart by shape', () => {
    const [within, undecided, outside] = ['conforms', 'undecided', 'outside'].map((verdict) =>
      drawn(given('61', { verdict })),
    );
    expect(new Set([within, undecided, outside]).size).toBe(3);
    expect([within, undecided, outside].map((markup) => Number.isNaN(discAt(markup ?? '')))).toEqual([
      ...[false, true, true],
    ]);
    expect(crossAt(outside ?? '')).toBe(discAt(within ?? ''));
  });

  it('shows beside the estimate what the instrument showed, where that is another', () => {
    expect(drawn(given('61'))).not.toContain('L100 9Z');
    expect(drawn(given('62', { reading: q('61') }))).toMatch(/M[\d.]+ 1H[\d.]+L[\d.]+ 9Z/);
  });

  it('is not there without limits, or where the reading is of something else', () => {
    expect(limitsPicture(given('61', { min: null, max: null }), '')).toBeNull();
    expect(limitsPicture(given('61', { reading: q('61', 'bar'), estimate: q('61', 'bar') }), '')).toBeNull();
  });

  it('never leaves its frame or lacks a number, whatever was kept', () => {
    const size = fc.integer({ min: -1_000_000, max: 1_000_000 }).map((thousandths) => q(thousandths / 1000));
    const some = fc.option(size);
    fc.assert(
      fc.property(
        some,
        some,
        some,
        size,
        size,
        fc.option(fc.nat(1_000_000)),
        fc.option(fc.nat(1_000_000)),
        (...all) => {
          const [min, max, target, reading, estimate, u, w] = all;
          const uncertainty = u === null ? null : q(u / 1000);
          const guardBand = w === null ? null : q(w / 1000);
          const markup = drawn({ min, max, target, reading, estimate, uncertainty, guardBand, verdict: 'outside' });
          expect(markup).not.toMatch(/NaN|Infinity|undefined/);
          for (const [, x] of markup.matchAll(/M(-?[\d.]+) /g)) {
            expect(Number(x)).toBeGreaterThanOrEqual(-5);
            expect(Number(x)).toBeLessThanOrEqual(205);
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});
