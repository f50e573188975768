/** Job sheets: what a conversion of this unit, or its mounting on that pump, takes. */
import type { Edition } from '../core/catalogue/edition.ts';
import type { Fit } from '../core/fit/fit.ts';
import type { NoPlan, Plan } from '../core/fit/plan.ts';
import { planConversion } from '../core/fit/plan-conversion.ts';
import { planMounting } from '../core/fit/plan-mounting.ts';
import { sheetOf } from '../core/fit/sheet.ts';
import { fitDigest } from '../core/fit/sheet-digest.ts';
import type { BuiltFor, PumpAtHand } from '../core/fit/target-function.ts';
import type { UnitState } from '../core/history/fold.ts';
import { knownSettings } from '../core/judge/make-case.ts';
import { Problem } from '../errors.ts';
import { namesOfUnits } from '../store/sql/find-units.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { listEditions } from '../store/sql/read-editions.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { nameOf, readingContext, requireOwnMake, requireUnit, type UnitPath } from './read-unit.ts';
import { requireInUse } from './require-in-use.ts';

export type ConversionAsked = UnitPath & {
  readonly function: string;
  /** By station. */
  readonly choices: Readonly<Record<string, string>>;
  /** What the control is to be built for, where that is not recorded or is another now. */
  readonly builtFor: BuiltFor;
  readonly edition: string | null;
  /** Languages that texts are wanted in, the first preferred. */
  readonly languages: readonly string[];
};

export async function planConversionOf(app: App, asker: Asker, asked: ConversionAsked) {
  requireOwnMake(asker, asked.maker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const { control, pump, edition, names, day } = await atHand(app, tx, asked, asked.edition);
    const { state, body } = control;
    requireInUse([state, ...(pump === null ? [] : [pump.state])], names);
    const builtFor = { ...state.builtFor, ...asked.builtFor };
    const plan = planConversion({
      edition,
      body,
      pump: pump?.atHand ?? null,
      builtFor,
      fit: { ...contents(state), ...(pump === null ? {} : contents(pump.state)) },
      from: state.function,
      settings: knownSettings(state),
      to: asked.function,
      choices: asked.choices,
      day,
    });
    return sheetOf(requirePlan(plan), edition, asked.languages, {
      control: { unit: state.unit, maker: asked.maker, name: nameOf(names, state.unit), body, builtFor },
      pump:
        pump === null
          ? null
          : { unit: pump.state.unit, maker: asked.maker, name: nameOf(names, pump.state.unit), ...pump.atHand },
      from: { function: state.function, fit: fitDigest(contents(state)) },
      to: { function: asked.function },
    });
  });
}

export type MountingAsked = UnitPath & {
  readonly pump: { readonly maker: string; readonly name: string };
  readonly edition: string | null;
  readonly languages: readonly string[];
};

export async function planMountingOf(app: App, asker: Asker, asked: MountingAsked) {
  for (const maker of [asked.maker, asked.pump.maker]) requireOwnMake(asker, maker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const { control, pump: under, edition, names, day } = await atHand(app, tx, asked, asked.edition);
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
      fit: { ...contents(state), ...contents(pump.state) },
      function: state.function,
      day,
    });
    const { builtFor } = state;
    return sheetOf(requirePlan(plan), edition, asked.languages, {
      control: { unit: state.unit, maker: asked.maker, name: nameOf(names, state.unit), body, builtFor },
      pump: { unit: pump.state.unit, maker: asked.pump.maker, name: pumpName.asWritten, ...pump.atHand },
      from: { function: state.function, fit: fitDigest(contents(state)) },
      to: { function: state.function },
    });
  });
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
    edition: await editionFor(app, tx, path.maker, editionAsked, now),
    day: now.slice(0, 10),
    names: await namesOfUnits(tx, [control.unit, ...(pumpUnit === null ? [] : [pumpUnit])]),
  };
}

async function pumpAtHand(tx: Tx, unit: string): Promise<{ state: UnitState; atHand: PumpAtHand }> {
  const [state] = await readCurrent(tx, [unit]);
  if (state?.born?.kind !== 'pump') throw new Error(`unit ${unit} is no pump`);
  const { series, size, rotation, fluid } = state.born;
  return { state, atHand: { series, size, rotation, fluid } };
}

/** The edition asked for, else the newest in effect. */
async function editionFor(app: App, tx: Tx, maker: string, asked: string | null, now: string): Promise<Edition> {
  const inEffect = (await listEditions(tx, [maker])).filter((one) => one.effectiveFrom <= now);
  const name = asked ?? inEffect.at(-1)?.edition;
  const edition = name === undefined ? null : await app.editions.get(tx, maker, name);
  if (edition === null)
    throw new Problem(
      'no-plan',
      asked === null ? `${maker} has no edition in effect.` : `${maker} has published no edition ${asked}.`,
    );
  return edition;
}

function contents(state: UnitState): Fit {
  return Object.fromEntries(
    Object.entries(state.stations).map(([id, { elements, basis }]) => [id, { elements, basis }]),
  );
}
