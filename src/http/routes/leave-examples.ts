/** Bodies of authorisations and approvals, in the story of `examples.ts`. */
export const leaveExamples = {
  authorisation: {
    reference: 'BR-2026-A-0017',
    tasks: ['assemble' as const, 'set-pressure' as const],
    series: ['curlew'],
    from: '2026-01-01T00:00:00+01:00',
    until: '2028-01-01T00:00:00+01:00',
    givenBy: 'training centre of Ardenholm',
  },
  authorisationWithdrawal: {
    reference: 'BR-2026-A-0018',
    from: '2026-06-01T00:00:00+02:00',
    reason: 'Moved to the store.',
  },
  erasure: { erase: 'name' as const },
  approval: {
    reference: 'AR-2026-0003',
    distributor: 'brackwater',
    shop: 'brackwater-north',
    series: ['curlew'],
    from: '2026-01-01T00:00:00Z',
    reason: 'Visited in December; stand and tools are as asked.',
  },
  approvalWithdrawal: { reference: 'AR-2026-0041', from: '2026-09-01T00:00:00Z', reason: 'The stand is gone.' },
};
