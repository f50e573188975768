/**
 * The plan of a conversion: from any fit, also one that matches no function or is partly unknown, to a function and
 * choice. Pure: the same job gives the same plan.
 */
import type { Edition } from '../catalogue/edition.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { assemblePlan } from './assemble-plan.ts';
import { chooseContents, whyNotChosen } from './choose-contents.ts';
import type { Fit } from './fit.ts';
import { contentsOf, layoutOf } from './layout.ts';
import type { NoPlan, Plan } from './plan.ts';
import { type BuiltFor, type PumpAtHand, targetFunction } from './target-function.ts';

export type ConversionJob = {
  readonly edition: Edition;
  readonly body: string;
  /** The pump that the control sits on; null: it is on the shelf. */
  readonly pump: PumpAtHand | null;
  /** What a control on the shelf is built for, as far as it is decided. */
  readonly builtFor: BuiltFor;
  readonly fit: Fit;
  /** The function declared so far; null: none that matches. */
  readonly from: string | null;
  /** Settings that the pair of control and pump is known to have. */
  readonly settings: Readonly<Record<string, Quantity>>;
  readonly to: string;
  /** By station the element to fit where the pattern leaves several. */
  readonly choices: Readonly<Record<string, string>>;
  /** Kits on the shelf by part; without it every kit is to be had. */
  readonly stock?: Readonly<Record<string, number>>;
  /** The day of the work: kits withdrawn by then are not offered. */
  readonly day?: string;
  /** What a record says was opened, in place of the ways that the planner would choose. */
  readonly opened?: readonly string[];
};

export function planConversion(job: ConversionJob): Plan | NoPlan {
  const target = targetFunction(job.edition, job.body, job.to, job.pump, job.builtFor);
  if ('refused' in target) return target;
  const layout = layoutOf(target.body, target.size);
  const refused = whyNotChosen(layout, target.pattern, job.choices);
  if (refused !== null) return { refused, offered: [] };
  const chosen = chooseContents(layout, target.pattern, job.fit, job.choices);
  return assemblePlan(
    {
      edition: job.edition,
      layout,
      kind: 'conversion',
      onPump: job.pump !== null,
      function: target.function,
      functionChanges: job.from !== job.to,
      known: job.settings,
      set: [],
      before: contentsOf(layout, job.fit),
      contents: chosen.contents,
      toOpen: chosen.changes.map((change) => change.station),
      toReach: chosen.looks,
      opened: job.opened,
    },
    chosen,
    { fit: job.fit, fluid: job.pump?.fluid ?? null, stock: job.stock, day: job.day, size: job.builtFor.size },
  );
}
