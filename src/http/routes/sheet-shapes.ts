/** Job sheets: what a conversion, or a mounting, takes. */
import { z } from 'zod';
import { objections } from '../../core/conformity/instruments-for.ts';
import { actions, loadInputs } from '../../core/fit/plan.ts';
import { bound, count, digest, elements, held, instant, list, quantity, uuid } from './common-shapes.ts';

const names = (description: string) => list(z.string()).meta({ description });
const tool = z.strictObject({ drive: z.string(), size: z.string() }).meta({ id: 'Tool' });

const around = z.strictObject({ target: quantity, tolerance: quantity });
const between = z.strictObject({ min: quantity, max: quantity });
const torqueLimits = z
  .union([around, between, z.strictObject({ target: quantity, tolerance: quantity.optional(), angle: quantity })])
  .meta({
    id: 'TorqueLimits',
    description: 'Target and tolerance (a torque or a %), or limits, or a torque and then an angle',
  });

const change = z
  .strictObject({
    station: z.string(),
    out: elements.meta({ description: 'What comes out and stays out; null: look, what is in is not known' }),
    in: list(held).meta({ description: 'What goes in' }),
  })
  .meta({ id: 'Change', description: 'One station whose content changes' });

const brokenJoint = z
  .strictObject({
    joint: z.string(),
    station: z.string().nullable().meta({ description: 'Null: it joins control and pump' }),
    count: count.meta({ description: 'Of screws: a record has a reading for each' }),
    torque: torqueLimits,
    tool,
    seals: list(z.strictObject({ seal: z.string(), quantity: count, fitting: list(z.string()) })).meta({
      description: 'To renew, by seal size; fitting: the seals of that size that stand the fluid of the pump',
    }),
    closed: z.literal('after-setting').optional().meta({ description: 'It is closed when its setting has been set' }),
    threadLock: z.string().optional(),
    sequence: z.string().optional(),
  })
  .meta({ id: 'BrokenJoint', description: 'A joint that the work breaks and closes again' });

const plannedSetting = z
  .strictObject({
    setting: z.string(),
    min: bound.nullable(),
    max: bound.nullable(),
    condition: z.string().nullable(),
    at: z
      .record(z.string(), z.union([around, between]))
      .optional()
      .meta({ description: 'What must be so while it is read, by the names of conditions in records' }),
    adjusted: z.literal(false).optional().meta({ description: 'It is only read: nothing is turned for it' }),
    because: z.enum(['disturbed', 'required']).meta({
      description:
        'disturbed: its station is opened; required: the function demands it and it is not known to be right',
    }),
  })
  .meta({ id: 'PlannedSetting' });

const load = z
  .strictObject({
    size: z.string().nullable().meta({ description: 'Of the pump, or that the control is built for' }),
    unknown: list(z.enum(loadInputs)).meta({ description: 'What is not known' }),
    reckoned: z
      .strictObject({
        setting: z.string().meta({ description: 'The pressure setting that may be highest' }),
        pressure: bound.meta({ description: 'The most that it may be' }),
        displacement: quantity,
        efficiency: z.strictObject({ hydromechanical: z.string(), volumetric: z.string() }),
        limited: z
          .strictObject({ setting: z.string(), torque: bound })
          .nullable()
          .meta({ description: 'The torque limit, where it asks for less than full displacement at that pressure' }),
        torque: quantity.meta({
          description: 'Of the shaft: p·V/(20π·η_hm), or the torque limit; without a through-drive',
        }),
        limit: quantity.nullable().meta({ description: 'What the shaft may take; null: the edition does not say' }),
        isOver: z.boolean().nullable(),
        corner: z
          .strictObject({ speed: quantity, pressure: quantity, flow: quantity, power: quantity })
          .meta({ description: 'The highest pressure at full flow, at the highest speed of the size' }),
      })
      .nullable()
      .meta({ description: 'Null where size, pressure or efficiency is not known' }),
  })
  .meta({ id: 'Load', description: 'What shaft and drive are asked for at the most that the settings may be' });

const step = z
  .strictObject({
    step: count,
    action: z.enum(actions),
    station: z.string().optional(),
    joint: z.string().optional(),
    elements: elements
      .optional()
      .meta({ description: 'Of take-out and put-in: what moves; null: what is found there' }),
    same: z.boolean().optional().meta({ description: 'It is only moved out of the way and goes back' }),
    tool: tool.optional(),
    setting: z.string().optional(),
    check: z.string().optional(),
    text: z.string().meta({ description: 'The step as a sentence, for people' }),
  })
  .meta({ id: 'Step' });

export const need = z
  .union([
    z.strictObject({ element: z.string(), quantity: count }),
    z.strictObject({ seal: z.string(), quantity: count }),
  ])
  .meta({ id: 'Need', description: 'An element by id, or a seal by its size' });

const unitOnSheet = { unit: uuid, maker: z.string(), name: z.string().nullable() };
const controlOnSheet = z.strictObject({
  ...unitOnSheet,
  body: z.string(),
  builtFor: z
    .strictObject({ size: z.string().optional(), rotation: z.string().optional(), voltage: z.string().optional() })
    .meta({ description: 'What it is built for, as far as it is stated or asked' }),
});
const pumpOnSheet = z.strictObject({
  ...unitOnSheet,
  series: z.string(),
  size: z.string(),
  rotation: z.string(),
  fluid: z.string().nullable(),
});

const howTrue = {
  uncertainty: quantity.nullable().meta({ description: 'Standard uncertainty; null: nobody has said how true it is' }),
  guardBand: quantity.nullable(),
  basis: z.enum(['calibration', 'stated', 'type-and-class']).nullable(),
};
const prospect = z
  .strictObject({
    instrument: z.string(),
    decides: z.boolean().meta({ description: 'Nothing speaks against it' }),
    against: list(z.enum(objections)).meta({ description: 'What would hold a record of a reading taken with it' }),
    reaches: z.enum(['all', 'part', 'none']).meta({ description: 'How much of what is allowed lies within its range' }),
    due: instant.nullable().meta({ description: 'When its next calibration is due; null: not known' }),
    at: quantity.meta({
      description: 'The reading that it is reckoned for: the middle of the limits, or the only one',
    }),
    ...howTrue,
    fitness: z
      .strictObject({
        ratio: z.number().nullable(),
        fit: z.boolean().nullable(),
        partOfRange: z.number().nullable(),
      })
      .meta({ description: 'ratio: half the tolerance over the expanded uncertainty; fit: it is at least 4' }),
  })
  .meta({ id: 'Prospect', description: 'What an instrument of the shop can decide of a requirement, before the work' });
export const kitList = list(z.strictObject({ part: z.string(), quantity: count }));
const atShop = z
  .strictObject({
    shop: z.string(),
    pieces: list(held).meta({ description: 'Loose pieces from its shelf, used before a kit is opened' }),
    buy: z
      .strictObject({ kits: kitList, loose: list(need), cost: z.number().nullable() })
      .meta({ description: 'What its shelf does not give: kits to buy, and what no kit brings' }),
    requirements: list(
      z.strictObject({ of: z.enum(['torque', 'setting']), place: z.string(), instruments: list(prospect) }),
    ).meta({
      description:
        'Every torque and setting that is read, with the instruments of the shop: those that can decide first',
    }),
  })
  .nullable()
  .meta({ description: 'Where a shop is asked for; kits, loose and leftOver are then by what lies on its shelf' });

export const sheetAnswer = z
  .strictObject({
    sheet: digest.meta({ description: 'Digest of what is done; a record that was worked to this sheet names it' }),
    edition: z.string().meta({ description: 'The edition it was derived from; the record names it too' }),
    language: z.string().meta({
      description: 'What texts are in, as far as they are translated; else they are in English',
    }),
    control: controlOnSheet,
    pump: pumpOnSheet.nullable().meta({ description: 'Null: the control is on the shelf' }),
    from: z.strictObject({
      function: z.string().nullable(),
      fit: digest.meta({ description: 'Digest of what sits in the control now' }),
    }),
    to: z.strictObject({ function: z.string().nullable() }),
    cautions: names('To be read first'),
    changes: list(change).meta({ description: 'Only what differs; empty for a control that is already so' }),
    opened: names('Stations opened, changed or not: what is only moved out of the way goes back'),
    joints: list(brokenJoint).meta({ description: 'Every joint that the work breaks' }),
    settings: list(plannedSetting).meta({ description: 'To be set and read, now or once it is on a pump' }),
    load: load.nullable().meta({ description: 'Null: the work sets neither a pressure nor a torque' }),
    steps: list(step).meta({ description: 'In order; one branch is closed before the next is opened' }),
    tools: list(tool),
    evidence: z
      .strictObject({
        torques: names('Joints'),
        settings: names('Settings'),
        seals: names('Joints whose seals are renewed'),
        checks: names('Checks'),
      })
      .meta({ description: 'What the record of this work will need, by id' }),
    afterMounting: z
      .strictObject({ settings: names('Settings'), checks: names('Checks'), joints: names('Joints') })
      .meta({ description: 'What can only come once the control is on a pump; until then the record is incomplete' }),
    kits: kitList.meta({ description: 'Kits to take' }),
    loose: list(need).meta({ description: 'What no kit brings' }),
    leftOver: list(held).meta({ description: 'What the kits bring and the work does not need' }),
    atShop,
    cost: z.number().nullable().meta({
      description: "Of the kits together, in the maker's own money of account; null: not known of one of them",
    }),
  })
  .meta({ id: 'JobSheet', description: 'What the work takes, and what its record will need' });
