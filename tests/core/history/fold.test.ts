import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Content } from '../../../src/core/fit/fit.ts';
import { effectiveEvents } from '../../../src/core/history/effective-events.ts';
import type { Effect, OpenFinding, UnitEvent } from '../../../src/core/history/event.ts';
import { agrees, contentOf, contradictions, eventsAt, fold } from '../../../src/core/history/fold.ts';
import { at, event, instant, onDay } from './events.ts';

const seen = (element: string): Content => ({ elements: [{ element, quantity: 1 }], basis: 'seen' });
const assumed = (element: string): Content => ({ elements: [{ element, quantity: 1 }], basis: 'assumed' });
const pump = { kind: 'pump', series: 'curlew', size: '83', rotation: 'clockwise', fluid: null } as const;
const bar = (value: string) => ({ value, unit: 'bar' });
const open = (rule: string, severity: 'hold' | 'due', place: string): OpenFinding => ({
  ...{ rule, severity, pointer: '', clearedBy: [{ kind: 'torque', place }] },
});
const seatAfter = (...events: readonly UnitEvent[]) => fold('u', events).stations['seat'];

describe('the state of a unit', () => {
  it('is empty and released before anything is known of it', () => {
    expect(fold('u', [])).toEqual({
      ...{ unit: 'u', seq: 0, born: null, builtAt: null, stations: {}, function: null, builtFor: {}, mounted: null },
      ...{ settings: {}, custody: null, retired: null, hours: null, open: [], mergedInto: null, status: 'released' },
    });
  });

  it('has the highest number of its events, and what the unit is, whenever that was seen', () => {
    const state = fold('u', [
      event(2, { done: at(1) }),
      event(1, { done: at(9), effect: { born: pump, builtAt: instant(1) } }),
    ]);
    expect(state).toMatchObject({ seq: 2, born: pump, builtAt: instant(1) });
  });

  it('is the same whichever of two registrations is given first', () => {
    const one = event(1, { done: at(3), effect: { born: pump } });
    const other = event(2, { done: at(2), effect: { born: { ...pump, size: '52' } } });
    expect(fold('u', [one, other]).born).toEqual(fold('u', [other, one]).born);
  });

  it('has of each station what was last found or left there, and by which record', () => {
    const found = event(1, { done: at(1), effect: { found: { seat: seen('a') } } });
    const changed = event(2, { done: at(2), effect: { found: { seat: seen('b') }, changed: { seat: seen('c') } } });
    expect(seatAfter(found)).toEqual({ ...seen('a'), record: 'f1' });
    expect(seatAfter(found, changed)).toEqual({ ...seen('c'), record: 'f2' });
    expect(contentOf(fold('u', [found, changed]), 'seat')).toEqual(seen('c'));
    expect(contentOf(fold('u', [found]), 'bore')).toEqual({ elements: null, basis: 'unknown' });
  });

  it('takes a late record in at the time of its work', () => {
    const later = event(1, { done: at(5), effect: { changed: { seat: seen('b') } } });
    const late = event(2, { done: at(3), effect: { changed: { seat: seen('a'), bore: seen('s') } } });
    expect(fold('u', [later, late]).stations).toMatchObject({ seat: { record: 'f1' }, bore: { record: 'f2' } });
  });

  it('puts no assumption over what a late record saw, and sight over an assumption', () => {
    const assuming = event(1, { done: at(5), effect: { found: { seat: assumed('a') } } });
    const late = event(2, { done: at(3), effect: { found: { seat: seen('b') } } });
    expect(seatAfter(assuming, late)).toEqual({ ...seen('b'), record: 'f2' });
    expect(seatAfter(assuming, event(2, { done: at(6), effect: { found: { seat: seen('b') } } }))).toMatchObject(
      seen('b'),
    );
    const again = event(2, { done: at(6), effect: { found: { seat: assumed('b') } } });
    expect(seatAfter(assuming, again)).toMatchObject(assumed('b'));
  });

  it('keeps its function and what it is built for until a record says otherwise, also that it has none', () => {
    const first = event(1, { done: at(1), effect: { function: 'sense', builtFor: { size: '83' } } });
    expect(fold('u', [first, event(2, { done: at(2) })])).toMatchObject({
      function: 'sense',
      builtFor: { size: '83' },
    });
    const second = event(2, { done: at(2), effect: { function: null, builtFor: {} } });
    expect(fold('u', [first, second])).toMatchObject({ function: null, builtFor: {} });
  });

  it('is mounted since the end of the mounting, and off after a taking off from the same', () => {
    const on = event(1, { done: at(2, 8), effect: { mounted: { with: 'p1', on: true } } });
    const off = (from: string) => event(2, { done: at(3), effect: { mounted: { with: from, on: false } } });
    expect(fold('u', [on]).mounted).toEqual({ with: 'p1', record: 'f1', since: instant(2, 8) });
    expect(fold('u', [on, off('p1')]).mounted).toBeNull();
    expect(fold('u', [on, off('p2')]).mounted).toMatchObject({ with: 'p1' });
    expect(fold('u', [off('p1')]).mounted).toBeNull();
  });

  it('has settings of the pair: a mounting or a taking off leaves only what it reads itself', () => {
    const set = event(1, { done: at(1), effect: { settings: { limit: bar('210'), differential: bar('20') } } });
    expect(fold('u', [set]).settings).toEqual({
      limit: { ...bar('210'), record: 'f1' },
      differential: { ...bar('20'), record: 'f1' },
    });
    const disturbed = event(2, { done: at(2), effect: { settings: { differential: null, limit: bar('200') } } });
    expect(fold('u', [set, disturbed]).settings).toEqual({ limit: { ...bar('200'), record: 'f2' } });
    const on = event(2, { done: at(2), effect: { mounted: { with: 'p', on: true }, settings: { limit: bar('180') } } });
    expect(fold('u', [set, on]).settings).toEqual({ limit: { ...bar('180'), record: 'f2' } });
    expect(fold('u', [set, event(2, { done: at(2), effect: { mounted: { with: 'p', on: false } } })]).settings).toEqual(
      {},
    );
  });

  it('has the circuit of the pair, each value as last stated, until a mounting or a taking off; and no member without one', () => {
    const said = event(1, { done: at(1), effect: { circuit: { relief: bar('260'), signal: bar('180') } } });
    const again = event(2, { done: at(2), effect: { circuit: { signal: bar('170') } } });
    expect(fold('u', [said, again]).circuit).toEqual({
      relief: { ...bar('260'), record: 'f1' },
      signal: { ...bar('170'), record: 'f2' },
    });
    const on = { mounted: { with: 'p', on: true } };
    const fresh = event(2, { done: at(2), effect: { ...on, circuit: { signal: bar('170') } } });
    expect(fold('u', [said, fresh]).circuit).toEqual({ signal: { ...bar('170'), record: 'f2' } });
    expect(fold('u', [said, event(2, { done: at(2), effect: on })])).not.toHaveProperty('circuit');
    expect(fold('u', [])).not.toHaveProperty('circuit');
  });

  it('is held while a hold is open, incomplete while only a due is, else released', () => {
    const opening = (effect: Effect) => fold('u', [event(1, { done: at(1), effect })]).status;
    expect(opening({ opens: [open('a', 'due', 'x'), open('b', 'hold', 'y')] })).toBe('held');
    expect(opening({ opens: [open('a', 'due', 'x')] })).toBe('incomplete');
    expect(opening({ opens: [] })).toBe('released');
  });

  it('is cleared by evidence that comes later in the order of work, not by what came before', () => {
    const opening = event(1, { done: at(2), effect: { opens: [open('a', 'hold', 'x')] } });
    const clearing = (day: number) => event(2, { done: at(day), effect: { clears: [{ kind: 'torque', place: 'x' }] } });
    expect(fold('u', [opening, clearing(3)]).status).toBe('released');
    expect(fold('u', [opening, clearing(1)]).status).toBe('held');
    expect(fold('u', [opening]).open).toEqual([{ ...open('a', 'hold', 'x'), fact: 'f1' }]);
  });

  it('is no hold any more that custody clears once a movement covers its record, also one of earlier work', () => {
    const custody = {
      ...open('not-in-custody', 'hold', 'control'),
      clearedBy: [{ kind: 'custody', place: 'control' }],
    } as const;
    const worked = event(1, { done: at(5), effect: { opens: [custody, open('torque-outside', 'hold', 'cap')] } });
    const came = (day: number, covers: string[]) => event(2, { done: at(day), effect: { custody: 'in', covers } });
    for (const day of [3, 7]) {
      const rules = fold('u', [worked, came(day, ['f1'])]).open.map((one) => one.rule);
      expect(rules).toEqual(['torque-outside']);
      expect(fold('u', [worked, came(day, ['f9'])]).open).toHaveLength(2);
    }
    expect(fold('u', eventsAt([worked, came(7, ['f1'])], instant(6), null)).open).toHaveLength(2);
  });

  it('is not made incomplete by a due that was handed over, which stays until its evidence comes', () => {
    const opened = event(1, {
      done: at(1),
      effect: { opens: [open('joint-due', 'due', 'cap'), open('x', 'hold', 'cap')] },
    });
    const clear = { kind: 'torque', place: 'cap' } as const;
    const handed = event(2, { done: at(2), effect: { handsOver: [{ fact: 'f1', clear }] } });
    const due = event(1, { done: at(1), effect: { opens: [open('joint-due', 'due', 'cap')] } });
    expect(fold('u', [opened, handed]).open.map((one) => one.handedOver)).toEqual(['f2', undefined]);
    expect(fold('u', [opened, handed]).status).toBe('held');
    expect(fold('u', [due, handed]).status).toBe('released');
    expect(fold('u', [due, event(2, { done: at(2), effect: { handsOver: [{ fact: 'f3', clear }] } })]).status).toBe(
      'incomplete',
    );
    expect(fold('u', [due, handed, event(3, { done: at(3), effect: { clears: [clear] } })]).open).toEqual([]);
  });

  it('knows by which record it was last said to be in or out, how long it has run, and since when it is retired', () => {
    const events = [
      event(1, { done: at(1), effect: { custody: 'in', hours: { value: '10', unit: 'h' } } }),
      event(2, { done: at(3), effect: { custody: 'out', retired: true } }),
      event(3, { done: at(2), effect: { hours: { value: '9', unit: 'h' } } }),
    ];
    expect(fold('u', events)).toMatchObject({
      custody: { record: 'f2', is: 'out' },
      hours: { value: '9', unit: 'h', record: 'f3' },
      retired: { record: 'f2', since: instant(3) },
    });
  });

  it('is cleared of what was before by a record that opens the same again', () => {
    const again: Effect = { opens: [open('a', 'hold', 'x')], clears: [{ kind: 'torque', place: 'x' }] };
    const state = fold('u', [event(1, { done: at(1), effect: again }), event(2, { done: at(2), effect: again })]);
    expect(state.open.map((one) => one.fact)).toEqual(['f2']);
  });
});

describe('a state as at a time, as known at a time', () => {
  const month = event(1, { done: at(2), recorded: at(3) });
  const late = event(2, { done: at(1), recorded: at(9) });
  const day = event(3, { done: onDay(5), recorded: at(5, 12) });
  const count = (performed: string | null, known: string | null) =>
    eventsAt([month, late, day], performed, known).map((one) => one.seq);

  it('counts what was done by then and recorded by then, bounds included', () => {
    expect(count(null, null)).toEqual([1, 2, 3]);
    expect(count(instant(2), null)).toEqual([1, 2]);
    expect(count('2026-03-01T23:59:59.999999Z', null)).toEqual([2]);
    expect(count(null, instant(5, 12))).toEqual([1, 3]);
    expect(count(instant(2), instant(8))).toEqual([1]);
    expect(count(instant(5, 12), null)).toEqual([1, 2, 3]);
    expect(count(instant(5, 11), null)).toEqual([1, 2]);
  });
});

describe('a record that was judged again', () => {
  it('does what it was judged to do last, however often it is looked at which events count', () => {
    const events = [
      event(1, { done: at(1), effect: { born: pump } }),
      event(2, { done: at(2), effect: { function: 'load-sense' } }),
      event(3, { done: at(2), effect: { judges: 'f2', function: null, opens: [open('no-function', 'hold', 'seat')] } }),
    ];
    const once = effectiveEvents(events);
    expect(once.map(({ fact }) => fact)).toEqual(['f1', 'f2']);
    expect(effectiveEvents(once)).toEqual(once);
    expect(fold('u', eventsAt(once, instant(2), null))).toMatchObject({ function: null, status: 'held' });
  });
});

describe('what a later record found otherwise than the state', () => {
  const left = event(1, { done: at(1), effect: { changed: { seat: seen('a'), bore: seen('s') } } });
  const looked = (effect: Effect) => event(2, { done: at(5), effect });
  const found = (...later: readonly UnitEvent[]) => contradictions(fold('u', [left]), [left, ...later], instant(3));

  it('is told with the time before which somebody changed it unrecorded', () => {
    expect(found(looked({ found: { seat: seen('b'), bore: seen('s') } }))).toEqual([
      { station: 'seat', before: instant(5), found: seen('b') },
    ]);
  });

  it('is nothing where the next record found the same, or could not say', () => {
    expect(found(looked({ found: { seat: seen('a') } }))).toEqual([]);
    expect(found(looked({ found: { seat: { elements: null, basis: 'unknown' } } }))).toEqual([]);
    expect(found()).toEqual([]);
  });

  it('is nothing where a record changed it before somebody looked', () => {
    const changed = event(2, { done: at(4), effect: { changed: { seat: seen('b') } } });
    expect(found(changed, event(3, { done: at(5), effect: { found: { seat: seen('b') } } }))).toEqual([]);
  });

  it('is nothing where it was only assumed, but what the next look finds', () => {
    const assuming = event(2, { done: at(4), effect: { found: { seat: assumed('b') } } });
    expect(found(assuming)).toEqual([]);
    const replacing = { found: { seat: assumed('b') }, changed: { seat: seen('c') } };
    expect(found(event(2, { done: at(4), effect: replacing }))).toEqual([]);
    const look = event(3, { done: at(5), effect: { found: { seat: seen('c') } } });
    expect(found(assuming, look)).toEqual([{ station: 'seat', before: instant(5), found: seen('c') }]);
  });

  it('is not what was found before the time that is asked', () => {
    const earlier = event(2, { done: at(3), effect: { found: { seat: seen('b') } } });
    expect(contradictions(fold('u', [left]), [left, earlier], instant(3))).toEqual([]);
  });

  it('says that what is not known contradicts nothing, and that order and lines are no difference', () => {
    const two: Content = {
      elements: [
        { element: 'a', quantity: 1 },
        { element: 'b', quantity: 2 },
      ],
      basis: 'seen',
    };
    const same: Content = {
      elements: [
        { element: 'b', quantity: 2 },
        { element: 'a', quantity: 1 },
      ],
      basis: 'plate',
    };
    expect(agrees(two, same)).toBe(true);
    expect(agrees(two, seen('a'))).toBe(false);
    expect(agrees(seen('a'), two)).toBe(false);
    expect(agrees(two, { elements: null, basis: 'unknown' })).toBe(true);
    expect(agrees({ elements: null, basis: 'unknown' }, two)).toBe(true);
    expect(agrees({ elements: [], basis: 'seen' }, seen('a'))).toBe(false);
  });
});

describe('for any events the fold', () => {
  const effect: fc.Arbitrary<Effect> = fc.record(
    {
      found: fc.dictionary(fc.constantFrom('seat', 'bore'), fc.constantFrom(seen('a'), seen('b'), assumed('c'))),
      changed: fc.dictionary(fc.constantFrom('seat', 'bore'), fc.constantFrom(seen('d'), seen('e'))),
      function: fc.constantFrom(null, 'sense', 'limit'),
      builtFor: fc.constantFrom({}, { size: '83' }),
      mounted: fc.record({ with: fc.constantFrom('p1', 'p2'), on: fc.boolean() }),
      settings: fc.dictionary(fc.constantFrom('limit', 'differential'), fc.constantFrom(null, bar('1'), bar('2'))),
      opens: fc.array(fc.constantFrom(open('a', 'hold', 'x'), open('b', 'due', 'y')), { maxLength: 2 }),
      clears: fc.array(fc.record({ kind: fc.constant('torque' as const), place: fc.constantFrom('x', 'y') }), {
        maxLength: 2,
      }),
      born: fc.constant(pump),
    },
    { requiredKeys: [] },
  );
  const events = fc
    .array(fc.record({ effect, day: fc.integer({ min: 1, max: 4 }), whole: fc.boolean(), after: fc.nat(6) }), {
      maxLength: 7,
    })
    .map((list) =>
      list.map(({ effect, day, whole, after }, index) =>
        event(index + 1, {
          effect,
          done: whole ? onDay(day) : at(day, 9),
          after: after < index ? `f${after + 1}` : null,
        }),
      ),
    );

  it('does not depend on the order in which they are given', () => {
    fc.assert(
      fc.property(events, fc.infiniteStream(fc.nat(1000)), (list, random) => {
        const mixed = list
          .map((one) => ({ one, key: random.next().value }))
          .sort((a, b) => a.key - b.key)
          .map(({ one }) => one);
        expect(fold('u', mixed)).toEqual(fold('u', list));
      }),
    );
  });

  it('has exactly the status that its open findings give it, each open since one of the events', () => {
    fc.assert(
      fc.property(events, (list) => {
        const { open: left, status } = fold('u', list);
        expect(status).toBe(
          left.some((one) => one.severity === 'hold') ? 'held' : left.length > 0 ? 'incomplete' : 'released',
        );
        for (const one of left) expect(list.find((each) => each.fact === one.fact)?.effect.opens).toBeDefined();
      }),
    );
  });
});
