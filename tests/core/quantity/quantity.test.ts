import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { decimalOf } from '../../../src/core/quantity/decimal.ts';
import { quantitySchema, significantDigits } from '../../../src/core/quantity/quantity.ts';

function read(value: unknown, unit: unknown = 'N.m') {
  const result = quantitySchema.safeParse({ value, unit });
  return result.success ? result.data : result.error.issues.map(({ path, message }) => `/${path.join('/')} ${message}`);
}

describe('reading a measured value', () => {
  it.each(['61.0', '61', '0', '0.060', '-0.5', '-40', '123456.789012345', '0.123456789012345'])(
    'keeps %s as read',
    (value) => {
      expect(read(value)).toEqual({ value, unit: 'N.m' });
    },
  );

  it.each([
    [61, '61'],
    [60.5, '60.5'],
    [-0, '0'],
    [1e-7, '0.0000001'],
    [-1.5e-7, '-0.00000015'],
  ])('keeps the number %d as its shortest decimal %s', (number, value) => {
    expect(read(number)).toEqual({ value, unit: 'N.m' });
  });

  it.each([
    ['61,0', 'write a decimal point, not a comma: "61.0"'],
    ['1,234.5', 'write a decimal point and no commas, such as "61.0"'],
    ['6.1e1', 'write the digits out, without an exponent, such as "61.0"'],
    ['61 ', 'leave out the spaces: write the digits alone, such as "61.0"'],
    ['1 500', 'leave out the spaces: write the digits alone, such as "61.0"'],
    ['+61', 'leave out the plus sign'],
    ['.5', 'write a digit before the decimal point: "0.5"'],
    ['61.', 'write a digit after the decimal point, or leave the point out: "61"'],
    ['-0061.0', 'leave out the leading zeros: "-61.0"'],
    ['1234567890123456', 'write a decimal of at most 15 digits, such as "61.0"'],
    ['123456789.1234567', 'write a decimal of at most 15 digits, such as "61.0"'],
    ['NaN', 'write a decimal such as "61.0"'],
    ['61 N.m', 'write a decimal such as "61.0"'],
    ['', 'write a decimal such as "61.0"'],
    ['６１', 'write a decimal such as "61.0"'],
    [Number.NaN, 'this is not a number that can be measured: write a decimal such as "61.0"'],
    [Number.POSITIVE_INFINITY, 'this is not a number that can be measured: write a decimal such as "61.0"'],
    [0.1 + 0.2, 'write a decimal of at most 15 digits, such as "61.0"'],
    [1e21, 'write a decimal of at most 15 digits, such as "61.0"'],
    [1e-16, 'write a decimal of at most 15 digits, such as "61.0"'],
    [null, 'write a decimal as text, such as "61.0", or as a number'],
    [undefined, 'write a decimal as text, such as "61.0", or as a number'],
  ])('refuses the value %j and says: %s', (value, message) => {
    expect(read(value)).toEqual([`/value ${message}`]);
  });

  it('names the unit that was probably meant', () => {
    expect(read('61', 'Nm')).toEqual(['/unit "Nm" is not a unit used here: write "N.m"']);
    expect(read('61', 'Pa')).toEqual(['/unit "Pa" is not a unit used here: write "MPa" or "kPa"']);
  });

  it('lists all units where none is near, and shows no more than the beginning of what was written', () => {
    expect(read('61', 'furlong'.repeat(9))).toEqual([
      expect.stringMatching(
        /^\/unit "furlongfurlongfurlon" is not a unit used here: write one of N\.m, lbf\.ft, .*, kg$/,
      ),
    ]);
    expect(read('61', 7)).toEqual([expect.stringMatching(/^\/unit write the unit as text: one of N\.m, /)]);
  });

  it('reports both problems of one quantity at once', () => {
    expect(read('61,0', 'Nm')).toHaveLength(2);
  });

  it('refuses a field beside the two', () => {
    expect(quantitySchema.safeParse({ value: '61', unit: 'N.m', note: '' }).success).toBe(false);
  });
});

describe('the JSON schema of a measured value', () => {
  it('takes text or a number and gives text, each with its pattern and the closed list of units', () => {
    const input = z.toJSONSchema(quantitySchema, { io: 'input' });
    const output = z.toJSONSchema(quantitySchema, { io: 'output' });
    expect(input.properties?.['value']).toMatchObject({
      anyOf: [{ type: 'string', pattern: expect.any(String) }, { type: 'number' }],
    });
    expect(output.properties?.['value']).toMatchObject({ type: 'string', pattern: expect.any(String) });
    expect(input.properties?.['unit']).toMatchObject({
      type: 'string',
      enum: expect.arrayContaining(['N.m', 'mm2/s']),
    });
    expect(input.additionalProperties).toBe(false);
  });
});

describe('digits', () => {
  it.each([
    [1.5e21, '1500000000000000000000'],
    [-2e-9, '-0.000000002'],
    [0.5, '0.5'],
  ])('writes %d out as %s', (number, text) => {
    expect(decimalOf(number)).toBe(text);
    expect(Number(text)).toBe(number);
  });

  it.each([
    ['0.060', 2],
    ['-61.0', 3],
    ['1500', 4],
    ['0.0', 1],
  ])('counts in %s the significant digits: %d', (text, count) => {
    expect(significantDigits(text)).toBe(count);
  });
});
