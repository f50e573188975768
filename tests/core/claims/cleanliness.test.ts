/** ISO 4406:2021, from memory: scale numbers 0 to 28 of at least 4, 6 and 14 µm, "*" too many to count, "-" not counted. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanlinessCode, parseCleanliness } from '../../../src/core/claims/cleanliness.ts';

describe('a cleanliness code', () => {
  it.each([
    ['20/18/15', [20, 18, 15]],
    ['22/18/13', [22, 18, 13]],
    ['28/28/0', [28, 28, 0]],
    ['*/19/14', ['uncountable', 19, 14]],
    ['*/*/14', ['uncountable', 'uncountable', 14]],
    ['-/18/15', [null, 18, 15]],
    ['-/*/15', [null, 'uncountable', 15]],
  ])('%s is read', (text, numbers) => {
    expect(parseCleanliness(text)).toEqual(numbers);
    expect(cleanlinessCode.parse(text)).toBe(text);
  });

  it.each([
    ['20/18', 'write three numbers'],
    ['20/18/15/11', 'write three numbers'],
    ['29/18/15', '"29" is none of 0 to 28'],
    ['20/18/015', '"015" is none'],
    ['20/ 18/15', '" 18" is none'],
    ['20//15', '"" is none'],
    ['20/-/15', 'only the first number'],
    ['-/18/-', 'only the first number'],
    ['18/20/15', 'no number is higher'],
    ['20/15/18', 'no number is higher'],
    ['20/*/15', 'no number is higher'],
    ['-/15/18', 'no number is higher'],
  ])('%s is refused: %s', (text, why) => {
    expect(parseCleanliness(text)).toContain(why);
    expect(cleanlinessCode.safeParse(text).error?.issues[0]?.message).toContain(why);
  });

  it('of three numbers is taken exactly where they do not rise', () => {
    const scale = fc.integer({ min: 0, max: 28 });
    fc.assert(
      fc.property(scale, scale, scale, (a, b, c) => {
        const read = parseCleanliness(`${a}/${b}/${c}`);
        expect(typeof read === 'string').toBe(b > a || c > b);
      }),
    );
  });
});
