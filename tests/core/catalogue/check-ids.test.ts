import { describe } from 'vitest';
import { refuses } from './refused.ts';

const q = (value: string, unit: string) => ({ value, unit });
const size83 = '/series/0/sizes/1';
const none = {};

describe('an id that the edition does not have', () => {
  refuses([
    {
      it: 'a size with a body that is not there',
      wrong: { '/series/0/sizes/0/bodies/0': 'blok' },
      says: [['/series/0/sizes/0/bodies/0', 'there is no body blok']],
      right: { '/series/0/sizes/0/bodies/0': 'turned' },
    },
    {
      it: 'a way through a station that is not there',
      wrong: { '/bodies/0/stations/3/access/0/0': 'kap' },
      says: [['/bodies/0/stations/3/access/0/0', 'there is no station kap on body block']],
      right: { '/bodies/0/stations/3/access/0/0': 'cap' },
    },
    {
      it: 'a way through a station that no pump of the body has, which leaves the one behind it unreachable',
      wrong: { '/bodies/0/stations/4/access': [['pump/lid']] },
      says: [
        ['/bodies/0/stations/4/access/0/0', 'there is no station pump/lid on body block'],
        ['/bodies/0/stations/4', 'no way reaches stack of block on size 52'],
        ['/bodies/0/stations/4', 'no way reaches stack of block on size 83'],
      ],
      right: { '/bodies/0/stations/4/access': [['pump/cover'], ['bore']] },
    },
    {
      it: 'a way on a pump through a station that neither it nor a body of it has',
      wrong: { [`${size83}/stations/1/access/0/1`]: 'kap' },
      says: [[`${size83}/stations/1/access/0/1`, 'there is no station kap on size 83']],
      right: { [`${size83}/stations/1/access/0/1`]: 'pump/cover' },
    },
    {
      it: 'a station that accepts an unknown element',
      wrong: { '/bodies/0/stations/4/accepts/0': 'shimm', '/functions/1/patterns/0/stations/stack': 'keep' },
      says: [['/bodies/0/stations/4/accepts/0', 'there is no element shimm']],
      right: { '/bodies/0/stations/4/accepts/0': 'shim' },
    },
    {
      it: 'a joint at an unknown station',
      wrong: { '/bodies/0/joints/0/station': 'kap' },
      says: [['/bodies/0/joints/0/station', 'there is no station kap on body block']],
      right: { '/bodies/0/joints/0/station': 'seat' },
    },
    {
      it: 'a joint of a pump at a station of a body',
      wrong: { [`${size83}/joints/0/station`]: 'cap' },
      says: [[`${size83}/joints/0/station`, 'there is no station cap on size 83']],
      right: { [`${size83}/joints/0/station`]: 'linkage' },
    },
    {
      it: 'a seal size that no element fits',
      wrong: { '/bodies/0/joints/0/seals/0/seal': 'seal-11' },
      says: [['/bodies/0/joints/0/seals/0/seal', 'no element fits the seal size seal-11']],
      right: { '/bodies/0/joints/0/seals/0/seal': 'seal-10' },
    },
    {
      it: 'a setting without a station that is there',
      wrong: { [`${size83}/settings/0/station`]: 'adjuster' },
      says: [[`${size83}/settings/0/station`, 'there is no station adjuster on size 83']],
      right: { [`${size83}/settings/0/station`]: 'cover' },
    },
    {
      it: 'a range of an unknown setting',
      wrong: { '/elements/6/ranges': { 'pump/limit': { min: q('1', 'bar'), max: q('2', 'bar') } } },
      says: [['/elements/6/ranges/pump~1limit', 'no body or size has a setting pump/limit']],
      right: { '/elements/6/ranges': { 'pump/torque': { min: q('1', 'N.m'), max: q('2', 'N.m') } } },
    },
    {
      it: 'a function of an unknown body, and says nothing more of its stations, settings and terms',
      wrong: { '/functions/1/body': 'blok' },
      says: [['/functions/1/body', 'there is no body blok']],
      right: { '/functions/1/body': 'block' },
    },
    {
      it: 'a pattern for a size that does not have the body',
      wrong: { '/functions/3/patterns/0/when': { size: '52' } },
      says: [['/functions/3/patterns/0/when/size', 'no size 52 has the body turned']],
      right: { '/functions/3/patterns/0/when': { size: '83' } },
    },
    {
      it: 'a pattern that decides an unknown station',
      wrong: { '/functions/0/patterns/0/stations/stak': 'none' },
      says: [['/functions/0/patterns/0/stations/stak', 'there is no station stak on block']],
      right: { '/functions/0/patterns/0/stations/cap': 'keep' },
    },
    {
      it: 'a pattern that decides a station of the pump which its size does not have',
      wrong: { '/functions/2/patterns/0/when/size': '52' },
      says: [['/functions/2/patterns/0/stations/pump~1linkage', 'there is no station pump/linkage on block']],
      right: { '/functions/2/patterns/0/when/size': '83' },
    },
    {
      it: 'a pattern that demands an unknown element, alone or as one of several pieces',
      wrong: {
        '/functions/0/patterns/0/stations/seat/0': 'plug-z',
        '/functions/1/patterns/0/stations/stack/1/element': 'plug-y',
      },
      says: [
        ['/functions/0/patterns/0/stations/seat/0', 'there is no element plug-z'],
        ['/functions/1/patterns/0/stations/stack/1/element', 'there is no element plug-y'],
      ],
      right: { '/functions/0/patterns/0/stations/seat/0': 'orifice-1' },
    },
    {
      it: 'a function with an unknown setting',
      wrong: { '/functions/0/settings/0/setting': 'torque' },
      says: [['/functions/0/settings/0/setting', 'there is no setting torque on block']],
      right: {
        '/functions/0/settings/0': { setting: 'pump/torque', min: q('1', 'N.m') },
      },
    },
    {
      it: 'a relation over an unknown setting',
      wrong: { '/functions/1/relations/0/sum/2/setting': 'differential' },
      says: [['/functions/1/relations/0/sum/2/setting', 'there is no setting differential on block']],
      right: { '/functions/1/relations/0/sum/2': { circuit: 'relief' } },
    },
    {
      it: 'a relation over something that is no value of a pump',
      wrong: { '/functions/1/relations/1/sum/0/pump': 'weight' },
      says: [['/functions/1/relations/1/sum/0/pump', 'weight is no value of a pump: use displacement, rated-pressure']],
      right: { '/functions/1/relations/1/sum/0/pump': 'peak-pressure' },
    },
    {
      it: 'a kit for an unknown body',
      wrong: { '/kits/1/bodies/1': 'blok' },
      says: [['/kits/1/bodies/1', 'there is no body blok']],
      right: { '/kits/1/bodies': ['block'] },
    },
    {
      it: 'a kit with an unknown element',
      wrong: { '/kits/0/contents/0/element': 'orifice-2' },
      says: [['/kits/0/contents/0/element', 'there is no element orifice-2']],
      right: { '/kits/0/contents/0/element': 'plug-a' },
    },
    {
      it: 'a kit that supersedes an unknown one',
      wrong: { '/kits/1/supersedes/0': 'kit-z' },
      says: [['/kits/1/supersedes/0', 'there is no kit kit-z']],
      right: { '/kits/1/supersedes': [] },
    },
    {
      it: 'a kit that supersedes itself',
      wrong: { '/kits/1/supersedes/0': 'kit-b' },
      says: [['/kits/1/supersedes/0', "kit-b can't supersede itself"]],
      right: none,
    },
    {
      it: 'a text about nothing',
      wrong: { '/texts/de': { 'element/plug-z': 'Stopfen', 'plug-a': 'Stopfen' } },
      says: [
        ['/texts/de/element~1plug-z', 'element/plug-z is nothing here'],
        ['/texts/de/plug-a', 'plug-a is nothing here'],
      ],
      right: {
        '/texts/de': {
          'element/plug-a': 'Stopfen',
          'series/curlew': 'Curlew',
          'body/block': 'Block',
          'station/linkage': 'Gestänge',
          'joint/cap-body': 'Kappe',
          'setting/torque': 'Drehmoment',
          'function/sense': 'Lastfühlen',
          'kit/kit-a': 'Satz',
          'check/make-safe': 'druckfrei',
        },
      },
    },
  ]);
});

describe('an id that names two things', () => {
  const again = 'is listed before';
  refuses([
    {
      it: 'two elements of one id',
      wrong: { '/elements/-': { id: 'shim', kind: 'shim' } },
      says: [['/elements/8/id', again]],
      right: { '/elements/-': { id: 'shim-2', kind: 'shim' } },
    },
    {
      it: 'two series, and two sizes of a series, of one id',
      wrong: { '/series/0/sizes/0/id': '83', '/series/-': { id: 'curlew', sizes: [size('7')] } },
      says: [
        ['/series/1/id', again],
        ['/series/0/sizes/1/id', again],
      ],
      right: { '/series/-': { id: 'dunlin', sizes: [size('83')] } },
    },
    {
      it: 'two bodies of one id',
      wrong: { '/bodies/-': body('turned') },
      says: [['/bodies/2/id', again]],
      right: { '/bodies/-': body('third') },
    },
    {
      it: 'two stations of one id on a body',
      wrong: { '/bodies/0/stations/-': { id: 'cap', kind: 'closure' } },
      says: [['/bodies/0/stations/5/id', again]],
      right: { '/bodies/1/stations/-': { id: 'cap', kind: 'closure' } },
    },
    {
      it: 'two joints of one id',
      wrong: { '/bodies/0/joints/1/id': 'cap-body' },
      says: [['/bodies/0/joints/1/id', again]],
      right: { [`${size83}/joints/0/id`]: 'cap-body' },
    },
    {
      it: 'two settings of one id',
      wrong: { '/bodies/0/settings/-': { id: 'limit', station: 'cap', quantity: 'pressure', rank: 1 } },
      says: [['/bodies/0/settings/1/id', again]],
      right: { [`${size83}/settings/-`]: { id: 'limit', station: 'cover', quantity: 'pressure', rank: 1 } },
    },
    {
      it: 'two functions of one id on one body',
      wrong: {
        '/functions/0/body': 'turned',
        '/functions/0/patterns/0/stations': { left: 'keep', right: 'keep' },
        '/functions/0/settings': [],
      },
      says: [['/functions/3/id', 'function limit of turned is listed before']],
      right: { '/functions/0/id': 'limit' },
    },
    {
      it: 'two relations of one id in a function',
      wrong: { '/functions/1/relations/1/id': 'limit-above-signal' },
      says: [['/functions/1/relations/1/id', again]],
      right: none,
    },
    {
      it: 'two kits of one part number',
      wrong: { '/kits/0/part': 'kit-b', '/kits/1/supersedes': [] },
      says: [['/kits/1/part', again]],
      right: none,
    },
    {
      it: 'two checks of one id',
      wrong: { '/checks/-': { id: 'make-safe', role: 'other', requiredBy: [], where: 'stand', text: 'again' } },
      says: [['/checks/1/id', again]],
      right: { '/checks/-': { id: 'look', role: 'other', requiredBy: [], where: 'stand', text: 'look' } },
    },
    {
      it: 'a list that names one thing twice',
      wrong: {
        '/series/0/sizes/0/bodies': ['block', 'block'],
        '/bodies/0/stations/1/accepts': ['plug-a', 'orifice-1', 'plug-a'],
        '/bodies/0/joints/0/seals': [{ seal: 'seal-10' }, { seal: 'seal-10' }],
        '/functions/0/patterns/0/stations/seat': ['plug-a', 'plug-a'],
        '/functions/1/patterns/0/stations/stack': [
          { element: 'shim', quantity: 1 },
          { element: 'shim', quantity: 1 },
        ],
        '/functions/2/settings/-': { setting: 'pump/torque', max: q('1', 'N.m') },
        '/kits/0/bodies': ['block', 'block'],
        '/kits/0/contents/-': { element: 'orifice-1' },
        '/kits/1/supersedes': ['kit-a', 'kit-a'],
      },
      says: [
        ['/series/0/sizes/0/bodies/1', again],
        ['/bodies/0/stations/1/accepts/2', again],
        ['/bodies/0/joints/0/seals/1/seal', again],
        ['/functions/0/patterns/0/stations/seat/1', again],
        ['/functions/1/patterns/0/stations/stack/1', again],
        ['/functions/2/settings/1/setting', again],
        ['/kits/0/bodies/1', again],
        ['/kits/0/contents/1/element', again],
        ['/kits/1/supersedes/1', again],
      ],
      right: { '/bodies/0/joints/0/seals': [{ seal: 'seal-10', quantity: 2 }] },
    },
  ]);
});

function size(id: string) {
  return {
    id,
    displacement: q('7', 'cm3'),
    ratedPressure: q('250', 'bar'),
    highestSetting: q('265', 'bar'),
    peakPressure: q('320', 'bar'),
    maxSpeed: q('3000', 'r/min'),
    bodies: ['turned'],
  };
}

function body(id: string) {
  const seat = { kind: 'seat', accepts: ['plug-a', 'orifice-1'] };
  const stations = [
    { id: 'left', ...seat },
    { id: 'right', ...seat },
  ];
  return { id, rotationDependent: true, stations };
}
