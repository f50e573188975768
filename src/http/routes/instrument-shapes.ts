/** Answers about instruments over time. */
import { z } from 'zod';
import { incidents, instrumentFactKinds } from '../../core/records/instrument-bodies.ts';
import { instrumentKinds } from '../../core/records/stock-bodies.ts';
import { asKept, instant, interval, knownPageOf, list, settledFields, uuid } from './common-shapes.ts';
import { checkedOf, id, receipt } from './record-shapes.ts';

const instrument = z.string().meta({ description: "The shop's own id" });
export const instrumentEventOutcome = z
  .strictObject({ id, instrument, receipt })
  .meta({ id: 'InstrumentEventOutcome', description: 'The calibration, check or incident as kept' });
export const instrumentEventChecked = checkedOf(instrumentEventOutcome, 'InstrumentEventChecked');

const due = instant.nullable().meta({ description: 'When the next calibration is due; null: none is known' });
const what = z.enum(incidents);
const event = z
  .strictObject({
    ...{ record: uuid, kind: z.enum(instrumentFactKinds), performed: interval, reference: z.string() },
    said: asKept('What was stated, without what is kept apart'),
    good: z.boolean().nullable().meta({
      description: 'Found within what it may deviate by; null: nothing was found, or nobody has stated what it may',
    }),
    voidedBy: z
      .strictObject({ record: uuid, reason: z.string() })
      .nullable()
      .meta({ description: 'The fact that says that it was a mistake: it counts no more; null: it counts' }),
  })
  .meta({ id: 'InstrumentEvent' });
export const instrumentVoidOutcome = z
  .strictObject({ id, instrument, voids: uuid, receipt })
  .meta({ id: 'InstrumentVoidOutcome', description: 'What was made void, and the fact that says so' });
export const instrumentVoidChecked = checkedOf(instrumentVoidOutcome, 'InstrumentVoidChecked');

export const instrumentAnswer = z
  .strictObject({
    id: instrument,
    version: z.number().meta({ type: 'integer', minimum: 1 }),
    record: uuid.meta({ description: 'The fact that states this version' }),
    statement: asKept('The instrument as stated'),
    at: instant.meta({ description: 'The time for which it is asked; what was found later tells of it too' }),
    calibration: uuid.nullable().meta({ description: 'The calibration in force' }),
    due,
    overdue: z.boolean(),
    neverCalibrated: z.boolean(),
    suspect: z.strictObject({ record: uuid, what }).nullable(),
    foundWorse: z
      .strictObject({ record: uuid, at: instant })
      .nullable()
      .meta({ description: 'The later examination that found it worse than it may be' }),
    events: list(event),
    ...settledFields,
  })
  .meta({ id: 'InstrumentWhole', description: 'An instrument, with every calibration, check and incident' });

const dueInstrument = z
  .strictObject({
    ...{ instrument, kind: z.enum(instrumentKinds), shop: z.string().nullable(), due, suspect: what.nullable() },
    awaited: z.string().nullable().meta({ description: 'What is said of a calibration that is on its way' }),
    daysLeft: z
      .number()
      .nullable()
      .meta({ type: ['integer', 'null'], description: 'Whole days, rounded down: below 0 it is overdue' }),
  })
  .meta({ id: 'InstrumentDue' });
export const dueInstrumentsPage = knownPageOf(
  dueInstrument,
  'The soonest first, those of which no calibration is known last',
);
