/** A claim, its trace, a containment of the lot over two distributors, and a late record that adds a unit. */
import { type Callers, edition, maker } from './scene.ts';
import type { ClaimTrace, Contained, Outcome } from './shapes.ts';

/** P-7741 failed; `lot` is that of the kit which its control was converted with. */
export async function warrantyLines({ brackwater, tollan, analyst }: Callers, lot: string): Promise<string[]> {
  const claim = await brackwater.post('/v1/claims', {
    pump: { maker, serial: 'P-7741' },
    reference: 'BR-2026-CL-0007',
    shop: 'brackwater-north',
    performedAt: '2026-10-14T09:00:00+02:00',
    failedAt: '2026-10-12T06:00:00Z',
    part: 'control',
    symptom: 'pressure-unstable',
    failureMode: 'unknown',
    asFound: { settings: { 'pressure-limit': { value: '281', unit: 'bar' } } },
    observations: { cleanliness: '22/20/17', water: { unknown: 'no sample was taken' } },
  });
  const { points, control } = await analyst.get<ClaimTrace>(`/v1/claims/${claim.body.id}/trace`);
  const count = (bears: string) => points.filter((one) => one.bears === bears).length;
  const said = ['bears on the claim', 'clear', 'unknown'].map((one) => `${count(one)} ${one}`).join(', ');
  const bearing = points.filter((one) => one.bears === 'bears on the claim');
  return [
    `Brackwater claims control ${control?.name} of P-7741; of ${points.length} points ${said}`,
    ...bearing.map(({ topic, place, basis }) => `bears on it: ${topic} ${place ?? ''}: ${basis}`),
    ...(await containedLines({ brackwater, tollan, analyst }, lot)),
  ];
}

async function containedLines({ brackwater, tollan, analyst }: Omit<Callers, 'maker'>, lot: string): Promise<string[]> {
  const issued = await analyst.post('/v1/containments', {
    reference: 'AR-2026-CN-0003',
    criteria: { lot: `${maker}/${lot}` },
    severity: 'inspect',
    reason: 'the bores of some orifices may be out of round',
    instruction: 'Measure the bore of the pilot orifice with a pin gauge.',
    dueWithin: 'P30D',
  });
  const reach = async () =>
    (await analyst.get<Contained>(`/v1/containments/${issued.body.id}/reach?first=200`)).items.map(
      ({ name, added }) => `${name}${added === null ? '' : ' (added by a late record)'}`,
    );
  const before = await reach();
  const late = await tollan.post('/v1/repairs', {
    ...{
      pump: { maker, serial: 'P-8101' },
      reference: 'TO-2026-0009',
      edition,
      shop: 'tollan-harbour',
      technician: 't-4',
    },
    performedAt: '2026-06-02T10:00:00+02:00',
    removed: [{ station: 'pilot-seat', element: 'plug-m5' }],
    fitted: [{ station: 'pilot-seat', element: 'plug-m5', lot }],
    seals: [],
    torques: [],
  });
  const after = await reach();
  const unit = await brackwater.get<{ control: Outcome }>(`/v1/controls/${maker}/K-20931`);
  return [
    `the maker contains lot ${lot}: it reaches ${before.join(', ')}`,
    `a record of June comes late from Tollan (${late.status === 201 ? late.body.status : 'refused'}): now ${after.join(', ')}`,
    `whoever looks at K-20931 is told: ${unit.control.status}, ${contained(unit.control)}`,
  ];
}

function contained({ findings = [] }: Outcome): string {
  return findings.find((one) => one.rule === 'contained')?.instruction ?? 'nothing';
}
