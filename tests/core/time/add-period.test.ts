/** Calendar arithmetic of ISO 8601 durations; that a day which the month hasn't becomes its last one is our choice. */
import { describe, expect, it } from 'vitest';
import { addPeriod } from '../../../src/core/time/add-period.ts';

describe('a period added to an instant', () => {
  it.each([
    ['2016-03-14T09:25:00.000001Z', 'P10Y', '2026-03-14T09:25:00.000001Z'],
    ['2024-02-29T00:00:00.000000Z', 'P1Y', '2025-02-28T00:00:00.000000Z'],
    ['2024-02-29T00:00:00.000000Z', 'P4Y', '2028-02-29T00:00:00.000000Z'],
    ['2026-01-31T12:00:00.000000Z', 'P1M', '2026-02-28T12:00:00.000000Z'],
    ['2026-11-30T12:00:00.000000Z', 'P18M', '2028-05-30T12:00:00.000000Z'],
    ['2026-12-31T12:00:00.000000Z', 'P90D', '2027-03-31T12:00:00.000000Z'],
    ['2026-12-31T12:00:00.000000Z', 'P0D', '2026-12-31T12:00:00.000000Z'],
    ['2026-12-31T12:00:00.000000Z', 'P9000Y', '9999-12-31T12:00:00.000000Z'],
    ['2026-12-31T12:00:00.000000Z', 'P99999999999999999999D', '9999-12-31T12:00:00.000000Z'],
  ])('%s and %s is %s', (instant, period, sum) => {
    expect(addPeriod(instant, period)).toBe(sum);
  });

  it('is refused where it is none', () => {
    expect(() => addPeriod('2026-12-31T12:00:00.000000Z', 'P1W')).toThrow(RangeError);
  });
});
