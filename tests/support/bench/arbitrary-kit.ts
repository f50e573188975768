/** Kits that nobody packed, for a body or for another; some are withdrawn or retired. */
import fc from 'fast-check';

export const elements = ['plug', 'orifice-a', 'orifice-b', 'spool-a', 'spool-b', 'insert'] as const;
export const seals = [
  { id: 'ring-1-soft', fits: 'ring-1', fluids: ['mineral'] },
  { id: 'ring-1-hard', fits: 'ring-1' },
  { id: 'ring-2-soft', fits: 'ring-2', fluids: ['mineral', 'ester'] },
  { id: 'ring-3-hard', fits: 'ring-3', fluids: ['ester'] },
] as const;

export const arbitraryKit = fc.record({
  part: fc.integer({ min: 1, max: 30 }),
  /** Tenths: as doubles, one and two of them are more than three. Null: nobody has said. */
  cost: fc.option(
    fc.integer({ min: 0, max: 4 }).map((tenths) => tenths / 10),
    { freq: 3 },
  ),
  withdrawnFrom: fc.option(fc.constantFrom('2026-03-13', '2026-03-14', '2026-03-15'), { freq: 2 }),
  retired: fc.integer({ min: 0, max: 9 }).map((die) => die === 9),
  elsewhere: fc.integer({ min: 0, max: 7 }).map((die) => die === 7),
  contents: fc.uniqueArray(
    fc.record({ item: fc.nat({ max: elements.length + seals.length - 1 }), quantity: fc.integer({ min: 1, max: 3 }) }),
    {
      minLength: 1,
      maxLength: 4,
      selector: (each) => each.item,
    },
  ),
});

type Kit = typeof arbitraryKit extends fc.Arbitrary<infer Value> ? Value : never;

export function kitOf({ part, cost, withdrawnFrom, retired, elsewhere, contents }: Kit, bodyId: string) {
  const items = [...elements, ...seals.map((each) => each.id)];
  return {
    part: `kit-${part}`,
    ...(cost !== null && { cost }),
    withdrawnFrom,
    ...(retired && { retired }),
    bodies: [elsewhere ? 'other' : bodyId],
    contents: contents.map(({ item, quantity }) => ({ element: items[item] ?? 'plug', quantity })),
  };
}
