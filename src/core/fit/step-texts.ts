/**
 * One plain sentence a step, made from what the step says as data, with the edition's own words for stations,
 * elements, settings, joints and checks in the language asked for. Not part of a sheet's digest: wording may change,
 * the work doesn't.
 */
import type { Edition, Joint, Setting } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import { type Names, namesIn, noLanguage, type Words } from '../catalogue/names.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { isLocknut } from './broken-joints.ts';
import type { Held } from './fit.ts';
import type { Layout } from './layout.ts';
import type { PlannedSetting, Step } from './plan.ts';
import { type Frames, framesIn } from './step-frames.ts';

/** A piece of a sentence: words, or a value that a page may show in a second unit. */
export type Run = Words | { readonly quantity: Quantity } | { readonly torque: TorqueLimits };

/** What a joint is closed to, in whatever units. */
export type TorqueLimits =
  | { readonly min: Quantity; readonly max: Quantity }
  | { readonly target: Quantity; readonly tolerance?: Quantity | undefined; readonly angle?: Quantity | undefined };

export type SaidStep = Step & { text: string };
export type SheetWords = {
  readonly edition: Edition;
  readonly layout: Layout;
  readonly settings: readonly PlannedSetting[];
  readonly language: string;
};

/** The steps with their sentences. */
export function withTexts(steps: readonly Step[], words: SheetWords): SaidStep[] {
  const say = sentencesOf(words);
  return steps.map((step) => ({ ...step, text: plain(say(step), words.language) }));
}

/** What says a step in pieces. */
export function sentencesOf(words: SheetWords): (step: Step) => readonly Run[] {
  const speaker = speakerOf(words);
  return (step) => capitalised(sentence(speaker, step));
}

/** The pieces as one text, values as they are written in JSON. */
export function plain(runs: readonly Run[], language: string): string {
  return runs
    .map((run) => {
      if ('text' in run) return run.text;
      return 'quantity' in run ? said(run.quantity) : saidTorque(run.torque, language);
    })
    .join('');
}

/** A torque as a joint demands it, with a way of writing quantities of one's own. */
export function saidTorque(torque: TorqueLimits, language: string, say: (one: Quantity) => string = said): string {
  const { frames } = framesIn(language);
  if ('min' in torque) {
    const { min, max } = torque;
    return filled(frames.to, { min: min.unit === max.unit ? min.value : say(min), max: say(max) });
  }
  const { target, tolerance, angle } = torque;
  const middle = tolerance !== undefined && target.unit === tolerance.unit ? target.value : say(target);
  const aimed = tolerance === undefined ? middle : `${middle} ± ${say(tolerance)}`;
  return angle === undefined ? aimed : filled(frames.further, { torque: aimed, angle: say(angle) });
}

type Speaker = {
  readonly words: SheetWords;
  readonly names: Names;
  readonly fill: (frame: keyof Frames, pieces?: Readonly<Record<string, readonly Run[]>>) => readonly Run[];
};

function speakerOf(words: SheetWords): Speaker {
  const { frames, lang } = framesIn(words.language);
  const fill: Speaker['fill'] = (frame, pieces = {}) => {
    const given = new Map(Object.entries(pieces).map(([name, runs]) => [`{${name}}`, runs]));
    return partsOf(frames[frame]).flatMap((part) => given.get(part) ?? [{ text: part, lang }]);
  };
  return { words, names: namesIn(words.edition, words.language), fill };
}

const parts = new Map<string, readonly string[]>();

/** A frame cut at its braces, once for each: there are some thirty. */
function partsOf(frame: string): readonly string[] {
  const known = parts.get(frame) ?? frame.split(/(?=\{)|(?<=\})/);
  parts.set(frame, known);
  return known;
}

function sentence(speaker: Speaker, step: Step): readonly Run[] {
  const { fill, names, words } = speaker;
  if (step.action === 'make-safe') return fill('makeSafe');
  if (step.action === 'mount') return fill('mount');
  const what = deed(speaker, step);
  if (step.station === undefined) return fill('alone', { what });
  const own = words.layout.station.get(step.station)?.text;
  return fill('at', { station: [names.of('station', step.station, own)], what });
}

function deed(speaker: Speaker, step: Step): readonly Run[] {
  const { fill, names, words } = speaker;
  const joint = words.layout.joint.get(step.joint ?? '');
  const setting = words.layout.settings.find(({ id }) => id === step.setting);
  const named = {
    joint: step.joint === undefined ? [] : [names.of('joint', step.joint)],
    setting: step.setting === undefined ? [] : [names.of('setting', step.setting)],
    check: step.check === undefined ? [] : [names.check(step.check)],
    elements: elements(speaker, step.elements ?? null),
    tool: joint === undefined ? [] : tool(speaker, joint),
    torque: joint === undefined ? [] : [{ torque: joint.torque }],
    details: [
      ...(joint === undefined ? [] : closing(speaker, joint)),
      ...(setting === undefined ? [] : conditions(speaker, setting)),
    ],
  };
  switch (step.action) {
    case 'look':
      return fill('look');
    case 'open':
      return fill(joint !== undefined && isLocknut(joint) ? 'openLocknut' : 'open', named);
    case 'take-out':
      return fill(step.same === true ? 'takeAside' : 'takeOut', named);
    case 'put-in':
      return [
        ...fill(step.same === true ? 'putBack' : 'putIn', named),
        ...orientations(speaker, step.elements ?? []).flatMap((one) => [{ text: '; ', lang: noLanguage }, one]),
      ];
    case 'close':
    case 'lock':
    case 'set':
    case 'read':
      return fill(step.action, named);
    case 'back-off':
      return fill('backOff', named);
    case 're-read':
      return fill('reRead', named);
    case 're-mark':
      return fill('mark', named);
    default:
      return fill('check', named);
  }
}

function elements({ fill, names }: Speaker, held: readonly Held[] | null): readonly Run[] {
  if (held === null) return fill('whatever');
  return joined(
    held.map((one) => times(one.quantity, names.element(one.element))),
    ', ',
  );
}

function orientations({ names, words }: Speaker, held: readonly Held[]): readonly Words[] {
  return held.flatMap(({ element }) => {
    const own = elementOf(words.edition, element)?.orientation;
    return own === undefined ? [] : [names.text(own)];
  });
}

function tool({ names }: Speaker, joint: Joint): readonly Run[] {
  const drive = names.text(joint.tool.drive);
  return times(joint.count, { text: `${drive.text} ${joint.tool.size}`, lang: drive.lang });
}

function closing(speaker: Speaker, joint: Joint): readonly Run[] {
  const { fill, names } = speaker;
  const seals = joint.seals.map(({ seal, quantity }) => times(quantity, { text: seal, lang: noLanguage }));
  return joined(
    [
      tool(speaker, joint),
      joint.sequence === undefined ? [] : [names.text(joint.sequence)],
      seals.length === 0 ? [] : fill('newSeals', { seals: joined(seals, ', ') }),
      joint.threadLock === undefined ? [] : fill('threadLock', { lock: [names.text(joint.threadLock)] }),
    ],
    '; ',
  );
}

function conditions({ fill, names, words }: Speaker, setting: Setting): readonly Run[] {
  const planned = words.settings.find((one) => one.setting === setting.id);
  const bound = (frame: 'atLeast' | 'atMost', value: Quantity | null | undefined) =>
    value == null ? [] : fill(frame, { value: [{ quantity: value }] });
  const requires = setting.requires.map((one) => [names.text(one)]);
  return joined(
    [
      bound('atLeast', planned?.min),
      bound('atMost', planned?.max),
      ...Object.entries(setting.at ?? {}).map(([name, limits]) =>
        fill('given', { name: [names.text(name)], value: [{ torque: limits }] }),
      ),
      setting.condition === undefined ? [] : [names.text(setting.condition)],
      setting.approach === undefined ? [] : fill(setting.approach),
      requires.length === 0 ? [] : fill('before', { requires: joined(requires, ', ') }),
    ],
    '; ',
  );
}

function times(count: number, what: Words): readonly Run[] {
  return [count === 1 ? what : { ...what, text: `${count} × ${what.text}` }];
}

/** Lists that are not empty, one after the other. */
function joined(parts: readonly (readonly Run[])[], between: string): readonly Run[] {
  return parts
    .filter((part) => part.length > 0)
    .flatMap((part, at) => (at === 0 ? part : [{ text: between, lang: noLanguage }, ...part]));
}

function capitalised(runs: readonly Run[]): readonly Run[] {
  return runs.map((run, at) =>
    at === 0 && 'text' in run ? { ...run, text: `${run.text.charAt(0).toUpperCase()}${run.text.slice(1)}` } : run,
  );
}

function filled(frame: string, pieces: Readonly<Record<string, string>>): string {
  return Object.entries(pieces).reduce((said, [name, piece]) => said.replace(`{${name}}`, () => piece), frame);
}

function said({ value, unit }: Quantity): string {
  return `${value} ${unit}`;
}
