/** A job in a few lines, so that a counterexample can be read. */
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { demandsOf, jointsAt, type Layout, waysTo } from './layout.ts';
import { type Piece, shown } from './pieces.ts';

export function describeJob(job: ConversionJob, layout: Layout, truth: Record<string, readonly Piece[]>): string {
  const fun = job.edition.functions.find((each) => each.id === job.to && each.body === job.body);
  const { rotation, size } = { ...job.builtFor, ...job.pump };
  const demands = (fun && demandsOf(fun, { rotation, size })) ?? {};
  const stations = [...layout.stations.keys()].map((id) => {
    const { elements = null, basis = 'unknown' } = job.fit[id] ?? {};
    const ways = waysTo(layout, id).map((way) => way.join('+'));
    const joints = jointsAt(layout, id).map(
      ({ id: joint, opens, closed, seals }) =>
        `${joint}${opens ? '' : ' holds'}${closed ? ' locks' : ''}${seals.map((each) => ` ${each.quantity} ${each.seal}`)}`,
    );
    return [
      `${id}${ways.length > 0 ? ` through ${ways.join(' or ')}` : ''}`,
      `joints [${joints.join(', ')}]`,
      `${elements === null ? 'not known' : `"${shown(elements)}"`} (${basis}), really "${shown(truth[id] ?? [])}"`,
      `to be ${JSON.stringify(demands[id])}${job.choices[id] ? ` choosing ${job.choices[id]}` : ''}`,
    ].join('; ');
  });
  const settings = [...layout.settings.values()].map(
    ({ id, station, rank }) => `${id} at ${station}, rank ${rank}, is ${job.settings[id]?.value ?? 'not known'}`,
  );
  const kits = job.edition.kits.map(
    ({ part, cost, contents, bodies }) =>
      `${part} for ${bodies}, ${cost}, ${shown(contents)}, stock ${job.stock?.[part] ?? 'any'}`,
  );
  const where = job.pump === null ? 'on the shelf' : `on a pump with ${job.pump.fluid ?? 'any fluid'}`;
  return ['', `${job.from} to ${job.to}, ${where}`, ...stations, ...settings, ...kits, ''].join('\n  ');
}
