/** The bench and the oracles of the planner's tests: they refuse what hands can't do, and agree with one another. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkEdition } from '../../../src/core/catalogue/check-edition.ts';
import { editionSchema } from '../../../src/core/catalogue/edition.ts';
import { arbitraryEdition } from '../../support/bench/arbitrary-edition.ts';
import { anyJob } from '../../support/bench/arbitrary-job.ts';
import { benchOf } from '../../support/bench/bench.ts';
import { errandOf } from '../../support/bench/expected.ts';
import { layoutOf, waysTo } from '../../support/bench/layout.ts';
import { bestWaysIn, disturbance, setsThatAllow } from '../../support/bench/ways-in.ts';

const torque = { target: { value: '61', unit: 'N.m' }, tolerance: { value: '4', unit: 'N.m' } };
const tool = { drive: 'hex', size: '30 mm' };
const edition = editionSchema.parse({
  maker: 'ardenholm',
  edition: 'bench',
  effectiveFrom: '2026-01-01',
  elements: ['adjuster', 'spool', 'plug', 'orifice'].map((id) => ({ id, kind: 'part' })),
  series: [],
  bodies: [
    {
      id: 'block',
      rotationDependent: false,
      stations: [
        { id: 'adjuster', kind: 'adjuster', accepts: ['adjuster'] },
        { id: 'bore', kind: 'bore', access: [['adjuster']], accepts: ['spool'] },
        { id: 'seat', kind: 'seat', access: [['bore']], accepts: ['plug', 'orifice'] },
      ],
      joints: [
        { id: 'housing', station: 'adjuster', torque, tool },
        { id: 'locknut', station: 'adjuster', torque, tool, closed: 'after-setting' },
        { id: 'cover', station: 'seat', torque, tool },
        { id: 'thread', station: 'seat', torque, tool, opens: false },
        { id: 'flange', mounting: true, torque, tool },
      ],
      settings: [{ id: 'limit', station: 'adjuster', quantity: 'pressure', rank: 1 }],
    },
  ],
  functions: [
    {
      id: 'limit',
      body: 'block',
      plate: 'LIMIT',
      patterns: [{ stations: { adjuster: ['adjuster'], bore: ['spool'], seat: ['plug'] } }],
    },
  ],
});
const layout = layoutOf(edition, 'block', null);
const one = (element: string) => [{ element, quantity: 1 }];
const fresh = () => benchOf(layout, { adjuster: one('adjuster'), bore: one('spool'), seat: one('orifice') });

/** The adjuster and the spool are out. */
function openToTheSeat() {
  const bench = fresh();
  for (const joint of ['locknut', 'housing']) bench.breakJoint(joint);
  bench.takeOut('adjuster', one('adjuster'));
  bench.takeOut('bore', null);
  return bench;
}

describe('a bench', () => {
  it('lets a seat be changed through a spool bore and an adjuster, and closed again', () => {
    const bench = openToTheSeat();
    for (const joint of ['cover', 'thread']) bench.breakJoint(joint);
    bench.takeOut('seat', one('orifice'));
    bench.putIn('seat', one('plug'), false);
    for (const joint of ['thread', 'cover']) bench.closeJoint(joint);
    bench.putIn('bore', null, true);
    bench.putIn('adjuster', one('adjuster'), true);
    bench.closeJoint('housing');
    bench.backOff('limit');
    bench.set('limit');
    bench.closeJoint('locknut');
    bench.reRead('limit');
    bench.finish({ seat: one('orifice') });
    expect(bench.contentOf('seat')).toEqual(one('plug'));
    expect(bench.newParts()).toEqual(one('plug'));
  });

  it('refuses what is out of reach', () => {
    expect(() => fresh().takeOut('bore', one('spool'))).toThrow('bore is not reachable');
    expect(() => fresh().breakJoint('cover')).toThrow('seat is not reachable');
    expect(() => fresh().look('seat')).toThrow('seat is not reachable');
    expect(() => fresh().reach('seat')).toThrow('seat is not reachable');
    const bench = fresh();
    for (const joint of ['locknut', 'housing']) bench.breakJoint(joint);
    expect(() => bench.takeOut('bore', one('spool')), 'the adjuster still in').toThrow('bore is not reachable');
  });

  it('refuses to take out what a joint holds, what is not there, or to break a joint under a closed one', () => {
    expect(() => fresh().takeOut('adjuster', one('adjuster'))).toThrow('joint housing is closed');
    const bench = openToTheSeat();
    expect(() => bench.breakJoint('thread')).toThrow('before cover');
    bench.breakJoint('cover');
    expect(() => bench.takeOut('seat', one('orifice'))).toThrow('joint thread is closed');
    bench.breakJoint('thread');
    expect(() => bench.takeOut('seat', one('plug'))).toThrow('there is no 1 plug in seat');
    expect(() => bench.breakJoint('thread')).toThrow('broken already');
  });

  it('refuses to put in what a station does not take, too much of it, or as the same what never came out', () => {
    const bench = openToTheSeat();
    expect(() => bench.putIn('bore', one('plug'), false)).toThrow('bore does not take plug');
    expect(() => bench.putIn('bore', [{ element: 'spool', quantity: 2 }], false)).toThrow('more than 1 in bore');
    for (const joint of ['cover', 'thread']) bench.breakJoint(joint);
    expect(() => bench.putIn('seat', one('plug'), false)).toThrow('more than 1 in seat');
    bench.takeOut('seat', null);
    expect(() => bench.putIn('seat', one('plug'), true)).toThrow('no plug came out of seat');
    expect(() => bench.putIn('seat', null, false)).toThrow('nobody knows');
  });

  it('has no thread to turn at an empty seat, but for hands that look first because they do not know', () => {
    const empty = () => benchOf(layout, { adjuster: one('adjuster'), bore: one('spool') });
    const getAt = (bench: ReturnType<typeof benchOf>) => {
      for (const joint of ['locknut', 'housing']) bench.breakJoint(joint);
      bench.takeOut('adjuster', one('adjuster'));
      bench.takeOut('bore', null);
    };
    const sure = empty();
    getAt(sure);
    expect(() => sure.breakJoint('cover')).toThrow('broken already');
    expect(() => sure.closeJoint('cover')).toThrow('nothing in seat brings it');
    sure.putIn('seat', one('plug'), false);
    expect(() => sure.finish({})).toThrow('is still open');
    for (const joint of ['thread', 'cover']) sure.closeJoint(joint);
    const unsure = empty();
    getAt(unsure);
    unsure.look('seat');
    for (const joint of ['cover', 'thread']) unsure.breakJoint(joint);
    for (const joint of ['thread', 'cover']) unsure.closeJoint(joint);
    expect(unsure.isBroken('cover')).toBe(false);
    const leaves = openToTheSeat();
    for (const joint of ['cover', 'thread']) leaves.breakJoint(joint);
    leaves.takeOut('seat', null);
    expect(() => leaves.closeJoint('cover')).toThrow('nothing in seat brings it');
  });

  it('has a joint that comes with an element while that element is there, and sees from outside where a locknut is not', () => {
    const [body] = edition.bodies;
    const joints = body?.joints.map((joint) => (joint.id === 'thread' ? { ...joint, with: ['plug'] } : joint)) ?? [];
    const lock = { id: 'nut', station: 'adjuster', torque, tool, closed: 'after-setting', with: ['plug'] };
    const brought = editionSchema.parse({ ...edition, bodies: [{ ...body, joints: [...joints, lock] }] });
    const contents = { adjuster: one('adjuster'), bore: one('spool'), seat: one('orifice') };
    const bench = benchOf(layoutOf(brought, 'block', null), contents);
    for (const joint of ['nut', 'locknut', 'housing']) bench.breakJoint(joint);
    bench.takeOut('adjuster', null);
    bench.takeOut('bore', null);
    expect(() => bench.breakJoint('thread')).toThrow('broken already');
    bench.breakJoint('cover');
    bench.takeOut('seat', null);
    bench.putIn('seat', one('plug'), false);
    expect(() => bench.closeJoint('cover')).toThrow('before thread');
    for (const joint of ['thread', 'cover']) bench.closeJoint(joint);
    bench.putIn('bore', null, true);
    bench.putIn('adjuster', null, true);
    for (const joint of ['housing', 'locknut', 'nut']) bench.closeJoint(joint);
    expect(() => bench.finish({ seat: one('orifice') })).not.toThrow();
  });

  it('refuses to close what can no longer be reached, or a cover over an open thread', () => {
    const bench = openToTheSeat();
    for (const joint of ['cover', 'thread']) bench.breakJoint(joint);
    expect(() => bench.closeJoint('cover')).toThrow('before thread');
    bench.putIn('bore', one('spool'), true);
    expect(() => bench.closeJoint('thread')).toThrow('seat is not reachable');
  });

  it('refuses to set with anything open or a locknut tight, and to end with a joint open or a part left over', () => {
    const bench = openToTheSeat();
    expect(() => bench.set('limit')).toThrow('joint housing is open');
    bench.putIn('bore', one('spool'), true);
    bench.closeJoint('housing');
    bench.closeJoint('locknut');
    expect(() => bench.set('limit')).toThrow('locknut is tight');
    expect(() => bench.finish({})).toThrow('of adjuster there lies "1 adjuster"');
    const open = fresh();
    open.breakJoint('locknut');
    expect(() => open.finish({})).toThrow('locknut is still open');
    expect(() => open.finish({}, ['locknut'])).not.toThrow();
  });
});

describe('a bench with a control beside its pump', () => {
  const contents = { adjuster: one('adjuster'), bore: one('spool'), seat: one('plug') };
  const apart = (loose: readonly string[] = []) => benchOf(layout, contents, { apart: true, loose });

  it('lets the control be put on, its flange closed and the setting made, whether its locknut was left open or not', () => {
    for (const loose of [[], ['locknut']]) {
      const bench = apart(loose);
      bench.mount();
      bench.closeJoint('flange');
      bench.breakJoint('locknut');
      bench.backOff('limit');
      bench.set('limit');
      bench.closeJoint('locknut');
      bench.reRead('limit');
      bench.finish({});
      expect(bench.lostSettings()).toEqual([]);
      expect(bench.everClosed()).toEqual(['flange', 'locknut']);
    }
  });

  it('refuses to put it on twice or open, to close the flange before, and to end with the flange open', () => {
    expect(() => fresh().mount()).toThrow('on its pump already');
    expect(() => apart().closeJoint('flange')).toThrow('the control is not on the pump');
    const open = apart();
    open.breakJoint('housing');
    expect(() => open.mount()).toThrow('joint housing is open');
    const bench = apart();
    bench.mount();
    expect(() => bench.finish({})).toThrow('joint flange is still open');
  });

  it('refuses to turn an adjuster under a tight locknut, to set one that was not backed off, or before it is on', () => {
    expect(() => apart().backOff('limit')).toThrow("can't back off limit: locknut is tight");
    const beside = apart(['locknut']);
    beside.backOff('limit');
    expect(() => beside.set('limit')).toThrow('joint flange is open');
    beside.mount();
    expect(() => beside.set('limit')).toThrow('joint flange is open');
    const bench = apart(['locknut']);
    bench.mount();
    bench.closeJoint('flange');
    expect(() => bench.set('limit')).toThrow('it was not backed off');
  });

  it('refuses a reading with the locknut loose, and one of a setting that is not made', () => {
    const bench = apart(['locknut']);
    bench.mount();
    bench.closeJoint('flange');
    bench.backOff('limit');
    expect(() => bench.reRead('limit')).toThrow('locknut is loose');
    bench.closeJoint('locknut');
    expect(() => bench.reRead('limit')).toThrow('it is not set');
    expect(bench.lostSettings()).toEqual(['limit']);
  });
});

describe('the oracles', () => {
  it('agree: no set of stations that allows a job disturbs less than the best choice of ways', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const errand = errandOf(made);
        const [best] = bestWaysIn(made.layout, errand);
        const costs = setsThatAllow(made.layout, errand).map((set) => disturbance(made.layout, set, errand));
        const [least] = costs.toSorted(
          (a, b) => a.joints - b.joints || a.settings - b.settings || a.stations - b.stations,
        );
        expect(best).toMatchObject({ ...least });
      }),
      { numRuns: 300 },
    );
  });

  it('work on editions that could be published, some of them four stations deep and more', () => {
    const depths = new Set<number>();
    fc.assert(
      fc.property(arbitraryEdition, (made) => {
        expect(checkEdition(made)).not.toHaveProperty('problems');
        depths.add(deepest(made));
      }),
      { numRuns: 300 },
    );
    expect([...depths].filter((depth) => depth >= 4)).not.toEqual([]);
  });
});

/** How many stations, one behind the other, the way to the hardest station takes at least. */
function deepest(made: typeof edition): number {
  const { stations, ...rest } = layoutOf(made, 'block', { series: 'wren', size: '40' });
  const depthOf = (id: string): number => {
    const ways = waysTo({ stations, ...rest }, id).map((way) => Math.max(...way.map(depthOf)));
    return 1 + (ways.length > 0 ? Math.min(...ways) : 0);
  };
  return Math.max(...[...stations.keys()].map(depthOf));
}
