/** What counts as flat. */
import { expect, it } from 'vitest';
import { flatnessOf } from './flatness.ts';

const minutes = Array.from({ length: 60 }, (_, minute) => minute);

it('warming up and the saw of collected garbage are flat, a leak is not', () => {
  const warming = minutes.map((minute) => (minute < 10 ? 150 + 10 * minute : 250 + 20 * (minute % 3)));
  expect(flatnessOf(warming)).toMatchObject({ early: 270, late: 270, flat: true });
  const leaking = minutes.map((minute) => 250 + 2 * minute);
  expect(flatnessOf(leaking)).toMatchObject({ early: 294, late: 354, flat: false });
});

it('says that too few samples say nothing', () => {
  expect(() => flatnessOf(minutes.slice(0, 7))).toThrow('7 samples say nothing');
});
