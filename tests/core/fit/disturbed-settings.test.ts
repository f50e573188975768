/** Opening a station loses the settings that it disturbs, and no others. */
import { expect, it } from 'vitest';
import { disturbedBy } from '../../../src/core/fit/disturbed-settings.ts';

it('takes the settings of the stations that were opened, each once; a station that it doesn’t know disturbs none', () => {
  const disturbing = new Map([
    ['sense-adjuster', ['standby']],
    ['sense-spring', ['standby', 'margin']],
    ['bleed-seat', []],
  ]);
  expect(disturbedBy(disturbing, ['sense-adjuster', 'sense-spring', 'elsewhere'])).toEqual(
    new Set(['standby', 'margin']),
  );
  expect(disturbedBy(disturbing, ['bleed-seat'])).toEqual(new Set());
});
