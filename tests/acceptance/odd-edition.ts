/** A catalogue that no service has seen: its maker, its words and its layout are made up for one test. */

const quantity = (value: string, unit: string) => ({ value, unit });
const between = (min: string, max: string, unit: string) => ({ min: quantity(min, unit), max: quantity(max, unit) });
const about = (target: string, tolerance: string) => ({
  target: quantity(target, 'N.m'),
  tolerance: quantity(tolerance, 'N.m'),
});
const pieces = (element: string, count: number) => ({ element, quantity: count });
const kinds = (kind: string, ...ids: string[]) => ids.map((id) => ({ id, kind }));
const size = (id: string, bodies: string[], more: object = {}) => ({
  id,
  displacement: quantity('37', 'cm3'),
  ratedPressure: quantity('180', 'bar'),
  highestSetting: quantity('190', 'bar'),
  peakPressure: quantity('240', 'bar'),
  maxSpeed: quantity('3100', 'r/min'),
  bodies,
  ...more,
});
const tool = { drive: 'pin', size: '4 mm' };

type Demand = 'none' | 'keep' | readonly string[] | readonly { element: string; quantity: number }[];
export type Pattern = { when?: { rotation: string }; stations: Readonly<Record<string, Demand>> };

/** One body whose passages can be reached in two ways, with a stack of discs and a yoke on the larger pump. */
const anvil = {
  id: 'anvil',
  rotationDependent: false,
  stations: [
    { id: 'lid', kind: 'closure' },
    { id: 'boss', kind: 'adjuster', accepts: ['screw-long', 'screw-short'] },
    { id: 'sleeve', kind: 'bore', access: [['boss']], accepts: ['slide-1', 'slide-2', 'slide-3'] },
    { id: 'nozzle', kind: 'seat', access: [['lid'], ['boss', 'sleeve']], accepts: ['jet-4', 'jet-7', 'stopper'] },
    { id: 'stack', kind: 'cavity', access: [['sleeve']], accepts: ['disc-thin', 'disc-thick'], most: 4 },
    { id: 'ear', kind: 'port', accepts: ['cap-fit', 'line-fit'] },
    { id: 'eye', kind: 'port', accepts: ['cap-fit', 'line-fit'] },
  ],
  joints: [
    { id: 'lid-joint', station: 'lid', count: 3, torque: about('9', '1'), tool, seals: [{ seal: 'ring-l' }] },
    {
      id: 'boss-joint',
      station: 'boss',
      torque: between('44', '52', 'N.m'),
      tool,
      seals: [{ seal: 'ring-b', quantity: 2 }],
    },
    { id: 'boss-nut', station: 'boss', torque: about('15', '1.5'), tool, closed: 'after-setting' },
    { id: 'nozzle-thread', station: 'nozzle', torque: between('3.0', '4.0', 'N.m'), tool, opens: false },
    { id: 'ear-thread', station: 'ear', torque: { ...about('12', '1'), angle: quantity('45', 'deg') }, tool },
    { id: 'eye-thread', station: 'eye', torque: about('12', '1'), tool },
    { id: 'foot', mounting: true, count: 2, torque: about('30', '3'), tool, seals: [{ seal: 'ring-l' }] },
  ],
  settings: [{ id: 'lift', station: 'boss', quantity: 'pressure', rank: 2 }],
};

/** The other body is built by rotation, and has a function of the same name. */
const sluice = {
  id: 'sluice',
  rotationDependent: true,
  stations: [
    { id: 'crown', kind: 'closure' },
    { id: 'near-cell', kind: 'seat', access: [['crown']], accepts: ['jet-4', 'jet-7', 'stopper'] },
    { id: 'far-cell', kind: 'seat', access: [['crown', 'rod'], ['heel']], accepts: ['jet-4', 'jet-7', 'stopper'] },
    { id: 'rod', kind: 'bore', access: [['crown']], accepts: ['slide-1', 'slide-2'] },
    { id: 'heel', kind: 'closure' },
  ],
  joints: [
    { id: 'crown-joint', station: 'crown', count: 2, torque: about('18', '2'), tool, seals: [{ seal: 'ring-l' }] },
    { id: 'heel-joint', station: 'heel', torque: about('25', '2'), tool, seals: [{ seal: 'ring-b' }] },
    { id: 'near-thread', station: 'near-cell', torque: between('3.0', '4.0', 'N.m'), tool, opens: false },
    { id: 'far-thread', station: 'far-cell', torque: between('3.0', '4.0', 'N.m'), tool, opens: false },
  ],
};

const turned = (near: string[], far: string[], rod: string[]): Pattern[] => [
  { when: { rotation: 'clockwise' }, stations: { 'near-cell': near, 'far-cell': far, rod } },
  { when: { rotation: 'counterclockwise' }, stations: { 'near-cell': far, 'far-cell': near, rod } },
];
const lift = (min: string, max: string) => [{ setting: 'lift', ...between(min, max, 'bar') }];

export const functions: readonly {
  id: string;
  body: string;
  plate: string;
  patterns: Pattern[];
  settings?: object[];
}[] = [
  {
    id: 'hush',
    body: 'anvil',
    plate: 'HUSH',
    patterns: [
      {
        stations: {
          boss: ['screw-long', 'screw-short'],
          sleeve: ['slide-1'],
          nozzle: ['stopper'],
          stack: [pieces('disc-thin', 2)],
          ear: ['cap-fit'],
          eye: 'keep',
          'pump/yoke': 'none',
        },
      },
    ],
    settings: lift('20', '90'),
  },
  {
    id: 'pulse',
    body: 'anvil',
    plate: 'PULSE',
    patterns: [
      {
        stations: {
          boss: ['screw-short'],
          sleeve: ['slide-2'],
          nozzle: ['jet-4', 'jet-7'],
          stack: [pieces('disc-thin', 1), pieces('disc-thick', 1)],
          ear: ['line-fit'],
          eye: 'keep',
          'pump/yoke': 'keep',
        },
      },
    ],
    settings: lift('40', '110'),
  },
  {
    id: 'drift',
    body: 'anvil',
    plate: 'DRIFT',
    patterns: [
      {
        stations: {
          boss: ['screw-long', 'screw-short'],
          sleeve: ['slide-2', 'slide-3'],
          nozzle: ['jet-7'],
          stack: 'none',
          ear: ['line-fit', 'cap-fit'],
          eye: 'keep',
        },
      },
    ],
  },
  {
    id: 'yield',
    body: 'anvil',
    plate: 'YIELD',
    patterns: [
      {
        stations: {
          boss: ['screw-long'],
          sleeve: ['slide-3'],
          nozzle: ['stopper'],
          stack: [pieces('disc-thick', 3)],
          ear: 'keep',
          eye: 'keep',
          'pump/yoke': ['yoke-link'],
        },
      },
    ],
    settings: lift('60', '120'),
  },
  {
    id: 'hush',
    body: 'sluice',
    plate: 'HUSH',
    patterns: turned(['stopper'], ['jet-4', 'jet-7'], ['slide-1', 'slide-2']),
  },
  { id: 'tilt', body: 'sluice', plate: 'TILT', patterns: turned(['jet-7'], ['stopper'], ['slide-2']) },
  {
    id: 'brake',
    body: 'sluice',
    plate: 'BRAKE',
    patterns: turned(['jet-4', 'stopper'], ['jet-7', 'stopper'], ['slide-1']),
  },
];

const seal = (id: string, fits: string) => ({ id, kind: 'seal', fits, compound: 'x', fluids: ['rapeseed'] });

export const oddEdition = {
  maker: 'quillmere',
  edition: 'first',
  effectiveFrom: '2025-06-01',
  elements: [
    { ...kinds('screw', 'screw-long')[0], ranges: { lift: between('20', '125', 'bar') } },
    { ...kinds('screw', 'screw-short')[0], ranges: { lift: between('20', '115', 'bar') } },
    ...kinds('slide', 'slide-1', 'slide-2', 'slide-3'),
    ...kinds('jet', 'jet-4', 'jet-7', 'stopper'),
    ...kinds('disc', 'disc-thin', 'disc-thick').map((disc) => ({ ...disc, untracked: true })),
    ...kinds('fitting', 'cap-fit', 'line-fit'),
    ...kinds('link', 'yoke-link'),
    seal('ring-l-x', 'ring-l'),
    seal('ring-b-x', 'ring-b'),
  ],
  series: [
    {
      id: 'teasel',
      sizes: [
        size('s7', ['anvil', 'sluice']),
        size('s9', ['anvil'], {
          stations: [
            { id: 'gate', kind: 'closure' },
            { id: 'yoke', kind: 'linkage', access: [['gate']], accepts: ['yoke-link'] },
          ],
          joints: [{ id: 'gate-screws', station: 'gate', count: 4, torque: about('6', '0.5'), tool }],
        }),
      ],
    },
  ],
  bodies: [anvil, sluice],
  functions,
  kits: [{ part: 'box-1', bodies: ['anvil', 'sluice'], contents: [pieces('slide-2', 1), pieces('jet-7', 1)] }],
  checks: [
    {
      id: 'calm',
      role: 'safety',
      requiredBy: ['conversion'],
      where: 'anywhere',
      text: 'no pressure, read off a gauge',
    },
    { id: 'dry', role: 'leak', requiredBy: ['conversion'], where: 'mounted', text: 'dry after ten minutes' },
    { id: 'named', role: 'plate', requiredBy: ['conversion'], where: 'mounted', text: 'the plate names the function' },
  ],
};

/** Stations in the order in which the catalogue has them: of the body, then of the pump. */
export function stationsOn(body: string, pumpSize: string): string[] {
  const ofBody = [anvil, sluice].find((one) => one.id === body)?.stations.map((one) => one.id) ?? [];
  return pumpSize === 's9' ? [...ofBody, 'pump/gate', 'pump/yoke'] : ofBody;
}
