/** Bodies as a shop would send them, set in the demo edition: one story, which a test posts in this order. */

const bar = (value: string) => ({ value, unit: 'bar' as const });
const newtonMetres = (value: string) => ({ value, unit: 'N.m' as const });

/** A catalogue as small as can be: one seat, behind one cap, that holds a plug or an orifice. */
export const smallEdition = {
  maker: 'ardenholm',
  edition: 'sample',
  effectiveFrom: '2026-01-01',
  elements: [
    { id: 'plug-m5', kind: 'plug' },
    { id: 'orifice-0.6', kind: 'orifice', bore: { value: '0.6', unit: 'mm' } },
  ],
  series: [
    {
      id: 'curlew',
      sizes: [
        {
          id: '83',
          displacement: { value: '83', unit: 'cm3' },
          ratedPressure: bar('250'),
          highestSetting: bar('265'),
          peakPressure: bar('320'),
          maxSpeed: { value: '2400', unit: 'r/min' },
          bodies: ['curlew-block'],
        },
      ],
    },
  ],
  bodies: [
    {
      id: 'curlew-block',
      rotationDependent: false,
      stations: [
        { id: 'side-cap', kind: 'closure' },
        { id: 'bleed-seat', kind: 'seat', access: [['side-cap']], accepts: ['plug-m5', 'orifice-0.6'] },
      ],
      joints: [
        {
          id: 'side-cap-body',
          station: 'side-cap',
          torque: { target: newtonMetres('34'), tolerance: newtonMetres('2') },
          tool: { drive: 'hex', size: '24 mm' },
        },
        {
          id: 'bleed-seat-element',
          station: 'bleed-seat',
          opens: false,
          torque: { min: newtonMetres('5.0'), max: newtonMetres('6.0') },
          tool: { drive: 'hex socket', size: '2.5 mm' },
        },
      ],
    },
  ],
  functions: [
    {
      id: 'load-sense',
      body: 'curlew-block',
      plate: 'LOAD SENSE',
      patterns: [{ stations: { 'bleed-seat': ['plug-m5'] } }],
    },
    {
      id: 'load-sense-bled',
      body: 'curlew-block',
      plate: 'LOAD SENSE, BLED',
      patterns: [{ stations: { 'bleed-seat': ['orifice-0.6'] } }],
    },
  ],
};

/** Where the examples are put or posted, in the order in which they follow from each other. */
export const examples = {
  shop: { name: 'Brackwater, north yard' },
  technician: { name: 'A. Example', subject: 'fitter-17' },
  instrument: {
    kind: 'torque-wrench' as const,
    how: 'set' as const,
    range: { min: newtonMetres('5'), max: newtonMetres('100') },
    class: 'type II, class A',
    shop: 'brackwater-north',
  },
  lot: { part: 'kit-bleed', madeAt: { at: '2026-01-20T00:00:00+00:00', precision: 'day' as const } },
  pump: {
    edition: '2026-1',
    performedAt: '2026-03-02T09:00:00+01:00',
    builtAt: { at: '2026-01-05T00:00:00+00:00', precision: 'month' as const },
    series: 'curlew',
    size: '83',
    rotation: 'clockwise' as const,
    fluid: 'mineral',
    stations: {
      'pump/displacement-stop': { content: [{ element: 'stop-screw', quantity: 1 }], basis: 'built' as const },
      'pump/linkage': { content: [], basis: 'built' as const },
      'pump/torque-spring': { content: [], basis: 'built' as const },
      'pump/torque-adjuster': { content: [], basis: 'built' as const },
    },
    control: {
      serial: 'K-20931',
      body: 'curlew-block',
      function: 'load-sense-bled',
      basis: 'built' as const,
      choices: { 'pressure-adjuster': 'adjuster-320', 'sense-spring': 'spring-sense-16', 'bleed-seat': 'orifice-0.6' },
      settings: { 'pressure-limit': bar('210'), differential: bar('14') },
    },
  },
  control: {
    edition: '2026-1',
    performedAt: '2026-03-02T09:10:00+01:00',
    body: 'curlew-block',
    function: 'load-sense',
    basis: 'plate' as const,
    choices: { 'pressure-adjuster': 'adjuster-250', 'sense-spring': 'spring-sense-16' },
    stations: { 'test-port': { content: { unknown: 'painted over' } } },
    for: { size: '52', rotation: 'clockwise' as const },
  },
  conversion: {
    control: { maker: 'ardenholm', serial: 'K-20931' },
    reference: 'BR-2026-004711',
    workOrder: 'WO-88123',
    edition: '2026-1',
    performedAt: '2026-03-14T10:25:00+01:00',
    shop: 'brackwater-north',
    technician: 't-17',
    found: { function: 'load-sense-bled' },
    to: { function: 'load-sense' },
    removed: [{ station: 'bleed-seat', element: 'orifice-0.6' }],
    fitted: [{ station: 'bleed-seat', element: 'plug-m5', lot: 'L-2402-7' }],
    seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-fkm', lot: 'L-2402-7' }],
    torques: [
      { joint: 'bleed-seat-element', how: 'set' as const, reading: newtonMetres('5.5'), instrument: 'tw-3' },
      { joint: 'sense-adjuster-body', how: 'set' as const, reading: newtonMetres('60.5'), instrument: 'tw-3' },
      { joint: 'sense-adjuster-locknut', how: 'set' as const, reading: newtonMetres('21'), instrument: 'tw-3' },
    ],
    settings: [
      {
        setting: 'differential',
        reading: bar('14.2'),
        instrument: 'pg-1',
        conditions: { speed: { value: '1500', unit: 'r/min' as const } },
      },
    ],
    checks: [
      { check: 'make-safe', result: 'passed' as const },
      { check: 'leak-free', result: 'passed' as const },
      { check: 'function-check', result: 'passed' as const },
      { check: 'plate-marked', result: 'passed' as const },
    ],
    note: 'thread of the bleed seat cleaned',
  },
  inspection: {
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    reference: 'BR-2026-004790',
    edition: '2026-1',
    performedAt: '2026-04-02T08:05:00+02:00',
    shop: 'brackwater-north',
    technician: 't-17',
    opened: [],
    found: { stations: { 'signal-port': [{ element: 'port-fitting' }] } },
  },
  adjustment: {
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    reference: 'BR-2026-004791',
    edition: '2026-1',
    performedAt: '2026-04-02T09:40:00+02:00',
    shop: 'brackwater-north',
    technician: 't-17',
    torques: [
      { joint: 'pressure-adjuster-locknut', how: 'set' as const, reading: newtonMetres('21.5'), instrument: 'tw-3' },
    ],
    settings: [{ setting: 'pressure-limit', reading: bar('230'), instrument: 'pg-1' }],
    checks: [{ check: 'make-safe', result: 'passed' as const }],
  },
  repair: {
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    reference: 'BR-2026-004795',
    edition: '2026-1',
    performedAt: '2026-04-03T10:10:00+02:00',
    shop: 'brackwater-north',
    technician: 't-17',
    removed: [{ station: 'bleed-seat', element: 'plug-m5' }],
    fitted: [{ station: 'bleed-seat', element: 'plug-m5', lot: 'L-2402-7' }],
    seals: [{ joint: 'sense-adjuster-body', seal: 'seal-22-fkm', lot: 'L-2402-7' }],
    torques: [
      { joint: 'bleed-seat-element', how: 'set' as const, reading: newtonMetres('5.4'), instrument: 'tw-3' },
      { joint: 'sense-adjuster-body', how: 'set' as const, reading: newtonMetres('61'), instrument: 'tw-3' },
      { joint: 'sense-adjuster-locknut', how: 'set' as const, reading: newtonMetres('21'), instrument: 'tw-3' },
    ],
    settings: [{ setting: 'differential', reading: bar('14.0'), instrument: 'pg-1' }],
    checks: [{ check: 'make-safe', result: 'passed' as const }],
  },
  test: {
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    reference: 'BR-2026-004796',
    edition: '2026-1',
    performedAt: '2026-04-03T11:30:00+02:00',
    shop: 'brackwater-north',
    technician: 't-17',
    settings: [{ setting: 'differential', reading: bar('14.1'), instrument: 'pg-1' }],
    measurements: [
      {
        measured: 'case-drain-flow',
        reading: { value: '1.8', unit: 'L/min' as const },
        instrument: { unknown: 'measuring glass of the stand, not listed' },
        conditions: { speed: { value: '1500', unit: 'r/min' as const }, pressure: bar('200') },
      },
    ],
    checks: [
      { check: 'leak-free', result: 'passed' as const },
      { check: 'function-check', result: 'passed' as const },
    ],
  },
  mounting: {
    control: { maker: 'ardenholm', serial: 'K-20931' },
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    on: false,
    reference: 'BR-2026-004802',
    edition: '2026-1',
    performedAt: '2026-04-20T13:00:00+02:00',
    shop: 'brackwater-north',
    technician: 't-17',
    checks: [
      { check: 'leak-free', result: 'failed' as const, reason: 'weeping at the signal port before it came off' },
    ],
  },
  identity: {
    what: 're-plated' as const,
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    serial: 'P-7741-R',
    reference: 'BR-2026-I-0007',
    performedAt: '2026-04-21T10:00:00+02:00',
    shop: 'brackwater-north',
    technician: 't-17',
    reason: 'The plate was lost in painting; a new one was stamped.',
  },
  correction: {
    kind: 'void' as const,
    reason: 'Decided about the wrong record.',
  },
  disposition: {
    reference: 'BR-2026-D-0031',
    performedAt: '2026-04-21T09:00:00+02:00',
    decision: 'concession' as const,
    reason: 'The port is sealed anew when the control is mounted again.',
    limits: [{ what: 'pressure' as const, atMost: { value: '180', unit: 'bar' } }, { text: 'Only on the test stand.' }],
    expires: '2050-01-01T00:00:00+01:00',
  },
};
