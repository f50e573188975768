/** Bodies of what is stated of instruments over time, in the story of `examples.ts`. */
export const instrumentExamples = {
  calibration: {
    reference: 'BR-2026-C-0003',
    performedAt: '2026-01-08T09:00:00+01:00',
    document: 'certificate' as const,
    number: 'C-44711',
    laboratory: 'Tollan Metrology, bench 2',
    points: ['20', '60', '100'].map((value) => ({
      at: { value, unit: 'N.m' as const },
      asFound: { value: '1.1', unit: '%' as const },
      asLeft: { value: '0.4', unit: '%' as const },
      uncertainty: { value: '1.0', unit: '%' as const },
    })),
    due: '2027-01-08T09:00:00+01:00',
  },
  interimCheck: {
    reference: 'BR-2026-K-0017',
    performedAt: '2026-04-02T07:30:00+02:00',
    checker: 'bench checker, north yard',
    points: [{ at: { value: '60', unit: 'N.m' as const }, asFound: { value: '0.8', unit: '%' as const } }],
  },
  incident: {
    reference: 'BR-2026-I-0002',
    performedAt: '2026-05-11T14:10:00+02:00',
    what: 'dropped' as const,
    note: 'From the bench onto the floor.',
  },
  void: { record: '01a21323-ddf3-77d8-87ec-e82580b948c5', reason: 'Of another wrench: the numbers were swapped.' },
};
