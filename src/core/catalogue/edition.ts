/**
 * The shape of an edition: one published, immutable release of a maker's catalogue. Data only; whatever the
 * service knows of stations, elements and functions it knows from here. Meaning is checked in `check-edition.ts`,
 * stability over editions in `check-succession.ts`.
 *
 * Physical meaning of access and joints (the planner and the bench simulator both follow this text):
 *
 * - A station is *reachable* when it lists no access, or when for one of its listed ways every station of that way
 *   is open.
 * - A station that accepts nothing (a closure) is empty, and known to be.
 * - To *open* a station it must be reachable; every joint of it with `opens` (the default) is broken. What sits in
 *   it comes out and is moved aside, unless one of its joints says `opens: false`: then its content is held by that
 *   joint, and stays when the station is only passed through.
 * - To *change* what sits in a station, the station is opened and every `opens: false` joint of it is broken too.
 * - A joint that is closed `after-setting` (a locknut) is broken when its station is opened, or when a setting at
 *   its station is to be set; it is closed when that setting has been set.
 * - At a seat or a port every joint but a locknut is the thread of what sits there. It is broken where something comes
 *   out and closed where something goes in: an empty seat has no joint to break, one that is left empty none to close.
 * - A joint that lists elements (`with`) is there only while one of them sits at its station: the locknut on the needle
 *   of an adjustable orifice goes with the needle, and a plug in its place has none.
 * - Closing a station puts back what was moved aside, or what is new, and closes every joint that was broken.
 *   A station can be closed only while it is still reachable: what it was reached through is closed after it.
 * - A setting is made on a running pump with everything closed but the locknuts of its own station. It is *disturbed*
 *   when its station is opened, when a station is opened that takes its spring (an element with a range for it), or
 *   when a locknut at its station is loosened for another setting.
 * - A setting that says `adjusted: false` is only read: a point of a curve, the resistance of a coil. Nothing is turned
 *   and no locknut is loosened for it; it is disturbed as others are, and read with everything closed and locked, after
 *   whatever is set at its station.
 * - A control is put on a pump with its stations closed; only locknuts may still be open. Before that no way leads from
 *   one into the other.
 *
 * Stations, joints and settings of a pump (listed with its size) are named with the prefix `pump/` wherever they
 * meet those of a body: in patterns, fits, plans and records.
 */
import { z } from 'zod';
import { quantitySchema } from '../quantity/quantity.ts';

export const id = z.string().regex(/^[a-z0-9][a-z0-9.-]{0,49}$/, {
  error: 'an id is 1 to 50 lower-case letters, digits, dots and hyphens, and begins with a letter or digit',
});
/** An id that may name a place on the pump: `bleed-seat` or `pump/linkage`. */
export const place = z.string().regex(/^(pump\/)?[a-z0-9][a-z0-9.-]{0,49}$/, {
  error: 'a station, joint or setting is named by its id, with "pump/" before it when it sits on the pump',
});
const text = z.string().min(1).max(1000);
const count = z.int().min(1).max(1000);

export const rotation = z.enum(['clockwise', 'counterclockwise']);
export const stationKinds = ['seat', 'bore', 'adjuster', 'closure', 'port', 'cavity', 'linkage'] as const;
export const recordKinds = ['conversion', 'mounting', 'adjustment', 'repair', 'inspection', 'test'] as const;

export const heldElement = z.strictObject({ element: id, quantity: count.default(1) });

const element = z.strictObject({
  id,
  kind: id,
  text: text.optional(),
  bore: quantitySchema.optional(),
  /** How far a piece may be from it, either way: a length, or a part of the bore in %. */
  boreTolerance: quantitySchema.optional(),
  orientation: text.optional(),
  /** What settings a spring or adjuster can reach, by setting. */
  ranges: z.record(place, z.strictObject({ min: quantitySchema, max: quantitySchema })).optional(),
  /** Of a seal: the seal size it fits, its compound and the fluids it stands. */
  fits: id.optional(),
  compound: z.string().min(1).max(20).optional(),
  fluids: z.array(id).optional(),
  shelfLife: z
    .string()
    .regex(/^P\d+[YMD]$/)
    .optional(),
  /** Whether the shop need not say from which lot it came. */
  untracked: z.boolean().optional(),
  retired: z.boolean().optional(),
});

/** Whole years, months or days, as ISO 8601 writes them. */
export const period = z.string().regex(/^P\d{1,3}[YMD]$/, { error: 'write a period such as P30D, P6M or P1Y' });

const station = z.strictObject({
  id,
  kind: z.enum(stationKinds),
  text: text.optional(),
  access: z.array(z.array(place).min(1)).optional(),
  accepts: z.array(id).default([]),
  /** How many pieces may sit here together. */
  most: count.default(1),
});

const around = z.strictObject({ target: quantitySchema, tolerance: quantitySchema });
const between = z.strictObject({ min: quantitySchema, max: quantitySchema });
const requirement = z.union([
  around,
  between,
  z.strictObject({ target: quantitySchema, tolerance: quantitySchema.optional(), angle: quantitySchema }),
]);

const tool = z.strictObject({ drive: z.string().min(1).max(50), size: z.string().min(1).max(20) });

const joint = z.strictObject({
  id,
  station: id.optional(),
  mounting: z.boolean().optional(),
  count: count.default(1),
  torque: requirement,
  tool,
  seals: z.array(z.strictObject({ seal: id, quantity: count.default(1) })).default([]),
  opens: z.boolean().default(true),
  /** The elements that bring it: without one of them at its station there is no such joint. */
  with: z.array(id).min(1).optional(),
  closed: z.literal('after-setting').optional(),
  threadLock: z.string().max(50).optional(),
  sequence: text.optional(),
  decisionRule: z.enum(['simple', 'guard-band']).optional(),
  source: text.optional(),
  retired: z.boolean().optional(),
});

const setting = z.strictObject({
  id,
  station: id,
  quantity: z.string().min(1).max(50),
  condition: text.optional(),
  /** What must be so while it is read, by the names that records give conditions: a point of a curve has one current. */
  at: z.record(id, z.union([around, between])).optional(),
  /** Only `false` is said: it is read, and nothing is turned for it. */
  adjusted: z.literal(false).optional(),
  approach: z.enum(['rising', 'falling']).optional(),
  /** Settings are set in the order of their rank, lowest first. */
  rank: z.int().min(1).max(100),
  requires: z.array(text).default([]),
  decisionRule: z.enum(['simple', 'guard-band']).optional(),
  retired: z.boolean().optional(),
});

const size = z.strictObject({
  id,
  displacement: quantitySchema,
  ratedPressure: quantitySchema,
  highestSetting: quantitySchema,
  peakPressure: quantitySchema,
  maxSpeed: quantitySchema,
  shaftTorqueLimit: quantitySchema.optional(),
  efficiency: z.strictObject({ hydromechanical: z.string(), volumetric: z.string() }).optional(),
  bodies: z.array(id).min(1),
  stations: z.array(station).default([]),
  joints: z.array(joint).default([]),
  settings: z.array(setting).default([]),
});

const body = z.strictObject({
  id,
  text: text.optional(),
  generation: z.string().max(50).optional(),
  rotationDependent: z.boolean(),
  /** Whether all branches may lie open at once. Without it one branch is closed before the next is opened. */
  openTogether: z.boolean().optional(),
  stations: z.array(station).min(1),
  joints: z.array(joint).default([]),
  settings: z.array(setting).default([]),
  retired: z.boolean().optional(),
});

/**
 * One of these, the first preferred; or all of these together, some of them up to a number that the bench finds (shims);
 * or empty; or whatever is there.
 */
export const demand = z.union([
  z.literal('none'),
  z.literal('keep'),
  z.array(id).min(1),
  z
    .array(z.union([z.strictObject({ element: id, quantity: count }), z.strictObject({ element: id, upTo: count })]))
    .min(1),
]);

const when = z.strictObject({
  rotation: rotation.optional(),
  size: id.optional(),
  voltage: z.string().max(20).optional(),
});

const term = z.union([
  z.strictObject({ setting: place, times: z.number().optional() }),
  z.strictObject({ circuit: id, times: z.number().optional() }),
  z.strictObject({ pump: id, times: z.number().optional() }),
  z.strictObject({ value: z.string(), unit: z.string(), times: z.number().optional() }),
]);

const fun = z.strictObject({
  id,
  body: id,
  text: text.optional(),
  plate: z.string().min(1).max(100),
  patterns: z.array(z.strictObject({ when: when.default({}), stations: z.record(place, demand) })).min(1),
  settings: z
    .array(
      z.strictObject({
        setting: place,
        min: quantitySchema.optional(),
        max: quantitySchema.optional(),
        target: quantitySchema.optional(),
        tolerance: quantitySchema.optional(),
      }),
    )
    .default([]),
  relations: z
    .array(
      z.strictObject({
        id,
        text,
        sum: z.array(term).min(1),
        atMost: z.string().optional(),
        atLeast: z.string().optional(),
      }),
    )
    .default([]),
  retired: z.boolean().optional(),
});

const kit = z.strictObject({
  part: id,
  bodies: z.array(id).min(1),
  /** In the maker's own money of account; only compared, never converted. Left out: not known. */
  cost: z.number().min(0).optional(),
  contents: z.array(heldElement).min(1),
  supersedes: z.array(id).default([]),
  withdrawnFrom: z.iso.date().nullable().default(null),
  retired: z.boolean().optional(),
});

const check = z.strictObject({
  id,
  role: z.enum(['safety', 'leak', 'function', 'plate', 'other']),
  requiredBy: z.array(z.enum(recordKinds)),
  where: z.enum(['stand', 'mounted', 'anywhere']),
  by: z.enum(['anyone', 'other-than-fitter']).default('anyone'),
  kind: z.enum(['yes-no', 'value', 'list']).default('yes-no'),
  text,
});

export const tasks = ['assemble', 'set-pressure', 'electrical', 'inspect'] as const;
export type Task = (typeof tasks)[number];

/** A word that claims may use beside those of the service, with what it means in English. */
const claimWord = z.strictObject({ id, text, retired: z.boolean().optional() });

/** What the maker asks of the evidence itself. What it doesn't ask for may be unknown, and is said to be. */
const demands = z.strictObject({
  dueWithin: period.optional().describe('How long after the work what is due of it may take: P30D; then it is overdue'),
  calibrated: z
    .boolean()
    .optional()
    .describe('A calibration is known of every instrument that a torque or setting is read with'),
  authorised: z.array(z.enum(tasks)).min(1).optional().describe('Tasks that only a person authorised for them may do'),
  approvedShops: z.boolean().optional().describe('Work is done in shops that the maker has approved'),
  intakes: z.boolean().optional().describe('Every lot that is used was taken in at the shop that uses it'),
  guardBand: z
    .number()
    .min(0)
    .max(10)
    .optional()
    .describe('The r of a guard band r·U for every torque and setting that names no rule of its own'),
});

export const editionSchema = z.strictObject({
  maker: id,
  edition: id,
  effectiveFrom: z.iso.date(),
  elements: z.array(element),
  series: z.array(z.strictObject({ id, text: text.optional(), sizes: z.array(size).min(1) })),
  bodies: z.array(body).min(1),
  functions: z.array(fun).min(1),
  kits: z.array(kit).default([]),
  checks: z.array(check).default([]),
  cautions: z.array(text).default([]),
  demands: demands.optional(),
  symptoms: z.array(claimWord).optional().describe('How a failure shows, beside the words of the service'),
  failureModes: z.array(claimWord).optional().describe('What failed, beside the words of the service'),
  texts: z.record(z.string(), z.record(z.string(), z.string())).default({}),
});

export type RecordKind = (typeof recordKinds)[number];
export type Edition = z.infer<typeof editionSchema>;
export type Element = z.infer<typeof element>;
export type Station = z.infer<typeof station>;
export type Requirement = z.infer<typeof requirement>;
export type Tool = z.infer<typeof tool>;
export type Joint = z.infer<typeof joint>;
export type Setting = z.infer<typeof setting>;
export type Size = z.infer<typeof size>;
export type Body = z.infer<typeof body>;
export type Demand = z.infer<typeof demand>;
export type Pattern = Fun['patterns'][number];
export type Fun = z.infer<typeof fun>;
export type Kit = z.infer<typeof kit>;
export type Check = z.infer<typeof check>;
export type Rotation = z.infer<typeof rotation>;
