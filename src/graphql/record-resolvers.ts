/** Records with their readings and parts, and what was found about them. */
import { z } from 'zod';
import type { Finding } from '../core/rules/finding.ts';
import type { GraphContext } from './context.ts';
import type { GraphResolvers } from './generated/resolver-types.ts';
import { having, type RecordSeen } from './record-parts.ts';
import {
  checksOf,
  fittedIn,
  measurementsOf,
  removedIn,
  sealsIn,
  settingsRead,
  technicianOf,
  textIn,
  torquesOf,
} from './stated.ts';

export const recordResolvers = {
  Record: {
    reference: (record) => textIn(record, 'reference'),
    workOrder: (record) => textIn(record, 'workOrder'),
    shop: (record) => textIn(record, 'shop'),
    technician: technicianOf,
    grade: (record) => textIn(record, 'grade'),
    function: ({ judgement }) => (judgement as { function?: string | null }).function ?? null,
    note: (record) => noteOf(record),
    status: (record) => having(record, 'standing').status,
    open: (record) => having(record, 'standing').open,
    units: async (record, _, context) =>
      known(await Promise.all(having(record, 'standing').units.map(({ unit }) => context.unit(unit)))),
    concerns: ({ concerns }, _, context) => recordNamed(concerns, context),
    correctedBy: (record, _, context) => recordNamed(having(record, 'standing').correctedBy, context),
    judgedAgain: async (record, _, context) =>
      known(await Promise.all(having(record, 'standing').judgedAgain.map(context.record))),
    findings: ({ judgement }) => (judgement as { findings?: readonly Finding[] }).findings ?? [],
    torques: torquesOf,
    settings: settingsRead,
    checks: checksOf,
    measurements: measurementsOf,
    removed: removedIn,
    fitted: fittedIn,
    seals: sealsIn,
  },
  OpenFinding: {
    record: ({ fact }, _, context) => context.record(fact),
    handedOver: ({ handedOver }, _, context) => recordNamed(handedOver ?? null, context),
  },
  Concession: { record: ({ record }, _, context) => context.record(record) },
  ConcessionLimit: {
    what: (limit) => ('what' in limit ? limit.what : null),
    atMost: (limit) => ('what' in limit ? limit.atMost : null),
    text: (limit) => ('text' in limit ? limit.text : null),
  },
  UnitFinding: {
    unit: async ({ unit }, _, context) => {
      const [view] = known([await context.unit(unit)]);
      if (view === undefined) throw new Error('a record that the asker sees is about a unit that it does not');
      return view;
    },
    dueBy: ({ finding, dueBy }) => (finding.severity === 'due' ? dueBy : null),
    overdue: ({ finding, overdue }) => (finding.severity === 'due' ? overdue : null),
  },
} satisfies GraphResolvers;

const noted = z.looseObject({ note: z.string() });

function noteOf(record: RecordSeen): string | null {
  return noted.safeParse(having(record, 'notes').private).data?.note ?? null;
}

async function recordNamed(id: string | null, context: GraphContext): Promise<RecordSeen | null> {
  return id === null ? null : await context.record(id);
}

function known<T>(views: readonly (T | null)[]): T[] {
  return views.filter((view) => view !== null);
}
