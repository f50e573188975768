import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  addMicroseconds,
  compareInstants,
  exactTimeSchema,
  parseTime,
  timeSchema,
} from '../../../src/core/time/instant.ts';

const exact = (text: string) => ({ from: text, to: text });

describe('an exact time', () => {
  it.each([
    // RFC 3339 section 5.8, the examples without a leap second.
    ['1985-04-12T23:20:50.52Z', '1985-04-12T23:20:50.520000Z'],
    ['1996-12-19T16:39:57-08:00', '1996-12-20T00:39:57.000000Z'],
    ['1937-01-01T12:00:27.87+00:20', '1937-01-01T11:40:27.870000Z'],
    ['2026-03-14T10:25:00+01:00', '2026-03-14T09:25:00.000000Z'],
    ['2026-03-14T10:25:00.123456+01:00', '2026-03-14T09:25:00.123456Z'],
    ['2026-03-14t10:25:00.000001z', '2026-03-14T10:25:00.000001Z'],
    ['1969-12-31T23:59:59.999999Z', '1969-12-31T23:59:59.999999Z'],
    ['2024-02-29T00:00:00+14:00', '2024-02-28T10:00:00.000000Z'],
    ['2026-03-14T10:25:00-00:00', '2026-03-14T10:25:00.000000Z'],
  ])('%s is %s, from and to', (written, utc) => {
    expect(timeSchema.parse(written)).toBe(written);
    expect(parseTime(written)).toEqual(exact(utc));
  });
});

describe('a time known to a precision', () => {
  it.each([
    ['minute', '2026-03-14T10:25:33+01:00', '2026-03-14T09:25:00.000000Z', '2026-03-14T09:25:59.999999Z'],
    ['day', '2026-03-14T10:25:33.5+01:00', '2026-03-13T23:00:00.000000Z', '2026-03-14T22:59:59.999999Z'],
    ['day', '2026-03-14T00:00:00-08:00', '2026-03-14T08:00:00.000000Z', '2026-03-15T07:59:59.999999Z'],
    ['month', '2026-03-14T10:25:00+01:00', '2026-02-28T23:00:00.000000Z', '2026-03-31T22:59:59.999999Z'],
    ['month', '2024-02-01T00:00:00Z', '2024-02-01T00:00:00.000000Z', '2024-02-29T23:59:59.999999Z'],
    ['month', '2026-12-31T23:59:59Z', '2026-12-01T00:00:00.000000Z', '2026-12-31T23:59:59.999999Z'],
    ['minute', '1969-12-31T23:59:30Z', '1969-12-31T23:59:00.000000Z', '1969-12-31T23:59:59.999999Z'],
    ['month', '1969-12-31T23:59:30.5Z', '1969-12-01T00:00:00.000000Z', '1969-12-31T23:59:59.999999Z'],
  ] as const)('to the %s of %s, in the offset written, is %s to %s', (precision, at, from, to) => {
    const input = { at, precision };
    expect(timeSchema.parse(input)).toEqual(input);
    expect(parseTime(input)).toEqual({ from, to });
  });
});

describe('what is refused', () => {
  const example = '"2026-03-14T10:25:00+01:00"';
  it.each([
    ['2026-03-14T10:25:00', `say the offset from UTC: write ${example}, or end the time with Z`],
    ['2026-03-14T10:25:00.5', `say the offset from UTC: write ${example}, or end the time with Z`],
    ['2026-03-14', `write date, time and offset, such as ${example}`],
    ['', `write date, time and offset, such as ${example}`],
    ['14.03.2026 10:25', `write date, time and offset, such as ${example}`],
    ['2026-03-14 10:25:00Z', `write date, time and offset, such as ${example}`],
    ['2026-3-14T10:25:00Z', `write date, time and offset, such as ${example}`],
    ['2026-03-14T10:25:00Z\n', `write date, time and offset, such as ${example}`],
    ['T'.repeat(200), `write date, time and offset, such as ${example}`],
    [`2026-03-14T10:25:00.${'0'.repeat(100)}Z`, `say the offset from UTC: write ${example}, or end the time with Z`],
    ['2026-03-14T10:25Z', `write the seconds too, such as ${example}`],
    ['2026-03-14T10:25:00,5Z', `write the time as hours, minutes and seconds, such as ${example}`],
    ['2026-03-14T10:25:00+0100', `write the time as hours, minutes and seconds, such as ${example}`],
    ['2026-03-14T10:25:00.1234567Z', 'write at most 6 decimals of a second'],
    ['0206-03-14T10:25:00Z', 'the year must lie between 1900 and 2999'],
    ['3026-03-14T10:25:00Z', 'the year must lie between 1900 and 2999'],
    ...['2026-02-29 10:25:00', '2026-13-01 10:25:00', '2026-03-14 24:00:00', '1990-12-31 23:59:60'].map((none) => [
      `${none.replace(' ', 'T')}Z`,
      `there is no ${none}: check the day, and that hours end at 23 and seconds at 59`,
    ]),
    ['2026-03-14T10:25:00+24:00', 'there is no offset +24:00: write one such as +01:00'],
    ['2026-03-14T10:25:00-01:60', 'there is no offset -01:60: write one such as +01:00'],
  ] as [string, string][])('%j', (text, problem) => {
    expect(messages(text)).toEqual([` ${problem}`]);
    expect(messages({ at: text, precision: 'day' })).toEqual([`/at ${problem}`]);
    expect(() => parseTime(text)).toThrow(new RangeError(problem));
  });

  it.each([
    [1773480300],
    [null],
    [undefined],
    [{ at: '2026-03-14T10:25:00Z' }],
    [{ at: '2026-03-14T10:25:00Z', precision: 'year' }],
  ])('%j, with both forms shown', (input) => {
    expect(messages(input)).toEqual([
      ` write a time with its offset, such as ${example}, or {"at": ${example}, "precision": "minute" | "day" | "month"}`,
    ]);
  });

  it('a field beside the two', () => {
    expect(messages({ at: '2026-03-14T10:25:00Z', precision: 'day', zone: 'CET' })).toEqual([
      ' Unrecognized key: "zone"',
    ]);
  });

  it('a number where only an exact time is taken', () => {
    expect(exactTimeSchema.safeParse(7).error?.issues[0]?.message).toBe(
      `write a time with its offset, such as ${example}`,
    );
  });
});

describe('the JSON schema of a time', () => {
  it('has both forms, for input and output', () => {
    for (const io of ['input', 'output'] as const) {
      expect(z.toJSONSchema(timeSchema, { io })).toMatchObject({
        anyOf: [
          { type: 'string', format: 'date-time' },
          { type: 'object', required: ['at', 'precision'] },
        ],
      });
    }
  });
});

describe('instants', () => {
  const microseconds = fc.bigInt({ min: -2_000_000_000_000_000n, max: 32_000_000_000_000_000n });
  const epoch = '1970-01-01T00:00:00.000000Z';

  it('move by microseconds across every border', () => {
    expect(addMicroseconds('2026-12-31T23:59:59.999999Z', 1)).toBe('2027-01-01T00:00:00.000000Z');
    expect(addMicroseconds(epoch, -1)).toBe('1969-12-31T23:59:59.999999Z');
    expect(addMicroseconds('2026-03-14T09:25:00.000999Z', 1n)).toBe('2026-03-14T09:25:00.001000Z');
    // Five minutes, by which performedAt may lie ahead.
    expect(addMicroseconds('2026-03-14T09:25:00.000001Z', 300_000_000)).toBe('2026-03-14T09:30:00.000001Z');
  });

  it('come back when moved there and back, one microsecond never being lost', () => {
    fc.assert(
      fc.property(microseconds, microseconds, (a, b) => {
        const instant = addMicroseconds(epoch, a);
        expect(addMicroseconds(instant, b - a)).toBe(addMicroseconds(epoch, b));
        expect(compareInstants(instant, addMicroseconds(instant, 1))).toBe(-1);
      }),
    );
  });

  it('agree with Date to the millisecond', () => {
    fc.assert(
      fc.property(fc.integer({ min: -2_000_000_000_000, max: 32_000_000_000_000 }), (milliseconds) => {
        const text = new Date(milliseconds).toISOString();
        expect(parseTime(text)).toEqual(exact(`${text.slice(0, -1)}000Z`));
      }),
    );
  });

  it('are in the order of their texts', () => {
    fc.assert(
      fc.property(microseconds, microseconds, (a, b) => {
        expect(compareInstants(addMicroseconds(epoch, a), addMicroseconds(epoch, b))).toBe(a < b ? -1 : a > b ? 1 : 0);
      }),
    );
  });

  it('are of one form only', () => {
    expect(() => addMicroseconds('2026-03-14T09:25:00Z', 1)).toThrow('is not UTC text with six decimals');
    expect(compareInstants(epoch, epoch)).toBe(0);
  });
});

function messages(input: unknown): string[] {
  const issues = timeSchema.safeParse(input).error?.issues ?? [];
  return issues.map(({ path, message }) => `${path.map((step) => `/${String(step)}`).join('')} ${message}`);
}
