/** A piece of work in a few lines, so that a counterexample can be read. */
import { disturbedAt, jointsAt, waysTo } from './layout.ts';
import { type Piece, shown } from './pieces.ts';
import type { Task } from './task.ts';

type Named = { stock?: Readonly<Record<string, number>>; day?: string };

export function describeJob(task: Task, job: Named, truth: Readonly<Record<string, readonly Piece[]>>): string {
  const { edition, layout, fit, demands, choices } = task;
  const stations = [...layout.stations.keys()].map((id) => {
    const { elements = null, basis = 'unknown' } = fit[id] ?? {};
    const ways = waysTo(layout, id).map((way) => way.join('+'));
    const joints = jointsAt(layout, id).map(
      ({ id: joint, opens, closed, seals, with: brings }) =>
        `${joint}${opens ? '' : ' holds'}${closed ? ' locks' : ''}${brings ? ` with ${brings}` : ''}${seals.map((each) => ` ${each.quantity} ${each.seal}`)}`,
    );
    return [
      `${id}${ways.length > 0 ? ` through ${ways.join(' or ')}` : ''}`,
      `joints [${joints.join(', ')}]`,
      `${elements === null ? 'not known' : `"${shown(elements)}"`} (${basis}), really "${shown(truth[id] ?? [])}"`,
      `to be ${JSON.stringify(demands[id])}${choices[id] ? ` choosing ${choices[id]}` : ''}`,
      `disturbs [${disturbedAt(layout, id)}]`,
    ].join('; ');
  });
  const settings = [...layout.settings.values()].map(
    ({ id, station, rank }) => `${id} at ${station}, rank ${rank}, is ${task.settings[id]?.value ?? 'not known'}`,
  );
  const kits = edition.kits.map(
    ({ part, cost, contents, bodies, withdrawnFrom }) =>
      `${part} for ${bodies}, ${cost}, ${shown(contents)}, stock ${job.stock?.[part] ?? 'any'}, until ${withdrawnFrom}`,
  );
  const where = task.onPump ? 'on a pump' : 'on the shelf';
  return ['', `to ${task.fun.id}, ${where}, on ${job.day ?? 'any day'}`, ...stations, ...settings, ...kits, ''].join(
    '\n  ',
  );
}
