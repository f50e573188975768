/** What is posted of lots, in the order in which it follows. */
export const lotExamples = {
  intake: {
    reference: 'IN-2026-0088',
    performedAt: '2026-02-02T08:30:00+01:00',
    shop: 'brackwater-north',
    location: 'shelf 3',
    quantity: 40,
  },
  scrapping: {
    reference: 'SC-2026-0012',
    performedAt: '2026-02-20T15:00:00+01:00',
    shop: 'brackwater-north',
    quantity: 1,
    item: 'seal-22-fkm',
    reason: 'cut while unpacking',
  },
  return: {
    reference: 'RT-2026-0003',
    performedAt: '2026-02-27T15:00:00+01:00',
    shop: 'brackwater-north',
    quantity: 5,
    counts: 'kits' as const,
    reason: 'ordered too many',
  },
  count: {
    reference: 'ST-2026-0001',
    performedAt: '2026-03-06T16:00:00+01:00',
    shop: 'brackwater-north',
    quantity: 31,
    loose: [{ item: 'plug-m5', quantity: 2 }],
  },
  restocking: {
    reference: 'RS-2026-0007',
    performedAt: '2026-03-14T11:00:00+01:00',
    shop: 'brackwater-north',
    location: 'drawer 12',
    record: '0195956e-6c4d-7a31-8a51-3c1d5b0e2f11',
    station: 'bleed-seat',
    element: 'orifice-0.6',
  },
};
