/** What was in a failed pump that day, told from the public answers alone. */
import type { Caller } from './caller.ts';
import { maker } from './scene.ts';
import type { History, Reach, Statement } from './shapes.ts';

export async function traceLines(analyst: Caller, pump: string, failedAt: string, lot: string): Promise<string[]> {
  const at = `performed=${encodeURIComponent(failedAt)}`;
  const { mountings } = await analyst.get<History>(`/v1/pumps/${maker}/${pump}/history?${at}`);
  const mounted = mountings.findLast((one) => one.to === null);
  const control = mounted?.name ?? '';
  const { state, items } = await analyst.get<History>(`/v1/controls/${maker}/${control}/history?${at}`);
  const work = items.findLast((one) => one.kind === 'conversion');
  if (work?.statement == null) return [`pump ${pump}: no conversion is recorded`];
  return [
    `pump ${pump} failed on ${failedAt.slice(0, 10)}: on it that day control ${control}, since ${mounted?.from.slice(0, 10)}, function ${state.function}`,
    ...partLines(state, work.statement, work.id),
    ...work.statement.torques.map(torqueLine),
    ...Object.entries(state.settings).map(([id, { value, unit }]) => `set: ${id} ${value} ${unit}`),
    await reachLine(analyst, control, lot),
  ];
}

function partLines({ fit }: History['state'], { fitted, technician, shop }: Statement, work: string | null): string[] {
  return Object.entries(fit)
    .filter(([, content]) => content.record === work)
    .map(([station, { elements }]) => {
      const lot = fitted.find((one) => one.station === station)?.lot ?? 'none';
      const parts = elements?.map((held) => held.element).join(', ') || 'nothing';
      return `in it: ${parts} at ${station}, fitted by technician ${technician} of ${shop}, from lot ${lot}`;
    });
}

function torqueLine({ joint, reading, instrument }: Statement['torques'][number]): string {
  const readings = [reading].flat();
  return `torqued: ${joint} ${readings.map((one) => one.value).join(', ')} ${readings[0]?.unit} with ${instrument}`;
}

async function reachLine(analyst: Caller, control: string, lot: string): Promise<string> {
  const { items } = await analyst.get<Reach>(`/v1/reach?lot=${maker}/${lot}&first=200`);
  const others = items.filter((one) => one.kind === 'control' && one.name !== control);
  const pumps = others.flatMap((one) => one.mounted?.name ?? []);
  return `${others.length} other controls share lot ${lot}, ${pumps.length} of them mounted, on ${pumps.join(', ')}`;
}
