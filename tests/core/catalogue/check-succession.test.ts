import { describe, expect, it } from 'vitest';
import { checkSuccession } from '../../../src/core/catalogue/check-succession.ts';
import type { Edition } from '../../../src/core/catalogue/edition.ts';
import { changed, checkedEdition, editionInput, editionNamed } from '../../support/editions/editions.ts';

type Changes = Readonly<Record<string, unknown>>;
type Row = { it: string; wrong: Changes; says: readonly (readonly [string, string])[]; right: Changes };

const first = editionNamed('small');
const later = { '/edition': 'small-2', '/effectiveFrom': '2026-07-01' };
const q = (value: string, unit: string) => ({ value, unit });
const size83 = '/series/0/sizes/1';

/** Changes that leave an edition valid when shims, or limits in bar, are gone from it. */
const keepStack = { '/functions/1/patterns/0/stations/stack': 'keep' };
const withoutLimits = {
  '/elements/5/ranges': undefined,
  '/functions/0/settings': [],
  '/functions/1/settings': [],
  '/functions/1/relations': [],
};

/** An edition after the small one; each is a valid edition in itself. */
function next(changes: Changes): Edition {
  return checkedEdition(changed(editionInput('small'), { ...later, ...changes }));
}

function refuses(rows: readonly Row[]): void {
  for (const row of rows) {
    it(`refuses ${row.it}`, () => {
      const said = row.says.map(([pointer, detail]) => ({ pointer, detail: expect.stringContaining(detail) }));
      expect(checkSuccession(next(row.wrong), [first])).toEqual(said);
      expect(checkSuccession(next(row.right), [first])).toEqual([]);
    });
  }
}

describe('the first edition of a maker', () => {
  it('has nothing to keep', () => {
    expect(checkSuccession(first, [])).toEqual([]);
  });
});

describe('a later edition', () => {
  it('may add elements, joints, settings, functions, kits, sizes and bodies', () => {
    const more = next({
      '/elements/-': { id: 'plug-c', kind: 'plug' },
      '/bodies/0/joints/-': { ...first.bodies[0]?.joints[0], id: 'seat-element', station: 'seat' },
      '/bodies/0/settings/-': { id: 'gap', station: 'cap', quantity: 'length', rank: 1 },
      '/bodies/-': { ...first.bodies[1], id: 'third' },
      '/series/0/sizes/-': { ...first.series[0]?.sizes[0], id: '60', bodies: ['third'] },
      '/functions/-': { ...first.functions[3], id: 'again', patterns: [{ stations: { left: 'none', right: 'none' } }] },
      '/kits/-': { part: 'kit-c', bodies: ['block'], contents: [{ element: 'plug-c' }] },
      '/checks/-': { id: 'look', role: 'other', requiredBy: [], where: 'stand', text: 'look' },
    });
    expect(checkSuccession(more, [first])).toEqual([]);
  });

  it('may change torques, ranges, patterns, bounds and texts', () => {
    const corrected = next({
      '/bodies/0/joints/0/torque/target/value': '42',
      '/elements/5/ranges/limit/max/value': '240',
      '/functions/0/patterns/0/stations/bore': ['spool-b'],
      '/functions/0/settings/0/max/value': '260',
      '/series/0/sizes/1/highestSetting/value': '260',
      '/texts/en/note': 'Corrected.',
    });
    expect(checkSuccession(corrected, [first])).toEqual([]);
  });

  it('is held against every edition before it, and says the same once', () => {
    const second = next({ '/elements/-': { id: 'plug-c', kind: 'plug' } });
    const third = next({ '/edition': 'small-3', '/elements/0/kind': 'stopper' });
    expect(checkSuccession(third, [first, second]).map((one) => [one.pointer, one.detail])).toEqual([
      ['/elements/0/kind', 'this was plug in edition small-1: what means something else is a new id'],
      ['/elements', 'element plug-c is in edition small-2: keep it, marked as retired when it is no longer used'],
      ['/elements/0/kind', 'this was plug in edition small-2: what means something else is a new id'],
    ]);
    expect(checkSuccession(third, [first, first])).toHaveLength(1);
  });

  refuses([
    {
      it: 'the id of an edition that is published',
      wrong: { '/edition': 'small-1' },
      says: [['/edition', 'edition small-1 is published']],
      right: {},
    },
    {
      it: 'to take effect before an earlier edition',
      wrong: { '/effectiveFrom': '2025-12-31' },
      says: [['/effectiveFrom', "edition small-1 takes effect on 2026-01-01: this one can't before it"]],
      right: { '/effectiveFrom': '2026-01-01' },
    },
  ]);
});

describe('what an edition drops', () => {
  refuses([
    {
      it: 'an element that is dropped',
      wrong: { '/elements/4': undefined, '/bodies/0/stations/4/accepts': ['plug-a'], ...keepStack },
      says: [
        ['/elements', 'element shim is in edition small-1: keep it, marked as retired'],
        ['/bodies/0/stations/4/accepts', 'stack accepted shim in edition small-1: keep it'],
      ],
      right: { '/elements/4/retired': true, ...keepStack },
    },
    {
      it: 'a size that is dropped, and the series with it',
      wrong: { '/series/0/sizes/0': undefined },
      says: [['/series', 'size 52 of curlew is in edition small-1: keep it']],
      right: { '/series/-': { id: 'dunlin', sizes: [{ ...first.series[0]?.sizes[0], bodies: ['turned'] }] } },
    },
    {
      it: 'a body that is dropped, and its function with it',
      wrong: {
        '/bodies/1': undefined,
        [`${size83}/bodies`]: ['block'],
        '/functions/3': undefined,
        '/kits/1/bodies': ['block'],
      },
      says: [
        ['/bodies', 'body turned is in edition small-1: keep it, marked as retired'],
        ['/functions', 'function limit of turned is in edition small-1'],
      ],
      right: { '/bodies/1/retired': true, '/functions/3/retired': true },
    },
    {
      it: 'a joint or a setting that is dropped',
      wrong: {
        '/bodies/0/joints/0': undefined,
        [`${size83}/joints/0`]: undefined,
        [`${size83}/settings`]: [],
        '/functions/2/settings': [],
      },
      says: [
        ['/bodies/0/joints', 'joint cap-body is in edition small-1: keep it, marked as retired'],
        [`${size83}/joints`, 'joint cover-screws is in edition small-1'],
        [`${size83}/settings`, 'setting torque is in edition small-1'],
      ],
      right: {
        '/bodies/0/joints/0/retired': true,
        [`${size83}/joints/0/retired`]: true,
        [`${size83}/settings/0/retired`]: true,
      },
    },
    {
      it: 'a function that is dropped, though another body has one of its name',
      wrong: { '/functions/0': undefined },
      says: [['/functions', 'function limit of block is in edition small-1']],
      right: { '/functions/0/retired': true },
    },
    {
      it: 'a kit that is dropped',
      wrong: { '/kits/0': undefined, '/kits/0/supersedes': [] },
      says: [['/kits', 'kit kit-a is in edition small-1']],
      right: { '/kits/0/retired': true },
    },
  ]);

  it('may be a check', () => {
    expect(checkSuccession(next({ '/checks': [] }), [first])).toEqual([]);
  });
});

describe('what an edition means otherwise than before', () => {
  refuses([
    {
      it: 'an element of another kind, seal size, compound or bore',
      wrong: {
        '/elements/0/kind': 'stopper',
        '/elements/1/bore': q('1.1', 'mm'),
        '/elements/2/bore': q('3', 'mm'),
        '/elements/7/compound': 'FKM',
        '/elements/3/fits': 'seal-10',
      },
      says: [
        ['/elements/0/kind', 'this was plug in edition small-1: what means something else is a new id'],
        ['/elements/1/bore', 'this was 1.0 mm in edition small-1'],
        ['/elements/2/bore', 'this was not stated in edition small-1'],
        ['/elements/3/fits', 'this was not stated in edition small-1'],
        ['/elements/7/compound', 'this was NBR in edition small-1'],
      ],
      right: { '/elements/1/bore': q('1000', 'um'), '/elements/0/text': 'stopper' },
    },
    {
      it: 'an orifice whose bore is no longer stated',
      wrong: { '/elements/1/bore': undefined },
      says: [['/elements/1/bore', 'this was 1.0 mm in edition small-1']],
      right: { '/elements/1/bore': q('1', 'mm') },
    },
    {
      it: 'a size of another displacement',
      wrong: { [`${size83}/displacement`]: q('83.1', 'cm3') },
      says: [[`${size83}/displacement`, 'this was 83 cm3 in edition small-1']],
      right: { [`${size83}/displacement`]: q('0.083', 'L') },
    },
    {
      it: 'a body that begins or ceases to depend on rotation',
      wrong: { '/bodies/0/rotationDependent': true },
      says: [['/bodies/0/rotationDependent', 'this was false in edition small-1']],
      right: { '/bodies/0/text': 'for both rotations' },
    },
    {
      it: 'a body with another station, or without one that it had',
      wrong: {
        '/bodies/1/stations/0/id': 'port-side',
        '/functions/3/patterns': [{ stations: { 'port-side': ['plug-a'], right: ['orifice-1'] } }],
        [`${size83}/stations/-`]: { id: 'lid', kind: 'closure' },
      },
      says: [
        ['/bodies/1/stations', 'station left is in edition small-1: a new casting is a new id'],
        ['/bodies/1/stations/0', 'body turned has no port-side in edition small-1: a new casting is a new id'],
        [`${size83}/stations/3`, 'size 83 of curlew has no lid in edition small-1: a new casting is a new id'],
      ],
      right: { '/bodies/1/stations/0/text': 'on the port side' },
    },
    {
      it: 'a station of another kind, reached otherwise, or holding less',
      wrong: {
        '/bodies/0/stations/1/kind': 'cavity',
        '/bodies/0/stations/1/access': [['adjuster']],
        '/bodies/0/stations/3/access': [['adjuster']],
        '/bodies/0/stations/3/accepts': ['spool-a'],
        '/bodies/0/stations/4/most': 2,
        '/functions/1/patterns/0/stations/bore': ['spool-a'],
        '/functions/1/patterns/0/stations/stack': 'keep',
        '/functions/2/patterns/0/stations/bore': ['spool-a'],
      },
      says: [
        ['/bodies/0/stations/1/kind', 'this was seat in edition small-1'],
        ['/bodies/0/stations/1/access', 'seat was reached otherwise in edition small-1: a new casting is a new id'],
        ['/bodies/0/stations/3/access', 'bore was reached otherwise in edition small-1'],
        ['/bodies/0/stations/3/accepts', 'bore accepted spool-b in edition small-1: keep it'],
        ['/bodies/0/stations/4/most', 'stack held up to 3 pieces in edition small-1: keep it'],
      ],
      right: {
        '/bodies/0/stations/0/access': [],
        '/bodies/0/stations/3/accepts': ['plug-a', 'spool-b', 'spool-a'],
        '/bodies/0/stations/4/most': 4,
      },
    },
    {
      it: 'a joint that moved to another station',
      wrong: {
        '/bodies/0/joints/0/station': 'seat',
        '/bodies/0/joints/2': { ...first.bodies[0]?.joints[2], station: 'cap', mounting: false },
      },
      says: [
        ['/bodies/0/joints/0/station', 'this was cap in edition small-1'],
        ['/bodies/0/joints/2/station', 'this was not stated in edition small-1'],
      ],
      right: { '/bodies/0/joints/0/tool/size': '27 mm' },
    },
    {
      it: 'a setting of another station or quantity',
      wrong: {
        [`${size83}/settings/0/station`]: 'cover',
        '/bodies/0/settings/0/quantity': 'torque',
        ...withoutLimits,
      },
      says: [
        ['/bodies/0/settings/0/quantity', 'this was pressure in edition small-1'],
        [`${size83}/settings/0/station`, 'this was screw in edition small-1'],
      ],
      right: { '/bodies/0/settings/0/rank': 5 },
    },
    {
      it: 'a setting that is only read now, or read at another point',
      wrong: {
        [`${size83}/settings/0/adjusted`]: false,
        '/bodies/0/settings/0/at': { speed: { min: q('1450', 'r/min'), max: q('1550', 'r/min') } },
      },
      says: [
        ['/bodies/0/settings/0/at', 'limit was read under other conditions in edition small-1: give it another id'],
        [`${size83}/settings/0/adjusted`, 'this was not stated in edition small-1'],
      ],
      right: { '/bodies/0/settings/0/condition': 'flow blocked' },
    },
    {
      it: 'a function that moved to another body',
      wrong: {
        '/functions/0': { ...first.functions[3], id: 'limit-2' },
      },
      says: [['/functions', 'function limit of block is in edition small-1']],
      right: { '/functions/0/plate': 'PRESSURE' },
    },
    {
      it: 'a check of another role or kind',
      wrong: { '/checks/0/role': 'leak', '/checks/0/kind': 'value' },
      says: [
        ['/checks/0/role', 'this was safety in edition small-1'],
        ['/checks/0/kind', 'this was yes-no in edition small-1'],
      ],
      right: { '/checks/0/where': 'mounted' },
    },
  ]);
});

describe('the words that an edition adds for claims', () => {
  const word = { id: 'whistles', text: 'it whistles' };
  const worded = (changes: Changes) => next({ '/symptoms': [word], '/failureModes': [word], ...changes });

  it('may grow, and be retired, but stay: claims keep them', () => {
    const before = worded({ '/edition': 'small-w' });
    const retired = [
      { ...word, retired: true },
      { id: 'hums', text: 'it hums' },
    ];
    expect(checkSuccession(worded({ '/symptoms': retired, '/failureModes': retired }), [before])).toEqual([]);
    expect(checkSuccession(next({}), [before])).toEqual([
      { pointer: '/symptoms', detail: expect.stringContaining('word whistles is in edition small-w') },
      { pointer: '/failureModes', detail: expect.stringContaining('word whistles is in edition small-w') },
    ]);
  });
});
