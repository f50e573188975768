/** Job sheets: what a conversion of this unit, or its mounting on that pump, takes. */
import type { Edition } from '../core/catalogue/edition.ts';
import type { NoPlan, Plan } from '../core/fit/plan.ts';
import { planConversion } from '../core/fit/plan-conversion.ts';
import { planMounting } from '../core/fit/plan-mounting.ts';
import { type AtShop, type SheetHeads, sheetOf } from '../core/fit/sheet.ts';
import { fitDigest } from '../core/fit/sheet-digest.ts';
import { sheetLayout } from '../core/fit/sheet-layout.ts';
import { requirementsOf, supplyOfPlan } from '../core/fit/shop-bench.ts';
import type { BuiltFor, PumpAtHand } from '../core/fit/target-function.ts';
import { fitOf, knownSettings } from '../core/history/at-hand.ts';
import type { UnitState } from '../core/history/fold.ts';
import type { Instant } from '../core/time/instant.ts';
import { Problem } from '../errors.ts';
import { namesOfUnits } from '../store/sql/find-units.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { editionInEffect } from './editions.ts';
import { ownerAlone } from './list-own.ts';
import { readShop } from './read-shop.ts';
import { nameOf, readingContext, requireOwnMake, requireUnit, type UnitPath } from './read-unit.ts';
import { requireInUse } from './require-in-use.ts';

export type ConversionAsked = UnitPath & {
  readonly function: string;
  /** By station. */
  readonly choices: Readonly<Record<string, string>>;
  /** What the control is to be built for, where that is not recorded or is another now. */
  readonly builtFor: BuiltFor;
  readonly edition: string | null;
  /** The shop of the asker that does the work: then its shelf and its instruments count. */
  readonly shop: string | null;
  /** Languages that texts are wanted in, the first preferred. */
  readonly languages: readonly string[];
};

export async function planConversionOf(app: App, asker: Asker, asked: ConversionAsked) {
  requireOwnMake(asker, asked.maker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const { control, pump, edition, names, now } = await atHand(app, tx, asked, asked.edition);
    const { state, body } = control;
    requireInUse([state, ...(pump === null ? [] : [pump.state])], names);
    const builtFor = { ...state.builtFor, ...asked.builtFor };
    const plan = planConversion({
      edition,
      body,
      pump: pump?.atHand ?? null,
      builtFor,
      fit: { ...fitOf(state), ...(pump === null ? {} : fitOf(pump.state)) },
      from: state.function,
      settings: knownSettings(state),
      to: asked.function,
      choices: asked.choices,
      day: now.slice(0, 10),
    });
    const heads = {
      control: { unit: state.unit, maker: asked.maker, name: nameOf(names, state.unit), body, builtFor },
      pump:
        pump === null
          ? null
          : { unit: pump.state.unit, maker: asked.maker, name: nameOf(names, pump.state.unit), ...pump.atHand },
      from: { function: state.function, fit: fitDigest(fitOf(state)) },
      to: { function: asked.function },
    };
    const made = requirePlan(plan);
    const shop = await atShop(app, tx, asker, asked.shop, { plan: made, edition, heads, at: now });
    return sheetOf(made, edition, asked.languages, heads, shop);
  });
}

export type MountingAsked = UnitPath & {
  readonly pump: { readonly maker: string; readonly name: string };
  readonly edition: string | null;
  readonly shop: string | null;
  readonly languages: readonly string[];
};

export async function planMountingOf(app: App, asker: Asker, asked: MountingAsked) {
  for (const maker of [asked.maker, asked.pump.maker]) requireOwnMake(asker, maker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const { control, pump: under, edition, names, now } = await atHand(app, tx, asked, asked.edition);
    if (under !== null)
      throw new Problem('no-plan', `The control is on pump ${nameOf(names, under.state.unit)}: take it off first.`);
    const pumpName = await requireUnit(tx, { kind: 'pump', ...asked.pump });
    const pump = await pumpAtHand(tx, pumpName.unit);
    if (pump.state.mounted !== null)
      throw new Problem('no-plan', `Pump ${pumpName.asWritten} has a control on it: take that off first.`);
    const { state, body } = control;
    requireInUse([state, pump.state], [...names, pumpName]);
    const plan = planMounting({
      edition,
      body,
      builtFor: state.builtFor,
      pump: pump.atHand,
      fit: { ...fitOf(state), ...fitOf(pump.state) },
      function: state.function,
      day: now.slice(0, 10),
    });
    const { builtFor } = state;
    const heads = {
      control: { unit: state.unit, maker: asked.maker, name: nameOf(names, state.unit), body, builtFor },
      pump: { unit: pump.state.unit, maker: asked.pump.maker, name: pumpName.asWritten, ...pump.atHand },
      from: { function: state.function, fit: fitDigest(fitOf(state)) },
      to: { function: state.function },
    };
    const made = requirePlan(plan);
    const shop = await atShop(app, tx, asker, asked.shop, { plan: made, edition, heads, at: now });
    return sheetOf(made, edition, asked.languages, heads, shop);
  });
}

/** Of the asker's shop that is named; null: none is. */
async function atShop(
  app: App,
  tx: Tx,
  asker: Asker,
  shop: string | null,
  { plan, edition, heads, at }: { plan: Plan; edition: Edition; heads: SheetHeads; at: Instant },
): Promise<AtShop | null> {
  if (shop === null) return null;
  const known = await readShop(app, tx, shop, { owner: ownerAlone(asker), edition, at });
  const place = { edition, layout: sheetLayout(edition, heads), fluid: heads.pump?.fluid ?? null };
  return { shop, supply: supplyOfPlan(plan, place, known), requirements: requirementsOf(plan, place, known) };
}

function requirePlan(plan: Plan | NoPlan): Plan {
  if (!('refused' in plan)) return plan;
  const refused = plan.refused.charAt(0).toUpperCase() + plan.refused.slice(1);
  throw new Problem('no-plan', `${refused}.`, { extra: { offered: plan.offered } });
}

/** The control asked for, or the control on the pump asked for, with the pump under it. */
async function atHand(app: App, tx: Tx, path: UnitPath, editionAsked: string | null) {
  const { unit } = await requireUnit(tx, path);
  const [named] = await readCurrent(tx, [unit]);
  const partner = named?.mounted?.with ?? null;
  const [other] = partner === null ? [] : await readCurrent(tx, [partner]);
  const control = named?.born?.kind === 'control' ? named : other;
  if (control?.born?.kind !== 'control') throw new Problem('no-plan', `There is no control on pump ${path.name}.`);
  const pumpUnit = control.mounted?.with ?? null;
  const now = await readClock(tx);
  return {
    control: { state: control, body: control.born.body },
    pump: pumpUnit === null ? null : await pumpAtHand(tx, pumpUnit),
    edition: await editionInEffect(app.editions, tx, path.maker, editionAsked, now),
    now,
    names: await namesOfUnits(tx, [control.unit, ...(pumpUnit === null ? [] : [pumpUnit])]),
  };
}

async function pumpAtHand(tx: Tx, unit: string): Promise<{ state: UnitState; atHand: PumpAtHand }> {
  const [state] = await readCurrent(tx, [unit]);
  if (state?.born?.kind !== 'pump') throw new Error(`unit ${unit} is no pump`);
  const { series, size, rotation, fluid } = state.born;
  return { state, atHand: { series, size, rotation, fluid } };
}
