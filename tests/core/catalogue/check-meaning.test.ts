import { describe } from 'vitest';
import { refuses } from './refused.ts';

const q = (value: string, unit: string) => ({ value, unit });
const size83 = '/series/0/sizes/1';
const torque = '/bodies/0/joints/1/torque';
const bounds = '/functions/0/settings/0';
const none = {};
const at = '/bodies/0/settings/0/at';
const at1500 = { target: q('1500', 'r/min') };

describe('access', () => {
  refuses([
    {
      it: 'a station that is reached through itself, over whichever of its ways',
      wrong: { '/bodies/0/stations/0/access': [['stack']] },
      says: [
        ['/bodies/0/stations/0/access', 'cap is reached through itself: cap through stack through bore through cap'],
        ['/bodies/0/stations/3/access', 'bore is reached through itself: bore through cap through stack through bore'],
        [
          '/bodies/0/stations/4/access',
          'stack is reached through itself: stack through bore through cap through stack',
        ],
      ],
      right: { '/bodies/0/stations/0/access': [['adjuster']] },
    },
    {
      it: 'a station that is its own way in',
      wrong: { '/bodies/0/stations/3/access': [['bore'], ['cap']] },
      says: [['/bodies/0/stations/3/access', 'bore is reached through itself: bore through bore']],
      right: { '/bodies/0/stations/3/access': [['cap', 'seat'], ['cap']] },
    },
    {
      it: 'a circle through body and pump',
      wrong: { '/bodies/0/stations/0/access': [['pump/linkage'], ['adjuster']] },
      says: [
        ['/bodies/0/stations/0/access', 'cap is reached through itself: cap through pump/linkage through cap'],
        [`${size83}/stations/1/access`, 'pump/linkage is reached through itself: pump/linkage through cap'],
      ],
      right: { '/bodies/0/stations/0/access': [['pump/cover'], ['adjuster']] },
    },
    {
      it: 'a station that no way reaches because each leads through the other',
      wrong: { '/bodies/1/stations/0/access': [['right']], '/bodies/1/stations/1/access': [['left']] },
      says: [
        ['/bodies/1/stations/0/access', 'left is reached through itself'],
        ['/bodies/1/stations/1/access', 'right is reached through itself'],
        ['/bodies/1/stations/0', 'no way reaches left of turned on size 83'],
        ['/bodies/1/stations/1', 'no way reaches right of turned on size 83'],
      ],
      right: { '/bodies/1/stations/0/access': [['right']], '/bodies/1/stations/1/access': [] },
    },
    {
      it: 'a station of a pump that can be reached under one of its bodies only',
      wrong: { [`${size83}/stations/1/access`]: [['cover', 'cap']] },
      says: [[`${size83}/stations/1`, 'no way reaches pump/linkage of turned on size 83']],
      right: { [`${size83}/stations/1/access`]: [['cover', 'cap'], ['left']] },
    },
    {
      it: 'a station of a body that only some of its pumps let one reach',
      wrong: { '/bodies/0/stations/1/access': [['pump/cover']] },
      says: [['/bodies/0/stations/1', 'no way reaches seat of block on size 52']],
      right: { '/bodies/0/stations/1/access': [['pump/cover'], ['cap']] },
    },
    {
      it: 'a setting at a station that can only be turned with another open',
      wrong: {
        '/bodies/0/settings/0/station': 'bore',
        '/bodies/0/joints/1/station': 'bore',
        [`${size83}/settings/0/station`]: 'linkage',
      },
      says: [
        ['/bodies/0/settings/0/station', 'limit is set while the pump runs, but bore lies behind other stations'],
        [`${size83}/settings/0/station`, 'torque is set while the pump runs, but linkage lies behind other stations'],
      ],
      right: {
        '/bodies/0/settings/0/station': 'cap',
        '/bodies/0/joints/1/station': 'cap',
        [`${size83}/settings/0/station`]: 'cover',
        [`${size83}/stations/0/access`]: [],
      },
    },
    {
      it: 'a circle on a body that no size has',
      wrong: { '/series/0/sizes/1/bodies': ['block'], '/bodies/1/stations/0/access': [['left']] },
      says: [
        ['/bodies/1/stations/0/access', 'left is reached through itself'],
        ['/bodies/1/stations/0', 'no way reaches left of turned: '],
      ],
      right: { '/series/0/sizes/1/bodies': ['block'] },
    },
  ]);
});

describe('patterns', () => {
  refuses([
    {
      it: 'a station that a pattern leaves undecided',
      wrong: { '/functions/0/patterns/0/stations/stack': undefined },
      says: [['/functions/0/patterns/0/stations', 'stack is undecided: name its elements, "none" or "keep"']],
      right: { '/functions/0/patterns/0/stations/pump~1linkage': undefined },
    },
    {
      it: 'an element that its station does not accept',
      wrong: { '/functions/0/patterns/0/stations/seat/0': 'shim' },
      says: [['/functions/0/patterns/0/stations/seat/0', 'seat does not accept shim']],
      right: { '/functions/0/patterns/0/stations/seat/0': 'orifice-1' },
    },
    {
      it: 'an element at a station that accepts none',
      wrong: { '/functions/0/patterns/0/stations/cap': ['plug-a'] },
      says: [['/functions/0/patterns/0/stations/cap/0', 'cap does not accept plug-a']],
      right: { '/functions/0/patterns/0/stations/cap': 'none' },
    },
    {
      it: 'one of several pieces that the station does not accept',
      wrong: { '/functions/1/patterns/0/stations/stack/1/element': 'spool-a' },
      says: [['/functions/1/patterns/0/stations/stack/1/element', 'stack does not accept spool-a']],
      right: none,
    },
    {
      it: 'an element that a station of the pump does not accept',
      wrong: { '/functions/2/patterns/0/stations/pump~1linkage/0': 'shim' },
      says: [['/functions/2/patterns/0/stations/pump~1linkage/0', 'pump/linkage does not accept shim']],
      right: none,
    },
    {
      it: 'more pieces than a station holds',
      wrong: { '/functions/1/patterns/0/stations/stack/0/quantity': 3 },
      says: [['/functions/1/patterns/0/stations/stack', '4 pieces at stack, which holds at most 3']],
      right: { '/functions/1/patterns/0/stations/stack/0/quantity': 1 },
    },
    {
      it: 'a number of pieces up to more than a station has room for beside what must be there',
      wrong: {
        '/functions/1/patterns/0/stations/stack': [
          { element: 'shim', upTo: 3 },
          { element: 'plug-a', quantity: 1 },
        ],
      },
      says: [['/functions/1/patterns/0/stations/stack', '4 pieces at stack, which holds at most 3']],
      right: {
        '/functions/1/patterns/0/stations/stack': [
          { element: 'shim', upTo: 3 },
          { element: 'plug-a', upTo: 2 },
        ],
      },
    },
    {
      it: 'an element that is both there and there up to a number',
      wrong: {
        '/functions/1/patterns/0/stations/stack': [
          { element: 'shim', upTo: 1 },
          { element: 'shim', quantity: 1 },
        ],
      },
      says: [['/functions/1/patterns/0/stations/stack/1', 'shim is listed before']],
      right: { '/functions/1/patterns/0/stations/stack': [{ element: 'shim', upTo: 2 }] },
    },
  ]);
});

describe('joints', () => {
  refuses([
    {
      it: 'a joint of no station that is no mounting joint',
      wrong: { '/bodies/0/joints/0/station': undefined },
      says: [['/bodies/0/joints/0', 'cap-body names no station: give it one, or say "mounting": true']],
      right: { '/bodies/0/joints/0/station': undefined, '/bodies/0/joints/0/mounting': true },
    },
    {
      it: 'a mounting joint with a station',
      wrong: { '/bodies/0/joints/2/station': 'cap' },
      says: [['/bodies/0/joints/2/station', 'mounting joins control and pump']],
      right: { '/bodies/0/joints/2/station': 'cap', '/bodies/0/joints/2/mounting': false },
    },
    {
      it: 'a joint that is closed after setting where nothing is set',
      wrong: { '/bodies/0/joints/1/station': 'bore', [`${size83}/joints/1/closed`]: 'after-setting' },
      says: [
        ['/bodies/0/joints/1/closed', 'adjuster-locknut is closed after setting, but nothing is set there'],
        [`${size83}/joints/1/closed`, 'flange is closed after setting, but nothing is set there'],
      ],
      right: { '/bodies/0/joints/1/station': 'cap', '/bodies/0/settings/0/station': 'cap' },
    },
    {
      it: 'a joint that is closed after setting where a value is only read',
      wrong: { '/bodies/0/settings/0/adjusted': false },
      says: [['/bodies/0/joints/1/closed', 'adjuster-locknut is closed after setting, but nothing is set there']],
      right: {
        '/bodies/0/settings/-': { id: 'point', station: 'cap', quantity: 'pressure', rank: 3, adjusted: false },
      },
    },
    {
      it: 'a joint that is closed after setting and holds an element',
      wrong: { '/bodies/0/joints/1/opens': false },
      says: [['/bodies/0/joints/1/opens', 'adjuster-locknut is closed after setting']],
      right: { '/bodies/0/joints/0/opens': false },
    },
    {
      it: 'a joint that comes with an element that its station does not accept',
      wrong: { '/bodies/0/joints/1/with': ['adjuster-250', 'spool-a'], '/bodies/0/joints/2/with': ['shim'] },
      says: [
        ['/bodies/0/joints/1/with/1', "adjuster-locknut can't come with spool-a: adjuster does not accept it"],
        ['/bodies/0/joints/2/with/0', "mounting can't come with shim: a mounting joint does not accept it"],
      ],
      right: { '/bodies/0/joints/1/with': ['adjuster-250'] },
    },
    {
      it: 'an element that brings a joint, listed twice',
      wrong: { '/bodies/0/joints/1/with': ['adjuster-250', 'adjuster-250'] },
      says: [['/bodies/0/joints/1/with/1', 'adjuster-250 is listed before']],
      right: { '/bodies/0/joints/1/with': ['adjuster-250'] },
    },
  ]);
});

describe('bounds', () => {
  refuses([
    {
      it: 'a setting of a function without a bound',
      wrong: { [bounds]: { setting: 'limit' }, '/functions/1/settings/0/tolerance': undefined },
      says: [
        [bounds, 'limit has no bound: give min and max, or target and tolerance'],
        ['/functions/1/settings/0', 'limit has no bound'],
      ],
      right: { [`${bounds}/min`]: undefined, '/functions/1/settings/0/max': q('210', 'bar') },
    },
    {
      it: 'a tolerance for no target and no range',
      wrong: { [bounds]: { setting: 'limit', tolerance: q('4', 'bar') } },
      says: [[bounds, 'limit has no bound']],
      right: { [`${bounds}/max`]: undefined, [`${bounds}/tolerance`]: q('4', 'bar') },
    },
    // 14 lbf·ft is 18.98 N·m (1 lbf·ft = 1.355 818 N·m, NIST SP 811 (2008) app. B.8).
    {
      it: 'a smallest value above the greatest, in whatever units',
      wrong: {
        [torque]: { min: q('20', 'N.m'), max: q('14', 'lbf.ft') },
        [`${bounds}/min`]: q('26.6', 'MPa'),
        '/elements/5/ranges/limit/min': q('250.1', 'bar'),
      },
      says: [
        [`${torque}/min`, '20 N.m is more than max, 14 lbf.ft'],
        [`${bounds}/min`, '26.6 MPa is more than max, 265 bar'],
        ['/elements/5/ranges/limit/min', '250.1 bar is more than max, 250 bar'],
      ],
      right: {
        [torque]: { min: q('18', 'N.m'), max: q('14', 'lbf.ft') },
        [`${bounds}/min`]: q('26.5', 'MPa'),
        '/elements/5/ranges/limit/min': q('250.0', 'bar'),
      },
    },
    {
      it: 'a pump whose rated pressure or highest setting is above its peak',
      wrong: { [`${size83}/ratedPressure`]: q('321', 'bar'), [`${size83}/highestSetting`]: q('33', 'MPa') },
      says: [
        [`${size83}/ratedPressure`, '321 bar is more than peakPressure, 320 bar'],
        [`${size83}/highestSetting`, '33 MPa is more than peakPressure, 320 bar'],
      ],
      right: { [`${size83}/ratedPressure`]: q('320', 'bar'), [`${size83}/highestSetting`]: q('32', 'MPa') },
    },
    {
      it: 'a negative tolerance',
      wrong: { [`${torque}/tolerance`]: q('-2', 'N.m'), '/functions/1/settings/0/tolerance': q('-2', '%') },
      says: [
        [`${torque}/tolerance`, 'a tolerance of -2 N.m allows nothing'],
        ['/functions/1/settings/0/tolerance', 'a tolerance of -2 % allows nothing'],
      ],
      right: { [`${torque}/tolerance`]: q('0', 'N.m'), '/functions/1/settings/0/tolerance': q('0', '%') },
    },
    {
      it: 'a point at which nothing could be read',
      wrong: {
        [at]: { current: { min: q('0.5', 'A'), max: q('499', 'mA') }, speed: { ...at1500, tolerance: q('-1', '%') } },
      },
      says: [
        [`${at}/current/min`, '0.5 A is more than max, 499 mA'],
        [`${at}/speed/tolerance`, 'a tolerance of -1 % allows nothing'],
      ],
      right: {
        [at]: { current: { min: q('0.5', 'A'), max: q('500', 'mA') }, speed: { ...at1500, tolerance: q('0', '%') } },
      },
    },
    {
      it: 'a bore, a torque or a pump of nothing or less',
      wrong: {
        '/elements/1/bore': q('0', 'mm'),
        [`${size83}/displacement`]: q('-83', 'cm3'),
        [`${torque}/target`]: q('0.0', 'N.m'),
        '/bodies/0/joints/2/torque': { min: q('-1', 'N.m'), max: q('0', 'N.m') },
      },
      says: [
        ['/elements/1/bore', '0 mm is not more than nothing'],
        [`${size83}/displacement`, '-83 cm3 is not more than nothing'],
        [`${torque}/target`, '0.0 N.m is not more than nothing'],
        ['/bodies/0/joints/2/torque/max', '0 N.m is not more than nothing'],
      ],
      right: {
        '/elements/1/bore': q('0.1', 'mm'),
        '/bodies/0/joints/2/torque': { min: q('0', 'N.m'), max: q('1', 'N.m') },
      },
    },
    {
      it: 'a tolerance of a bore that is less than nothing, and one of no bore',
      wrong: { '/elements/1/boreTolerance': q('-0.02', 'mm'), '/elements/2/boreTolerance': q('0.02', 'mm') },
      says: [
        ['/elements/1/boreTolerance', 'a tolerance of -0.02 mm allows nothing: leave out the sign'],
        ['/elements/2/boreTolerance', 'spool-a has no bore that this could be the tolerance of'],
      ],
      right: { '/elements/1/boreTolerance': q('0', 'mm') },
    },
    {
      it: 'a tolerance of a bore that is no length and no part of one',
      wrong: { '/elements/1/boreTolerance': q('1', 'bar') },
      says: [['/elements/1/boreTolerance/unit', 'bar is no unit of length or ratio']],
      right: { '/elements/1/boreTolerance': q('2', '%') },
    },
    {
      it: 'an efficiency that no pump has',
      wrong: { [`${size83}/efficiency`]: { hydromechanical: '92', volumetric: '0.0' } },
      says: [
        [`${size83}/efficiency/hydromechanical`, 'above 0 and up to 1'],
        [`${size83}/efficiency/volumetric`, 'above 0 and up to 1'],
      ],
      right: { [`${size83}/efficiency`]: { hydromechanical: '1.0', volumetric: '0.001' } },
    },
  ]);
});

describe('units', () => {
  refuses([
    {
      it: 'a setting of no quantity that has a unit here, and judges no unit by it',
      wrong: { '/bodies/0/settings/0/quantity': 'press' },
      says: [['/bodies/0/settings/0/quantity', 'press is not one of torque, pressure, flow']],
      right: { '/bodies/0/settings/0/quantity': 'pressure' },
    },
    {
      it: 'a bore that is no length and a range that is not of its setting',
      wrong: {
        '/elements/1/bore/unit': 'bar',
        '/elements/5/ranges/limit': { min: q('1', 'N.m'), max: q('250', 'mA') },
      },
      says: [
        ['/elements/1/bore/unit', 'bar is no unit of length: use mm, um'],
        ['/elements/5/ranges/limit/min/unit', 'N.m is no unit of pressure: use bar, psi, MPa, kPa'],
        ['/elements/5/ranges/limit/max/unit', 'mA is no unit of pressure'],
      ],
      right: { '/elements/1/bore/unit': 'um', '/elements/5/ranges/limit/max': q('3600', 'psi') },
    },
    {
      it: 'a point whose limits are not of one quantity',
      wrong: {
        [at]: { current: { min: q('0.5', 'A'), max: q('500', 'V') }, speed: { ...at1500, tolerance: q('10', 'Hz') } },
      },
      says: [
        [`${at}/current/max/unit`, 'V is no unit of current: use mA, A'],
        [`${at}/speed/tolerance/unit`, 'Hz is no unit of rotational speed or ratio'],
      ],
      right: { [at]: { speed: { ...at1500, tolerance: q('10', 'r/min') } } },
    },
    {
      it: 'a pump measured in the wrong units',
      wrong: {
        [`${size83}/displacement/unit`]: 'mm',
        [`${size83}/ratedPressure/unit`]: 'N.m',
        [`${size83}/highestSetting/unit`]: 'kW',
        [`${size83}/peakPressure/unit`]: 'L/min',
        [`${size83}/maxSpeed/unit`]: 'Hz',
        [`${size83}/shaftTorqueLimit/unit`]: 'bar',
      },
      says: [
        [`${size83}/displacement/unit`, 'mm is no unit of volume'],
        [`${size83}/ratedPressure/unit`, 'N.m is no unit of pressure'],
        [`${size83}/highestSetting/unit`, 'kW is no unit of pressure'],
        [`${size83}/peakPressure/unit`, 'L/min is no unit of pressure'],
        [`${size83}/maxSpeed/unit`, 'Hz is no unit of rotational speed'],
        [`${size83}/shaftTorqueLimit/unit`, 'bar is no unit of torque'],
        ['/functions/1/relations/1/sum', "pressure and power can't be added"],
      ],
      right: { [`${size83}/shaftTorqueLimit/unit`]: 'lbf.in' },
    },
    {
      it: 'a torque in no unit of torque',
      wrong: {
        [`${torque}/target/unit`]: 'bar',
        [`${torque}/tolerance/unit`]: 'deg',
        '/bodies/0/joints/0/torque/angle/unit': 'N.m',
        '/bodies/0/joints/2/torque': { min: q('1', 'bar'), max: q('2', 'kW') },
      },
      says: [
        ['/bodies/0/joints/0/torque/angle/unit', 'N.m is no unit of angle: use deg, turn'],
        [`${torque}/target/unit`, 'bar is no unit of torque: use N.m, lbf.ft, lbf.in'],
        [`${torque}/tolerance/unit`, 'deg is no unit of torque or ratio: use N.m, lbf.ft, lbf.in, %'],
        ['/bodies/0/joints/2/torque/min/unit', 'bar is no unit of torque'],
        ['/bodies/0/joints/2/torque/max/unit', 'kW is no unit of torque'],
      ],
      right: {
        [`${torque}/target/unit`]: 'lbf.ft',
        [`${torque}/tolerance/unit`]: '%',
        '/bodies/0/joints/0/torque/angle/unit': 'turn',
      },
    },
    {
      it: 'a bound of a setting in a unit of something else',
      wrong: {
        [`${bounds}/min/unit`]: 'N.m',
        [`${bounds}/max/unit`]: '%',
        '/functions/1/settings/0/target/unit': 'V',
        '/functions/1/settings/0/tolerance/unit': 'V',
      },
      says: [
        [`${bounds}/min/unit`, 'N.m is no unit of pressure'],
        [`${bounds}/max/unit`, '% is no unit of pressure'],
        ['/functions/1/settings/0/target/unit', 'V is no unit of pressure'],
        ['/functions/1/settings/0/tolerance/unit', 'V is no unit of pressure or ratio'],
      ],
      right: { [`${bounds}/min/unit`]: 'psi', '/functions/1/settings/0/tolerance/unit': 'bar' },
    },
  ]);
});

describe('relations', () => {
  const sum = '/functions/1/relations/0/sum';
  refuses([
    {
      it: 'a term with a value that is none or a unit that is not known',
      wrong: { [`${sum}/1`]: { value: '15,0', unit: 'bars' } },
      says: [
        [`${sum}/1/value`, 'write a decimal point, not a comma'],
        [`${sum}/1/unit`, '"bars" is not a unit used here'],
      ],
      right: { [`${sum}/1`]: { value: '15.0', unit: 'bar' } },
    },
    {
      it: 'a sum of things that can not be added',
      wrong: { [`${sum}/1`]: { value: '15', unit: 'N.m' } },
      says: [[sum, "torque and pressure can't be added"]],
      right: { [`${sum}/1`]: { value: '15', unit: 'psi' } },
    },
    {
      it: 'a sum of a pressure and a displacement',
      wrong: { '/functions/1/relations/1/sum/0/pump': 'displacement' },
      says: [['/functions/1/relations/1/sum', "volume and pressure can't be added"]],
      right: {
        '/functions/1/relations/1/sum': [
          { pump: 'shaft-torque-limit' },
          { setting: 'pump/torque', times: -1 },
          { value: '5', unit: 'N.m' },
        ],
      },
    },
    {
      it: 'a relation that bounds nothing',
      wrong: { '/functions/1/relations/0/atMost': undefined },
      says: [['/functions/1/relations/0', 'limit-above-signal bounds nothing: give "atMost" or "atLeast"']],
      right: { '/functions/1/relations/0/atMost': undefined, '/functions/1/relations/0/atLeast': '0' },
    },
    {
      it: 'a bound that would need a unit',
      wrong: { '/functions/1/relations/0/atMost': '15', '/functions/1/relations/1/atLeast': 'none' },
      says: [
        ['/functions/1/relations/0/atMost', 'compare with "0"'],
        ['/functions/1/relations/1/atLeast', 'compare with "0"'],
      ],
      right: { '/functions/1/relations/0/atMost': '0.00' },
    },
  ]);
});
