/**
 * Which units in stock serve an order: a control on the shelf, a pump with its control, or a bare pump with a control of
 * the same shop. Each with the work and the material that it takes there.
 */
import type { Edition, Rotation } from '../catalogue/edition.ts';
import { fitOf, knownSettings } from '../history/at-hand.ts';
import type { UnitState } from '../history/fold.ts';
import type { Instant } from '../time/instant.ts';
import { type Fit, together, without } from './fit.ts';
import type { Plan } from './plan.ts';
import { planConversion } from './plan-conversion.ts';
import { planMounting } from './plan-mounting.ts';
import { sheetLayout } from './sheet-layout.ts';
import { supplyOfPlan } from './shop-bench.ts';
import type { Stock, Supply } from './supply.ts';
import type { BuiltFor, PumpAtHand } from './target-function.ts';

export type Order = {
  readonly function: string;
  readonly series?: string | undefined;
  readonly size?: string | undefined;
  readonly rotation?: Rotation | undefined;
  readonly voltage?: string | undefined;
};

export type StockUnit = {
  readonly shop: string;
  /** When it came in, or was first seen. */
  readonly since: Instant;
  /** A movement says that it is there; else only that it was registered, and not what became of it. */
  readonly isStated: boolean;
  readonly state: UnitState;
};

export type StockControl = StockUnit & { readonly body: string };
export type StockPump = StockUnit & { readonly atHand: PumpAtHand };

export type Option = {
  readonly shop: string;
  readonly control: StockControl;
  /** Null: the control alone. */
  readonly pump: StockPump | null;
  /** Without steps where the control is so already. */
  readonly conversion: Plan;
  /** Null: nothing is to be mounted. */
  readonly mounting: Plan | null;
  readonly supply: Supply;
  readonly work: Work;
  /** Of the kits, from the shelf and bought, as the edition has it; null: not known of one of them. */
  readonly cost: number | null;
};
export type Work = {
  readonly steps: number;
  readonly joints: number;
  readonly settings: number;
  readonly checks: number;
};

type Job = {
  readonly edition: Edition;
  readonly order: Order;
  readonly units: readonly StockUnit[];
  readonly stockOf: (shop: string) => Stock;
  /** The time of the work. */
  readonly at: Instant;
};

/**
 * The best first: held units last; then what takes the fewest pieces that must be bought, the fewest steps of work, the
 * cheapest kits and the fewest; what is known to be there before what is only registered; and what has lain longest.
 */
export function stockOptions(job: Job): Option[] {
  const controls = job.units.flatMap((unit): StockControl[] =>
    unit.state.born?.kind === 'control' ? [{ ...unit, body: unit.state.born.body }] : [],
  );
  const pumps = job.units.flatMap((unit) => pumpFor(job.order, unit));
  const loose = controls.filter(({ state }) => state.mounted === null);
  const converting = planner(job);
  const alone = loose.flatMap((control) => {
    const conversion = converting(control, null, forOrder(job.order));
    return conversion === null ? [] : [optionOf(job, { control, pump: null, conversion, mounting: null })];
  });
  const mounted = pumps.flatMap((pump) => {
    const control = controls.find(({ state }) => state.unit === pump.state.mounted?.with);
    const conversion = control === undefined ? null : converting(control, pump, {});
    if (control === undefined || conversion === null) return [];
    return [optionOf(job, { control, pump, conversion, mounting: null })];
  });
  const bare = pumps.filter(({ state }) => state.mounted === null);
  const pairs = bare.flatMap((pump) => {
    const there = loose.filter(({ shop }) => shop === pump.shop);
    const options = there.flatMap((control) => pairOf(job, converting, control, pump) ?? []);
    return options.sort(byRank).slice(0, 1);
  });
  return [...alone, ...mounted, ...pairs].sort(byRank);
}

type Planner = (control: StockControl, pump: StockPump | null, builtFor: BuiltFor) => Plan | null;

/** Units in stock are often the same: each plan is made once. Null: it can't have the function. */
function planner({ edition, order, at }: Job): Planner {
  const made = new Map<string, Plan | null>();
  return ({ state, body }, pump, more) => {
    const fit = { ...fitOf(state), ...(pump === null ? {} : fitOf(pump.state)) };
    const builtFor = { ...state.builtFor, ...more };
    const under = pump === null ? null : pump.atHand;
    const job = { body, pump: under, builtFor, fit, from: state.function, settings: knownSettings(state) };
    const key = JSON.stringify(job);
    const known = made.get(key);
    if (known !== undefined) return known;
    const plan = planConversion({ ...job, edition, to: order.function, choices: {}, day: at.slice(0, 10) });
    const found = 'refused' in plan ? null : plan;
    made.set(key, found);
    return found;
  };
}

/** A control of the same shop is converted on the bench for this pump, then put on it. */
function pairOf(job: Job, converting: Planner, control: StockControl, pump: StockPump): Option | null {
  const { size, rotation } = pump.atHand;
  const builtFor = { ...control.state.builtFor, ...forOrder(job.order), size, rotation };
  const conversion = converting(control, null, builtFor);
  if (conversion === null) return null;
  const mounting = planMounting({
    ...{ edition: job.edition, body: control.body, builtFor, pump: pump.atHand, function: job.order.function },
    fit: { ...fitAfter(fitOf(control.state), conversion), ...fitOf(pump.state) },
    day: job.at.slice(0, 10),
  });
  return 'refused' in mounting ? null : optionOf(job, { control, pump, conversion, mounting });
}

function optionOf(job: Job, found: Pick<Option, 'control' | 'pump' | 'conversion' | 'mounting'>): Option {
  const { control, pump, conversion, mounting } = found;
  const { shop } = pump ?? control;
  const plans = mounting === null ? [conversion] : [conversion, mounting];
  const under = pump === null ? null : pump.atHand;
  const layout = sheetLayout(job.edition, { control, pump: under });
  const all = { changes: plans.flatMap(({ changes }) => changes), joints: plans.flatMap(({ joints }) => joints) };
  const place = { edition: job.edition, layout, fluid: under === null ? null : under.fluid };
  const supply = supplyOfPlan(all, place, { stock: job.stockOf(shop), at: job.at });
  return { shop, ...found, supply, work: workOf(plans), cost: costOf(supply) };
}

function workOf(plans: readonly Plan[]): Work {
  const sum = (count: (plan: Plan) => number) => plans.reduce((total, plan) => total + count(plan), 0);
  return {
    steps: sum(({ steps }) => steps.length),
    joints: sum(({ joints }) => joints.length),
    settings: sum(({ settings }) => settings.length),
    checks: sum(({ evidence }) => evidence.checks.length),
  };
}

function costOf({ cover, buy }: Supply): number | null {
  return cover.cost === null || buy.cost === null ? null : cover.cost + buy.cost;
}

export function isHeld({ control, pump }: Pick<Option, 'control' | 'pump'>): boolean {
  return control.state.status === 'held' || pump?.state.status === 'held';
}

export function piecesToBuy({ supply }: Pick<Option, 'supply'>): number {
  return supply.cover.loose.reduce((sum, { quantity }) => sum + quantity, 0);
}

function byRank(a: Option, b: Option): number {
  const other = rankOf(b);
  const differing = rankOf(a).flatMap((rank, at) => {
    const next = other[at];
    return next === undefined || rank === next ? [] : [rank < next ? -1 : 1];
  });
  return differing[0] ?? 0;
}

function rankOf(option: Option): (number | string)[] {
  const { control, pump, supply, work, cost } = option;
  const kits = [...supply.cover.kits, ...supply.buy.kits].reduce((sum, { quantity }) => sum + quantity, 0);
  const isSure = control.isStated && (pump === null || pump.isStated);
  const isThere = isSure ? 0 : 1;
  return [
    ...[isHeld(option) ? 1 : 0, piecesToBuy(option), work.steps, cost ?? Infinity, kits, isThere],
    ...[control.since, control.state.unit, pump?.state.unit ?? ''],
  ];
}

/** The pump as it was registered, where it is one that the order asks for. */
function pumpFor(order: Order, unit: StockUnit): StockPump[] {
  const { born } = unit.state;
  if (born?.kind !== 'pump') return [];
  const { series, size, rotation, fluid } = born;
  const isAsked = (['series', 'size', 'rotation'] as const).every((one) => [undefined, born[one]].includes(order[one]));
  return isAsked ? [{ ...unit, atHand: { series, size, rotation, fluid } }] : [];
}

function forOrder({ size, rotation, voltage }: Order): BuiltFor {
  return { ...(size && { size }), ...(rotation && { rotation }), ...(voltage && { voltage }) };
}

/** What the plan leaves, as far as is known what was there. */
function fitAfter(fit: Fit, { changes }: Plan): Fit {
  const after = changes.map(({ station, out, in: put }) => {
    const before = Object.entries(fit)
      .filter(([at]) => at === station)
      .flatMap(([, { elements }]) => elements ?? []);
    return [station, { elements: together(without(before, out ?? before), put), basis: 'built' as const }] as const;
  });
  return { ...fit, ...Object.fromEntries(after) };
}
