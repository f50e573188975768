/**
 * The plan of a mounting: putting a control on a pump. What the control's function demands of the pump's own
 * stations is changed, the mounting joints are closed, every setting of the function is set, and the pump is tested
 * and re-marked.
 */
import type { Edition, Pattern } from '../catalogue/edition.ts';
import { onPump } from '../catalogue/lookup.ts';
import { assemblePlan } from './assemble-plan.ts';
import { chooseContents, satisfies } from './choose-contents.ts';
import type { Fit } from './fit.ts';
import { contentAt, contentsOf, type Layout, layoutOf } from './layout.ts';
import type { NoPlan, Plan } from './plan.ts';
import { type BuiltFor, type PumpAtHand, targetFunction } from './target-function.ts';

export type MountingJob = {
  readonly edition: Edition;
  readonly body: string;
  readonly builtFor: BuiltFor;
  readonly pump: PumpAtHand;
  /** Stations of the control, and under `pump/…` those of the pump. */
  readonly fit: Fit;
  /** The control's function; null where it matches none. */
  readonly function: string | null;
  readonly stock?: Readonly<Record<string, number>>;
  /** The day of the work: kits withdrawn by then are not offered. */
  readonly day?: string;
};

export function planMounting(job: MountingJob): Plan | NoPlan {
  const misfit = builtForAnother(job.builtFor, job.pump);
  if (misfit !== null) return { refused: misfit, offered: [] };
  if (job.function === null)
    return { refused: 'the control matches no function: convert it to one first', offered: [] };
  const target = targetFunction(job.edition, job.body, job.function, job.pump, job.builtFor);
  if ('refused' in target) return target;
  const layout = layoutOf(target.body, target.size, true);
  const [wrong] = wrongInControl(layout, target.pattern, job.fit);
  if (wrong !== undefined) {
    const refused = `${wrong} doesn't hold what ${job.function} demands on this pump: convert the control first`;
    return { refused, offered: [] };
  }
  const chosen = chooseContents(layout, onPumpOnly(target.pattern), job.fit, {});
  return assemblePlan(
    {
      edition: job.edition,
      layout,
      kind: 'mounting',
      onPump: true,
      function: target.function,
      // Every mounting makes all settings due, whatever they were on another pump.
      functionChanges: true,
      known: {},
      set: [],
      before: contentsOf(layout, job.fit),
      contents: chosen.contents,
      toOpen: chosen.changes.map((change) => change.station),
      toReach: chosen.looks,
      opened: undefined,
    },
    chosen,
    { fit: job.fit, fluid: job.pump.fluid, stock: job.stock, day: job.day },
  );
}

/** A control converted on the shelf states what it is built for; here that meets the pump. */
export function builtForAnother(builtFor: BuiltFor, pump: PumpAtHand): string | null {
  if (builtFor.size !== undefined && builtFor.size !== pump.size) {
    return `the control is built for size ${builtFor.size}, the pump is size ${pump.size}`;
  }
  if (builtFor.rotation !== undefined && builtFor.rotation !== pump.rotation) {
    return `the control is built for ${builtFor.rotation} rotation, the pump turns ${pump.rotation}`;
  }
  return null;
}

/** Stations of the control that hold something else than the pattern asks for on this pump, as far as is known. */
function wrongInControl(layout: Layout, pattern: Pattern, fit: Fit): string[] {
  return layout.body.stations
    .map((station) => station.id)
    .filter((id) => {
      const content = contentAt(layout, fit, id);
      return content.elements !== null && !satisfies(content, pattern.stations[id] ?? 'keep');
    });
}

/** Mounting a control doesn't open the control: only the pump's own stations are decided. */
function onPumpOnly(pattern: Pattern): Pattern {
  return {
    ...pattern,
    stations: Object.fromEntries(Object.entries(pattern.stations).filter(([station]) => station.startsWith(onPump))),
  };
}
