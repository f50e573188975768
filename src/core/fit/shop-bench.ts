/** A plan beside a shop: what its shelf gives, and which of its instruments can decide what the record must prove. */
import type { Edition } from '../catalogue/edition.ts';
import { decisionRuleFor } from '../conformity/decision-rule.ts';
import { type AskedBefore, type AtHand, instrumentsFor, type Prospect } from '../conformity/instruments-for.ts';
import { rangeOf } from '../quantity/range.ts';
import type { Instant } from '../time/instant.ts';
import { needsOf } from './cover-needs.ts';
import { together } from './fit.ts';
import type { Layout } from './layout.ts';
import type { Plan } from './plan.ts';
import { type Stock, type Supply, supplyFor } from './supply.ts';

export type Shop = {
  readonly shop: string;
  readonly stock: Stock;
  readonly instruments: readonly AtHand[];
  /** The time of the work. */
  readonly at: Instant;
};

export type Requirement = {
  readonly of: AskedBefore['of'];
  readonly place: string;
  readonly instruments: readonly Prospect[];
};

export function supplyOfPlan(
  plan: Pick<Plan, 'changes' | 'joints'>,
  { edition, layout, fluid }: { readonly edition: Edition; readonly layout: Layout; readonly fluid: string | null },
  { stock, at }: Pick<Shop, 'stock' | 'at'>,
): Supply {
  const needs = needsOf(together(...plan.changes.map((change) => change.in)), plan.joints);
  return supplyFor(needs, { edition, body: layout.body.id, fluid, day: at.slice(0, 10) }, stock);
}

/** Every torque and setting that has limits and is read with an instrument: turns and angles are counted. */
export function requirementsOf(
  { joints, settings }: Pick<Plan, 'joints' | 'settings'>,
  { edition, layout }: { readonly edition: Edition; readonly layout: Layout },
  { instruments, at }: Pick<Shop, 'instruments' | 'at'>,
): Requirement[] {
  const { guardBand, calibrated = false } = edition.demands ?? {};
  const known = [...layout.joints, ...layout.mountingJoints];
  const torques = joints.flatMap(({ joint, torque }) =>
    known
      .filter(({ id }) => id === joint)
      .map(({ decisionRule }) => ({
        ...{ of: 'torque' as const, place: joint, range: rangeOf(torque) },
        rule: decisionRuleFor(decisionRule, guardBand),
      })),
  );
  const values = settings.flatMap(({ setting, min, max }) =>
    layout.settings
      .filter(({ id, quantity }) => id === setting && quantity !== 'angle')
      .map(({ decisionRule }) => ({
        ...{ of: 'setting' as const, place: setting, range: { min, max } },
        rule: decisionRuleFor(decisionRule, guardBand),
      })),
  );
  return [...torques, ...values]
    .filter(({ range }) => range.min !== null || range.max !== null)
    .map((one) => ({
      ...{ of: one.of, place: one.place },
      instruments: instrumentsFor({ ...one, calibrated }, instruments, at),
    }));
}
