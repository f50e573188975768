/** What a job takes: the planner's answer. Pure data; `plan-conversion.ts` and `plan-mounting.ts` make it. */
import type { Requirement, Setting, Tool } from '../catalogue/edition.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Held } from './fit.ts';

/** `out: null` says that what comes out is not known before it is looked at. */
export type Change = { station: string; out: readonly Held[] | null; in: readonly Held[] };

export type BrokenJoint = {
  joint: string;
  station: string | null;
  count: number;
  torque: Requirement;
  tool: Tool;
  seals: readonly { seal: string; quantity: number }[];
  closed?: 'after-setting';
  threadLock?: string;
  sequence?: string;
};

export type PlannedSetting = {
  setting: string;
  /** The range allowed, each bound with what it comes from: the function, the fitted spring, the size. */
  min: Bound | null;
  max: Bound | null;
  condition: string | null;
  /** What must be so while it is read, by name. */
  at?: Setting['at'];
  /** It is only read: nothing is turned for it. */
  adjusted?: false;
  because: 'disturbed' | 'required';
};
export type Bound = Quantity & { from: string };

/** What is asked of the shaft and of the drive at the most that the settings may be. */
export type Load = {
  /** Of the pump, or that the control is built for; null: nobody has said, or two series have one of that name. */
  size: string | null;
  unknown: readonly LoadInput[];
  /** Null where size, highest pressure or efficiency is not known. */
  reckoned: {
    /** The pressure setting that may be highest, and how high. */
    setting: string;
    pressure: Bound;
    displacement: Quantity;
    efficiency: { hydromechanical: string; volumetric: string };
    /** The torque limit, where it asks for less than full displacement at that pressure. */
    limited: { setting: string; torque: Bound } | null;
    torque: Quantity;
    /** What the shaft may take; null: the edition doesn't say, nor then whether that is exceeded. */
    limit: Quantity | null;
    isOver: boolean | null;
    /** The highest pressure at full flow, at the highest speed of the size. */
    corner: { speed: Quantity; pressure: Quantity; flow: Quantity; power: Quantity };
  } | null;
};
export const loadInputs = ['size', 'pressure', 'efficiency', 'shaft-torque-limit'] as const;
export type LoadInput = (typeof loadInputs)[number];

export const actions = [
  'make-safe',
  'open',
  'look',
  'take-out',
  'put-in',
  'close',
  'mount',
  'back-off',
  'set',
  'lock',
  're-read',
  'read',
  'check',
  're-mark',
] as const;
export type Action = (typeof actions)[number];

/** As data; `step-texts.ts` makes its sentence where somebody reads it. */
export type Step = {
  step: number;
  action: Action;
  station?: string;
  joint?: string;
  /** Of take-out and put-in: what moves, and whether it is only moved aside or goes back. */
  elements?: readonly Held[] | null;
  same?: boolean;
  tool?: Tool;
  setting?: string;
  check?: string;
};

export type KitCover = {
  kits: readonly { part: string; quantity: number }[];
  /** What no kit brings: elements by id, seals by seal size. */
  loose: readonly Need[];
  leftOver: readonly Held[];
  /** Of the kits together, in the maker's own money of account; null: not known of one of them. */
  cost: number | null;
};
export type Need = { element: string; quantity: number } | { seal: string; quantity: number };

export type Plan = {
  changes: readonly Change[];
  /** Stations opened, changed or not. */
  opened: readonly string[];
  joints: readonly BrokenJoint[];
  settings: readonly PlannedSetting[];
  load: Load | null;
  steps: readonly Step[];
  tools: readonly Tool[];
  cover: KitCover;
  evidence: {
    torques: readonly string[];
    settings: readonly string[];
    seals: readonly string[];
    checks: readonly string[];
  };
  /** Evidence that can only come when the control is on a pump. Empty for a control on its pump. */
  afterMounting: { settings: readonly string[]; checks: readonly string[]; joints: readonly string[] };
};

/** Why there is no plan: a function that the body, size or rotation can't have, a choice that the pattern doesn't allow. */
export type NoPlan = { refused: string; offered: readonly string[] };
