/** A containment as it is posted, what is done about a unit, and its end. */
export const containmentExamples = {
  containment: {
    reference: 'AC-2026-0004',
    criteria: { lot: 'ardenholm/L-2402-7', element: 'plug-m5' },
    reason: 'threads of plugs out of tolerance in this lot',
    severity: 'stop' as const,
    instruction: 'Take the plug out and send it in; fit one of another lot.',
    dueWithin: 'P30D',
  },
  progress: {
    reference: 'BR-2026-C-0001',
    unit: '0195956e-6c4d-7a31-8a51-3c1d5b0e2f11',
    step: 'secured' as const,
    by: 'A. Example',
    note: 'on the red shelf',
  },
  lift: { reference: 'AC-2026-0005', reason: 'measured again: the threads are within their limits' },
};
