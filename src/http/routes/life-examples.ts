/** Bodies of movements, start-ups and retirements, in the story of `examples.ts`. */
const said = { shop: 'brackwater-north', technician: 't-17' };

export const lifeExamples = {
  movement: {
    what: 'received' as const,
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    reference: 'BR-2026-M-0101',
    performedAt: { at: '2026-03-13T00:00:00+01:00', precision: 'day' as const },
    ...said,
    from: 'Tollan, by truck',
    hours: { value: '0', unit: 'h' as const },
  },
  startUp: {
    pump: { maker: 'ardenholm', serial: 'P-7741' },
    reference: 'BR-2026-S-0044',
    performedAt: '2026-04-03T11:00:00+02:00',
    ...said,
    machine: 'hydraulic press 4 of Harbour Works',
    circuit: {
      'signal-pressure': { value: '180', unit: 'bar' as const },
      'system-relief': { value: '260', unit: 'bar' as const },
    },
    handedOver: { acceptedBy: 'plant engineer of Harbour Works', dues: [{ check: 'function-check' }] },
    hours: { value: '2.5', unit: 'h' as const },
  },
  retirement: {
    control: { maker: 'ardenholm', serial: 'K-30001' },
    reference: 'BR-2026-R-0002',
    performedAt: '2026-04-05T08:00:00+02:00',
    ...said,
    reason: 'The bore of the spool is scored.',
  },
};
