/** Two folds that share no code, written apart from the same description, agree on histories that nobody thought of. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Content } from '../../../src/core/fit/fit.ts';
import type { Effect, UnitEvent } from '../../../src/core/history/event.ts';
import { fold } from '../../../src/core/history/fold.ts';
import { naiveState } from '../../support/naive-fold.ts';
import { at, event } from './events.ts';

/** Few values of everything, so that events meet: the same day, the same station, the finding that is cleared. */
const places = fc.constantFrom('bleed-seat', 'sense-bore', 'pump/linkage');
const content: fc.Arbitrary<Content> = fc.record({
  elements: fc.constantFrom(null, [], [{ element: 'plug-m5', quantity: 1 }], [{ element: 'orifice-0.6', quantity: 2 }]),
  basis: fc.constantFrom('built', 'plate', 'seen', 'assumed', 'unknown'),
});
const clear = fc.record({ kind: fc.constantFrom('torque', 'seal', 'custody'), place: places });
const finding = fc.record({
  rule: fc.constantFrom('torque-outside', 'joint-due'),
  severity: fc.constantFrom('hold', 'due'),
  pointer: fc.constant('/torques/0'),
  clearedBy: fc.array(clear, { minLength: 1, maxLength: 2 }),
});
/** As JSON is parsed: what fast-check makes has another prototype. */
const effect: fc.Arbitrary<Effect> = fc
  .record(
    {
      born: fc.constantFrom({ kind: 'control', body: 'curlew-block' }, { kind: 'control', body: 'curlew-wedge' }),
      builtAt: fc.constant('2026-01-05T00:00:00.000000Z'),
      found: fc.dictionary(places, content, { maxKeys: 2 }),
      changed: fc.dictionary(places, content, { maxKeys: 2 }),
      function: fc.constantFrom(null, 'load-sense', 'remote-pressure'),
      builtFor: fc.constantFrom({}, { size: '83' }),
      mounted: fc.record({ with: fc.constantFrom('pump-1', 'pump-2'), on: fc.boolean() }),
      settings: fc.dictionary(
        fc.constantFrom('differential', 'pressure-limit'),
        fc.constantFrom(null, { value: '14', unit: 'bar' }, { value: '210', unit: 'bar' }),
        { maxKeys: 2 },
      ),
      circuit: fc.dictionary(
        fc.constantFrom('system-relief', 'highest-signal'),
        fc.constantFrom({ value: '260', unit: 'bar' }, { value: '180', unit: 'bar' }),
        { maxKeys: 2 },
      ),
      custody: fc.constantFrom('in' as const, 'out' as const),
      covers: fc.array(fc.constantFrom('f1', 'f2', 'f3', 'f4'), { minLength: 1, maxLength: 2 }),
      retired: fc.constant(true as const),
      hours: fc.constantFrom({ value: '120', unit: 'h' }, { value: '90.5', unit: 'h' }),
      handsOver: fc.array(fc.record({ fact: fc.constantFrom('f1', 'f2', 'f3', 'f4'), clear }), { maxLength: 2 }),
      concedes: fc.record({
        clear,
        concession: fc.constantFrom(
          null,
          { until: null, limits: [{ inWords: true as const }] },
          { until: '2026-04-01T00:00:00.000000Z', limits: [] },
        ),
      }),
      opens: fc.array(finding, { maxLength: 2 }),
      clears: fc.array(clear, { maxLength: 2 }),
    },
    { requiredKeys: [] },
  )
  .map((made) => JSON.parse(JSON.stringify(made)) as Effect);

/** A record of which the unit has nothing but a judgement, or a correction. */
const brought = fc.record({
  fact: fc.constantFrom('x1', 'x2', 'x3'),
  as: fc.constantFrom('judges', 'judges', 'leaves', 'replaces'),
  day: fc.integer({ min: 1, max: 4 }),
  precision: fc.constantFrom(null, 'day' as const, 'month' as const),
  recorded: fc.integer({ min: 2, max: 6 }),
  after: fc.constantFrom(null, 'f1', 'f2', 'x1'),
});
type Brought = Parameters<Parameters<typeof brought.map>[0]>[0];

function bringing({ fact, as, day, precision, recorded, after }: Brought): Effect {
  if (as === 'replaces') return { replaces: fact };
  if (as === 'leaves') return { judges: fact, placed: null };
  const { performedFrom, performedTo, recordedAt } = event(1, {
    done: precision === null ? at(day) : { at: at(day), precision },
    recorded: at(recorded),
  });
  const placed = { kind: 'movement', performedFrom, performedTo, recordedAt, after: after === fact ? null : after };
  return { judges: fact, placed };
}

const events: fc.Arbitrary<UnitEvent[]> = fc
  .array(
    fc.record({
      day: fc.integer({ min: 1, max: 4 }),
      precision: fc.constantFrom(null, 'day' as const, 'month' as const),
      recorded: fc.integer({ min: 2, max: 28 }),
      after: fc.option(fc.integer({ min: 1, max: 6 })),
      about: fc.option(
        fc.record({
          how: fc.constantFrom('replaces', 'judges', 'leaves'),
          back: fc.integer({ min: 1, max: 5 }),
        }),
      ),
      brought: fc.option(brought, { freq: 3 }),
      effect,
    }),
    { minLength: 1, maxLength: 7 },
  )
  .map((all) =>
    all.map(({ day, precision, recorded, after, effect, about, brought: other }, index) =>
      event(index + 1, {
        done: precision === null ? at(day) : { at: at(day), precision },
        recorded: at(recorded),
        after: after === null || after === index + 1 ? null : `f${after}`,
        effect: {
          ...effect,
          ...(isBringing(all, index)
            ? bringing(other as Brought)
            : aboutAnEarlier(
                all.map((one, nth) => (isBringing(all, nth) ? { how: one.brought?.as ?? '', back: 99 } : one.about)),
                index,
                about,
              )),
        },
      }),
    ),
  );

type About = { how: string; back: number } | null;

/** What replaces another does so once. */
function isBringing(all: readonly { readonly brought: Brought | null }[], index: number): boolean {
  const own = all[index]?.brought ?? null;
  if (own?.as !== 'replaces') return own !== null;
  return all.findIndex(({ brought: one }) => one?.as === 'replaces' && one.fact === own.fact) === index;
}

/** A record is replaced once; what is judged again is not itself such a judgement. */
function aboutAnEarlier(all: readonly About[], index: number, about: About): Effect {
  const target = about === null ? -1 : index - about.back;
  if (about === null || target < 0 || ['judges', 'leaves'].includes(all[target]?.how ?? '')) return {};
  const isTaken = all.slice(0, index).some((one, at) => one?.how === 'replaces' && at - one.back === target);
  if (about.how === 'leaves') return { judges: `f${target + 1}`, placed: null };
  return about.how === 'replaces' && isTaken ? {} : { [about.how]: `f${target + 1}` };
}

it('the state of a unit is the same by both', () => {
  fc.assert(
    fc.property(events, (history) => {
      const byNaive = naiveState(
        history.map(({ performedFrom, performedTo, recordedAt, ...rest }) => ({
          ...{ unit: rest.unit, seq: rest.seq, fact: rest.fact, after: rest.after },
          ...{ from: performedFrom, to: performedTo, recorded: recordedAt },
          effect: rest.effect as Record<string, unknown>,
        })),
      );
      // In another order: the order of work is no matter of how they are given.
      expect(byNaive).toEqual(fold('u', history.toReversed()));
    }),
    { numRuns: 5_000 },
  );
});
