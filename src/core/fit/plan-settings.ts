/** Which settings a job must set, and between which bounds. */
import type { Edition, Fun } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import { compare, isWithin } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { rangeOf } from '../quantity/range.ts';
import { isLocknutThere } from './broken-joints.ts';
import type { Held } from './fit.ts';
import { jointsAt, type Layout } from './layout.ts';
import type { Bound, PlannedSetting } from './plan.ts';

/**
 * The settings of a function that the opened stations disturb, or that it needs and the pair doesn't have within
 * bounds (`required`); in the order of their rank. A locknut that is loosened to turn one setting lets go of whatever
 * else is set or read at its station.
 */
export function planSettings(
  job: {
    readonly edition: Edition;
    readonly layout: Layout;
    readonly function: Fun;
    readonly functionChanges: boolean;
    readonly known: Readonly<Record<string, Quantity>>;
    /** Settings that are set in any case. */
    readonly set: readonly string[];
    readonly contents: ReadonlyMap<string, readonly Held[] | null>;
  },
  disturbed: ReadonlySet<string>,
): PlannedSetting[] {
  const { edition, layout } = job;
  const fitted = [...job.contents.values()].flatMap((content) => content ?? []);
  const listed = [...layout.settings]
    .sort((a, b) => a.rank - b.rank)
    .filter((setting) => job.function.settings.some((one) => one.setting === setting.id))
    .map((setting) => {
      const range = allowedRange(edition, layout, job.function, setting.id, fitted);
      const isRequired =
        job.set.includes(setting.id) || (job.functionChanges && !isSetWithin(job.known[setting.id], range));
      return { setting, range, isRequired, isDisturbed: disturbed.has(setting.id) };
    });
  const hasLocknut = (station: string) =>
    jointsAt(layout, station).some((joint) => isLocknutThere(layout, joint, job.contents));
  const loosened = new Set(
    listed
      .filter((one) => (one.isRequired || one.isDisturbed) && one.setting.adjusted !== false)
      .map((one) => one.setting.station)
      .filter(hasLocknut),
  );
  return listed
    .filter((one) => one.isRequired || one.isDisturbed || loosened.has(one.setting.station))
    .map(({ setting, range, isRequired, isDisturbed }) => ({
      setting: setting.id,
      ...range,
      condition: setting.condition ?? null,
      ...(setting.at && { at: setting.at }),
      ...(setting.adjusted === false && { adjusted: false }),
      because: isRequired && !isDisturbed ? 'required' : 'disturbed',
    }));
}

/**
 * function ∩ fitted spring ∩ the size's highest permitted setting; each bound says what it comes from. `fitted` is
 * whatever sits in the control and its pump: a spring often isn't at the station of its adjuster.
 */
export function allowedRange(
  edition: Edition,
  layout: Layout,
  fun: Fun,
  settingId: string,
  fitted: readonly Held[],
): { min: Bound | null; max: Bound | null } {
  const setting = layout.settings.find((one) => one.id === settingId);
  const mins: Bound[] = [];
  const maxes: Bound[] = [];
  const take = (range: { min: Quantity | null; max: Quantity | null }, from: string) => {
    if (range.min !== null) mins.push({ ...range.min, from });
    if (range.max !== null) maxes.push({ ...range.max, from });
  };
  for (const demanded of fun.settings.filter((one) => one.setting === settingId)) {
    take(boundsOf(demanded), `function ${fun.id}`);
  }
  for (const { element } of fitted) {
    const range = elementOf(edition, element)?.ranges?.[settingId];
    if (range !== undefined) take(range, `element ${element}`);
  }
  if (setting?.quantity === 'pressure' && layout.size !== null) {
    take({ min: null, max: layout.size.highestSetting }, `size ${layout.size.id}`);
  }
  return { min: tightest(mins, 1), max: tightest(maxes, -1) };
}

function boundsOf(demanded: Fun['settings'][number]): { min: Quantity | null; max: Quantity | null } {
  const { target, tolerance, min, max } = demanded;
  if (target !== undefined && tolerance !== undefined) return rangeOf({ target, tolerance });
  return { min: min ?? null, max: max ?? null };
}

function tightest(bounds: readonly Bound[], direction: 1 | -1): Bound | null {
  return bounds.reduce<Bound | null>(
    (best, one) => (best === null || compare(one, best) === direction ? one : best),
    null,
  );
}

function isSetWithin(
  known: Quantity | undefined,
  { min, max }: { min: Quantity | null; max: Quantity | null },
): boolean {
  return known !== undefined && isWithin(known, min, max);
}
