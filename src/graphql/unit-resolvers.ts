/** Pumps and controls as they are, and what is read of a state wherever it is from. */
import type { UnitView } from '../app/read-unit.ts';
import type { UnitState } from '../core/history/fold.ts';
import { connectionIn } from './connection.ts';
import { type GraphContext, pastAsked } from './context.ts';
import type { GraphResolvers } from './generated/resolver-types.ts';
import type { MountingParent, SettingParent, StationParent } from './parents.ts';

const common = {
  id: ({ unit }: UnitView) => unit,
  fit: ({ fit }: UnitView) => stationsOf(fit),
  settings: ({ settings }: UnitView) => settingsOf(settings),
  retiredSince: ({ retired }: UnitView) => retired?.since ?? null,
  mergedInto: ({ mergedInto }: UnitView, _: unknown, context: GraphContext) =>
    mergedInto === null ? null : context.unit(mergedInto),
  mountings: async (view: UnitView, args: PageArgs, context: GraphContext) =>
    connectionIn((await context.past(pastAsked(view, {}))).mountings, args, mountingCursor),
  history: async (view: UnitView, args: PastArgs, context: GraphContext) => await context.past(pastAsked(view, args)),
};
const mounted = async ({ mounted: on }: UnitView, _: unknown, context: GraphContext) =>
  on === null ? null : await context.unit(on.unit);

export const unitResolvers = {
  Unit: { __resolveType: ({ kind }) => (kind === 'pump' ? 'Pump' : 'Control') },
  Pump: {
    ...common,
    series: ({ born }) => (born?.kind === 'pump' ? born.series : null),
    size: ({ born }) => (born?.kind === 'pump' ? born.size : null),
    rotation: ({ born }) => (born?.kind === 'pump' ? born.rotation : null),
    fluid: ({ born }) => (born?.kind === 'pump' ? born.fluid : null),
    control: mounted,
  },
  Control: {
    ...common,
    body: ({ born }) => (born?.kind === 'control' ? born.body : null),
    pump: mounted,
  },
  StationContent: { record: ({ recordId }, _, context) => context.record(recordId) },
  SettingValue: { record: ({ recordId }, _, context) => context.record(recordId) },
  Custody: { record: ({ record }, _, context) => context.record(record) },
  Mounting: { unit: ({ unit }, _, context) => context.unit(unit) },
} satisfies GraphResolvers;

type PageArgs = Parameters<typeof connectionIn>[1];
type PastArgs = { readonly performed?: string | null | undefined; readonly known?: string | null | undefined };

export function stationsOf(fit: UnitState['stations']): StationParent[] {
  return Object.entries(fit).map(([station, { elements, basis, record }]) => ({
    ...{ station, elements, basis },
    recordId: record,
  }));
}

export function settingsOf(settings: UnitState['settings']): SettingParent[] {
  return Object.entries(settings).map(([setting, { record, value, unit }]) => ({
    ...{ setting, reading: { value, unit } },
    recordId: record,
  }));
}

/** A unit is put on another once at a time. */
export function mountingCursor({ unit, from }: MountingParent): string {
  return `${unit}.${from}`;
}
