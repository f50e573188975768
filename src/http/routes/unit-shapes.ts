/** Answers about pumps and controls: as they are, as they were. */
import { z } from 'zod';
import { rotation } from '../../core/catalogue/edition.ts';
import { builtFor } from '../../core/records/parts.ts';
import {
  asKept,
  basis,
  content,
  cursor,
  elements,
  instant,
  interval,
  list,
  openFinding,
  pageInfo,
  quantity,
  settledFields,
  status,
  unitName,
  uuid,
} from './common-shapes.ts';
import { judgementKept } from './judgement-shapes.ts';

const unitKind = z.enum(['pump', 'control']);
const record = uuid.meta({ description: 'The record that last changed it; a look that found the same did not' });
const readBy = uuid.meta({ description: 'The record that last read it' });
const name = unitName;

const born = z
  .union([
    z.strictObject({
      kind: z.literal('pump'),
      series: z.string(),
      size: z.string(),
      rotation,
      fluid: z.string().nullable(),
    }),
    z.strictObject({ kind: z.literal('control'), body: z.string() }),
  ])
  .meta({ id: 'Born', description: 'What the unit is and stays: as it was registered' });

const stationState = z.strictObject({ elements, basis, record }).meta({ id: 'StationState' });

const viewFields = {
  unit: uuid.meta({ description: "The service's id of the unit" }),
  kind: unitKind,
  maker: z.string(),
  name,
  born: born.nullable(),
  builtAt: instant.nullable().meta({ description: 'Since when it exists; null: not known' }),
  function: z.string().nullable().meta({ description: 'The function declared last; null: it matches none' }),
  builtFor,
  settings: z
    .record(z.string(), quantity.extend({ record: readBy }))
    .meta({ description: 'By setting, of control and pump together; empty off the pump' }),
  circuit: z
    .record(z.string(), quantity.extend({ record: uuid.meta({ description: 'The record that last stated it' }) }))
    .optional()
    .meta({ description: 'Values of the circuit that the pair works in, by name; left out where nothing is stated' }),
  status,
  fit: z
    .record(z.string(), stationState)
    .meta({ description: 'By station; a station that is not listed is not known. Those of the pump are on the pump' }),
  findings: list(openFinding).meta({ description: 'What holds it or is still due' }),
  mergedInto: uuid.nullable().meta({ description: 'The unit that this one turned out to be' }),
  custody: z
    .strictObject({
      record: uuid.meta({ description: 'The movement that said so last' }),
      is: z.enum(['in', 'out']),
      shop: z.string().meta({ description: 'That it is in, or went out from' }),
      since: instant,
    })
    .nullable()
    .meta({ description: "Where it is; null: nobody has said, or it is not the asker's to know" }),
  retired: z.strictObject({ record: uuid, since: instant }).nullable().meta({ description: 'Out of use for good' }),
  hours: quantity.extend({ record: readBy }).nullable().meta({ description: 'Its running hours, as last read' }),
  mounted: z
    .strictObject({
      unit: uuid,
      kind: unitKind,
      name,
      since: instant.meta({ description: 'When the work of putting it on was done' }),
    })
    .nullable()
    .meta({ description: 'The control on this pump, or the pump under this control' }),
};
const view = z.strictObject(viewFields).meta({ id: 'Unit', description: 'A pump or a control as it is now' });

/** Where `performed` or `known` was asked. */
const then = { performed: instant.nullable().optional(), ...settledFields };

export const pumpAnswer = z.strictObject({ pump: view, control: view.nullable(), ...then }).meta({
  description:
    "The pump, and the control on it; null: it is bare, or the past of its control is not the asker's to see",
});
export const controlAnswer = z.strictObject({ control: view, pump: view.nullable(), ...then }).meta({
  description:
    "The control, and the pump under it; null: it is on the shelf, or the past of its pump is not the asker's to see",
});

const historyItem = z
  .strictObject({
    id: uuid
      .nullable()
      .meta({ description: "Null, as the statement and judgement are, where the record is another's to read" }),
    kind: z.string().meta({ description: 'The kind of the record, such as conversion or correction' }),
    performed: interval,
    recordedAt: instant,
    cursor,
    counts: z.boolean().meta({ description: 'False where a correction has replaced it' }),
    correctedBy: uuid.nullable().meta({ description: 'The correction that has replaced it' }),
    statement: asKept('The body as sent, without its note, people by the ids of the service').nullable(),
    judgement: judgementKept
      .nullable()
      .meta({ description: 'As it was judged then; its status now is in GET /v1/records/{id}' }),
  })
  .meta({ id: 'HistoryItem', description: 'One record on this unit' });

export const historyAnswer = z
  .strictObject({
    performed: instant.nullable().meta({ description: 'The state is as at this time; null: as it is now' }),
    known: instant.nullable().meta({
      description: 'And as it was known at this time: the horizon where a later one was asked; null: as known now',
    }),
    settled: z.boolean().meta({
      description: 'Whether the same question gets the same answer for ever; false where `known` was not asked',
    }),
    horizon: instant.meta({ description: 'What was recorded before this can not change any more' }),
    state: z
      .strictObject({
        ...viewFields,
        changedUnrecorded: list(
          z.strictObject({
            station: z.string(),
            before: instant.meta({ description: 'When it was found otherwise' }),
            found: content,
          }),
        ).meta({
          description: 'Stations that a later record found otherwise, with nothing recorded in between',
        }),
      })
      .meta({ id: 'UnitThen', description: 'A pump or a control as it was' }),
    mountings: z
      .array(z.strictObject({ unit: uuid, name, from: instant, to: instant.nullable() }))
      .meta({ description: 'What sat on it or it sat on, in the order of time; to null: it still did then' }),
    items: z
      .array(historyItem)
      .meta({ description: 'In the order in which the work was done, or with order=newest against it' }),
    pageInfo,
  })
  .meta({ id: 'History', description: 'A unit as it was, and the records that led there' });
