/** Which settings a job must set, and between which bounds. */
import type { Edition, Fun } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import { compare, isWithin } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { rangeOf } from '../quantity/range.ts';
import type { Held } from './fit.ts';
import type { Layout } from './layout.ts';
import type { Bound, PlannedSetting } from './plan.ts';

/**
 * The settings of a function that lie at an opened station (`disturbed`), or that it needs and the pair doesn't have
 * within bounds (`required`); in the order of their rank.
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
  opened: readonly string[],
): PlannedSetting[] {
  return [...job.layout.settings]
    .sort((a, b) => a.rank - b.rank)
    .filter((setting) => job.function.settings.some((one) => one.setting === setting.id))
    .flatMap((setting): PlannedSetting[] => {
      const range = allowedRange(
        job.edition,
        job.layout,
        job.function,
        setting.id,
        job.contents.get(setting.station) ?? null,
      );
      const disturbed = opened.includes(setting.station);
      const required =
        job.set.includes(setting.id) || (job.functionChanges && !isSetWithin(job.known[setting.id], range));
      if (!disturbed && !required) return [];
      return [
        {
          setting: setting.id,
          ...range,
          condition: setting.condition ?? null,
          because: disturbed ? 'disturbed' : 'required',
        },
      ];
    });
}

/** function ∩ fitted spring ∩ the size's highest permitted setting; each bound says what it comes from. */
export function allowedRange(
  edition: Edition,
  layout: Layout,
  fun: Fun,
  settingId: string,
  content: readonly Held[] | null,
): { min: Bound | null; max: Bound | null } {
  const setting = layout.settings.find((one) => one.id === settingId);
  const demanded = fun.settings.find((one) => one.setting === settingId);
  const mins: Bound[] = [];
  const maxes: Bound[] = [];
  const take = (range: { min: Quantity | null; max: Quantity | null }, from: string) => {
    if (range.min !== null) mins.push({ ...range.min, from });
    if (range.max !== null) maxes.push({ ...range.max, from });
  };
  if (demanded !== undefined) take(boundsOf(demanded), `function ${fun.id}`);
  for (const { element } of content ?? []) {
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
