import { describe, expect, it } from 'vitest';
import { checkEdition } from '../../../src/core/catalogue/check-edition.ts';
import { changed, type EditionName, editionInput } from '../../support/editions/editions.ts';
import { refuses, warnsOf } from './refused.ts';

const names: readonly EditionName[] = ['small', 'demo', 'deep-access', 'rotation', 'linkage', 'workshop-account'];

describe('checkEdition', () => {
  it.each(names)('finds nothing to say of the edition %s', (name) => {
    expect(checkEdition(editionInput(name))).toEqual({ edition: expect.anything(), warnings: [] });
  });

  it('gives the edition with what it left out filled in', () => {
    const checked = checkEdition(editionInput('small'));
    if ('problems' in checked) throw new Error('the small edition is valid');
    expect(checked.edition.bodies[0]?.joints[0]).toMatchObject({
      count: 1,
      opens: true,
      seals: [{ seal: 'seal-10', quantity: 1 }],
    });
    expect(checked.edition.functions[0]?.patterns[0]?.when).toEqual({});
    expect(checked.edition.kits[0]).toEqual(expect.objectContaining({ withdrawnFrom: null }));
    expect(checked.edition.kits[0]).not.toHaveProperty('cost');
  });

  it('says everything that is wrong at once, and no warnings beside it', () => {
    const checked = checkEdition(
      changed(editionInput('small'), {
        '/kits/0/contents/0/element': 'orifice-2',
        '/functions/0/patterns/0/stations/stack': undefined,
        '/bodies/0/joints/0/station': 'kap',
        '/series/0/sizes/0/maxSpeed/unit': 'bar',
      }),
    );
    expect(checked).toEqual({
      problems: [
        { pointer: '/bodies/0/joints/0/station', detail: 'there is no station kap on body block' },
        { pointer: '/kits/0/contents/0/element', detail: 'there is no element orifice-2' },
        { pointer: '/functions/0/patterns/0/stations', detail: expect.stringContaining('stack is undecided') },
        { pointer: '/series/0/sizes/0/maxSpeed/unit', detail: 'bar is no unit of rotational speed: use r/min' },
      ],
    });
  });

  it.each([[undefined], [null], ['edition'], [[]]])('refuses %j as a whole', (input) => {
    expect(checkEdition(input)).toEqual({ problems: [{ pointer: '', detail: expect.stringContaining('object') }] });
  });
});

describe('the shape of an edition', () => {
  refuses([
    {
      it: 'fields that it does not know, each by its own place',
      wrong: { '/bodies/0/joints/0/note': 'x', '/bodies/0/joints/0/a~1b': 1, '/version': 2 },
      says: [
        ['/bodies/0/joints/0/note', 'is not known here'],
        ['/bodies/0/joints/0/a~1b', 'is not known here'],
        ['/version', 'is not known here'],
      ],
      right: { '/bodies/0/joints/0/sequence': 'x' },
    },
    {
      it: 'fields that are left out or of another kind',
      wrong: { '/effectiveFrom': undefined, '/bodies/0/rotationDependent': 'no', '/kits/0/contents': [] },
      says: [
        ['/effectiveFrom', 'is required: text'],
        ['/bodies/0/rotationDependent', 'must be true or false, not text'],
        ['/kits/0/contents', 'must have at least 1 entry'],
      ],
      right: { '/effectiveFrom': '2026-02-28' },
    },
    {
      it: 'a day that is none',
      wrong: { '/effectiveFrom': '2026-02-29' },
      says: [['/effectiveFrom', 'date']],
      right: { '/effectiveFrom': '2028-02-29' },
    },
    {
      it: 'an id in capitals and a place with a prefix that is not there',
      wrong: {
        '/elements/0/id': 'Plug',
        '/functions/0/patterns/0/stations/pomp~1linkage': 'none',
        '/functions/0/settings/0/setting': 'pomp/torque',
      },
      says: [
        ['/elements/0/id', 'an id is 1 to 50 lower-case letters'],
        ['/functions/0/patterns/0/stations/pomp~1linkage', 'is named by its id, with "pump/" before it'],
        ['/functions/0/settings/0/setting', 'is named by its id, with "pump/" before it'],
      ],
      right: {},
    },
    {
      it: 'a value without a unit that is known, by what the form nearest to it lacks',
      wrong: {
        '/bodies/0/joints/1/torque/target/unit': 'Nm',
        '/bodies/0/joints/2/torque/tolerance': undefined,
        '/elements/1/bore/value': true,
      },
      says: [
        ['/elements/1/bore/value', 'write a decimal as text, such as "61.0", or as a number'],
        ['/bodies/0/joints/1/torque/target/unit', '"Nm" is not a unit used here: write "N.m"'],
        ['/bodies/0/joints/2/torque/tolerance', 'is required: an object'],
      ],
      right: { '/elements/1/bore/value': 1 },
    },
    {
      it: 'a demand that is none of the forms there are, by all of them',
      wrong: { '/functions/0/patterns/0/stations/seat': 'plug-a' },
      says: [
        ['/functions/0/patterns/0/stations/seat', 'must be "none", or must be "keep", or must be a list, not text'],
      ],
      right: { '/functions/0/patterns/0/stations/seat': 'keep' },
    },
  ]);
});

describe('what an edition hardly means', () => {
  warnsOf([
    {
      it: 'a body that no size has',
      wrong: { '/series/0/sizes/1/bodies': ['block'] },
      says: [['/bodies/1', "no size has the body turned: it can't be mounted"]],
      right: { '/series/0/sizes/1/bodies': ['block'], '/bodies/1/retired': true },
    },
    {
      it: 'two functions with the same pattern on a body, however it is written',
      wrong: {
        '/functions/0/patterns/0/stations': {
          stack: [
            { element: 'plug-a', quantity: 1 },
            { element: 'shim', quantity: 2 },
          ],
          bore: ['spool-b', 'spool-a'],
          adjuster: 'keep',
          seat: ['orifice-1'],
        },
      },
      says: [['/functions/1/patterns/0', 'sense has the same pattern as limit on block']],
      right: {
        '/functions/0/patterns/0/stations': {
          stack: [
            { element: 'plug-a', quantity: 2 },
            { element: 'shim', quantity: 1 },
          ],
          bore: ['spool-b', 'spool-a'],
          adjuster: 'keep',
          seat: ['orifice-1'],
        },
      },
    },
    {
      it: 'two functions that leave the same number of pieces open',
      wrong: {
        '/functions/0/patterns/0/stations/stack': [{ element: 'shim', upTo: 2 }],
        '/functions/0/patterns/0/stations/bore': ['spool-a', 'spool-b'],
        '/functions/0/patterns/0/stations/adjuster': 'keep',
        '/functions/0/patterns/0/stations/seat': ['orifice-1'],
        '/functions/0/patterns/0/stations/pump~1linkage': undefined,
        '/functions/1/patterns/0/stations/stack': [{ element: 'shim', upTo: 2 }],
      },
      says: [['/functions/1/patterns/0', 'sense has the same pattern as limit on block']],
      right: {
        '/functions/0/patterns/0/stations/stack': [{ element: 'shim', upTo: 2 }],
        '/functions/0/patterns/0/stations/bore': ['spool-a', 'spool-b'],
        '/functions/0/patterns/0/stations/adjuster': 'keep',
        '/functions/0/patterns/0/stations/seat': ['orifice-1'],
        '/functions/0/patterns/0/stations/pump~1linkage': undefined,
        '/functions/1/patterns/0/stations/stack': [{ element: 'shim', upTo: 3 }],
      },
    },
    {
      it: 'the same pattern under conditions that can hold together',
      wrong: { '/functions/-': turnedAgain({ rotation: 'clockwise', size: '83' }) },
      says: [['/functions/4/patterns/0', 'again has the same pattern as limit on turned']],
      right: { '/functions/-': turnedAgain({ rotation: 'counterclockwise' }) },
    },
    {
      it: 'a pattern that asks for the rotation of a body that does not depend on it',
      wrong: { '/functions/0/patterns/0/when': { rotation: 'clockwise' } },
      says: [['/functions/0/patterns/0/when/rotation', 'block does not depend on rotation']],
      right: { '/functions/0/patterns/0/when': { voltage: '24 V' } },
    },
    {
      it: 'an element that no function, joint or kit uses, though a station accepts it',
      wrong: {
        '/elements/-': { id: 'plug-b', kind: 'plug' },
        '/bodies/0/stations/1/accepts/-': 'plug-b',
      },
      says: [['/elements/8', 'no function, joint or kit uses plug-b']],
      right: { '/elements/-': { id: 'plug-b', kind: 'plug', retired: true } },
    },
    {
      it: 'a seal that fits no joint',
      wrong: { '/elements/-': { id: 'seal-12-nbr', kind: 'seal', fits: 'seal-12' } },
      says: [['/elements/8', 'no function, joint or kit uses seal-12-nbr']],
      right: { '/elements/-': { id: 'seal-10-fkm', kind: 'seal', fits: 'seal-10' } },
    },
    {
      it: 'a kit with nothing that its bodies need',
      wrong: { '/kits/0/bodies': ['turned'], '/kits/0/contents': [{ element: 'spool-a' }, { element: 'seal-10-nbr' }] },
      says: [['/kits/0', 'nothing on turned needs what is in kit-a']],
      right: { '/kits/0/bodies': ['block'], '/kits/0/contents': [{ element: 'seal-10-nbr' }] },
    },
    {
      it: 'no kit that is retired, but one that is not',
      wrong: { '/kits/0/contents': [{ element: 'shim' }], '/kits/0/bodies': ['turned'] },
      says: [['/kits/0', 'nothing on turned needs what is in kit-a']],
      right: { '/kits/0/contents': [{ element: 'shim' }], '/kits/0/bodies': ['turned'], '/kits/0/retired': true },
    },
  ]);
});

function turnedAgain(when: object) {
  return {
    id: 'again',
    body: 'turned',
    plate: 'AGAIN',
    patterns: [{ when, stations: { right: ['orifice-1'], left: ['plug-a'] } }],
  };
}
