/**
 * A body of twelve stations, eleven of them reached through others and ten of these in two ways, and eight kits. Four stations change; the joints on the
 * way want seals. Small enough that everything can be tried, large enough that it takes a while.
 */
import type { Edition } from '../../../src/core/catalogue/edition.ts';
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { checkedEdition } from '../../support/editions/editions.ts';

const torque = { target: { value: '20', unit: 'N.m' }, tolerance: { value: '2', unit: 'N.m' } };
/** By station the ways into it. */
const access: Readonly<Record<string, readonly (readonly string[])[]>> = {
  'cap-a': [],
  'cap-b': [['cap-a']],
  'seat-a': [['cap-a'], ['cap-b']],
  'seat-b': [['cap-b'], ['cap-a', 'seat-a']],
  'bore-a': [['seat-a'], ['cap-b']],
  'bore-b': [['seat-b'], ['bore-a']],
  'bore-c': [['bore-a'], ['seat-b']],
  'seat-c': [['bore-b'], ['cap-b', 'seat-a']],
  'seat-d': [['bore-c'], ['seat-c']],
  'seat-e': [['seat-c'], ['bore-b']],
  'bore-d': [['seat-d'], ['bore-c', 'cap-b']],
  'seat-f': [['bore-d'], ['seat-e']],
};
const changes = ['seat-d', 'seat-e', 'bore-d', 'seat-f'];
const pieces = ['plug', 'orifice', 'spool', 'spring'];
const kits: readonly (readonly [cost: number, contents: Readonly<Record<string, number>>])[] = [
  [9, { plug: 1, orifice: 1, 'ring-1-nbr': 2 }],
  [7, { spool: 1, 'ring-2-nbr': 2 }],
  [5, { spring: 1, 'ring-1-nbr': 1 }],
  [3, { 'ring-1-nbr': 2, 'ring-2-nbr': 1 }],
  [11, { plug: 1, spool: 1, 'ring-2-nbr': 1 }],
  [4, { 'ring-2-nbr': 3 }],
  [8, { orifice: 1, spring: 1, 'ring-1-nbr': 1 }],
  [2, { 'ring-1-nbr': 1 }],
];

export const edition: Edition = checkedEdition({
  maker: 'ardenholm',
  edition: 'twelve-1',
  effectiveFrom: '2026-01-01',
  elements: [
    ...[...pieces, 'blank'].map((id) => ({ id, kind: 'part' })),
    ...['ring-1', 'ring-2'].map((fits) => ({ id: `${fits}-nbr`, kind: 'seal', fits })),
  ],
  series: [
    {
      id: 'wren',
      sizes: [
        {
          id: '40',
          displacement: { value: '40', unit: 'cm3' },
          ratedPressure: { value: '210', unit: 'bar' },
          highestSetting: { value: '210', unit: 'bar' },
          peakPressure: { value: '250', unit: 'bar' },
          maxSpeed: { value: '2600', unit: 'r/min' },
          bodies: ['block'],
        },
      ],
    },
  ],
  bodies: [
    {
      id: 'block',
      rotationDependent: false,
      stations: Object.entries(access).map(([id, ways]) => ({
        ...{ id, kind: id.startsWith('cap') ? 'closure' : id.startsWith('seat') ? 'seat' : 'bore' },
        ...(ways.length > 0 && { access: ways }),
        ...(!id.startsWith('cap') && { accepts: [...pieces, 'blank'] }),
      })),
      joints: Object.keys(access).map((station, nth) => ({
        ...{ id: `${station}-body`, station, torque, tool: { drive: 'hex', size: `${17 + (nth % 3)} mm` } },
        seals: [{ seal: `ring-${1 + (nth % 2)}` }],
      })),
    },
  ],
  functions: ['before', 'after'].map((id) => ({
    ...{ id, body: 'block', plate: id.toUpperCase() },
    patterns: [
      {
        stations: Object.fromEntries(
          Object.keys(access)
            .filter((station) => !station.startsWith('cap'))
            .map((station) => {
              const nth = changes.indexOf(station);
              return [station, nth < 0 ? 'keep' : [id === 'before' ? 'blank' : pieces[nth]]];
            }),
        ),
      },
    ],
  })),
  kits: kits.map(([cost, contents], nth) => ({
    ...{ part: `kit-${nth + 1}`, cost, bodies: ['block'] },
    contents: Object.entries(contents).map(([element, quantity]) => ({ element, quantity })),
  })),
});

/** What sits there is seen, and twelve stations are as many as the body has. */
export const job: ConversionJob = {
  ...{ edition, body: 'block', pump: null, builtFor: { size: '40', rotation: 'clockwise' } },
  fit: Object.fromEntries(
    Object.keys(access).map((station) => [
      station,
      { elements: station.startsWith('cap') ? [] : [{ element: 'blank', quantity: 1 }], basis: 'seen' as const },
    ]),
  ),
  ...{ from: 'before', settings: {}, to: 'after', choices: {} },
};
