/** A wrench that is found wrong long after: which readings change verdict, and the pumps that they are on now. */
import type { Callers } from './scene.ts';
import type { Judgements } from './shapes.ts';

/** `wrench` is found to read 7 % low: everything it closed since January got more torque than it showed. */
export async function wrenchLines({ brackwater }: Callers, wrench: string): Promise<string[]> {
  const stated = certificate('BR-2026-C-0031', '2026-11-02T09:00:00+01:00', '-7.0');
  const found = await brackwater.post(`/v1/instruments/${wrench}/calibrations`, stated);
  const { items } = await brackwater.get<Judgements>(`/v1/judgements?cause=${found.body.id}&first=200`);
  const changes = items.flatMap(({ verdicts, reference, units }) => {
    const pumps = units.flatMap(({ kind, name, mountedWith }) => (kind === 'pump' ? name : (mountedWith?.name ?? [])));
    const where = pumps.length === 0 ? 'on no pump' : `on ${[...new Set(pumps)].join(', ')}`;
    return verdicts.map(
      ({ place, was, is }) => `${place} of ${reference}: ${was ?? 'no verdict'} then, ${is ?? 'none'} now, ${where}`,
    );
  });
  return [
    `${wrench} is calibrated in November and found 7 % low: what it closed since January is judged again`,
    ...changes,
    `${items.length} records come out otherwise; what each said at the time stays readable as it was`,
  ];
}

/** As a laboratory states it: deviation is (indicated − reference)/reference, at three points. */
export function certificate(reference: string, performedAt: string, asFound: string) {
  const percent = (value: string) => ({ value, unit: '%' });
  const points = ['5', '50', '100'].map((value) => ({
    at: { value, unit: 'N.m' },
    ...{ asFound: percent(asFound), asLeft: percent('0.0'), uncertainty: percent('1.0') },
  }));
  return { reference, performedAt, document: 'certificate', points };
}
