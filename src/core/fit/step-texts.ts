/**
 * One plain sentence a step, with the edition's own words for stations, elements, settings, joints and checks where it
 * has English ones. Not part of a sheet's digest: wording may change, the work doesn't.
 */
import type { Check, Edition, Joint, Requirement, Setting } from '../catalogue/edition.ts';
import { elementOf, onPump } from '../catalogue/lookup.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { isLocknut } from './broken-joints.ts';
import type { Held } from './fit.ts';
import type { Layout } from './layout.ts';
import type { PlannedSetting } from './plan.ts';

/** The sentences of one sheet. */
export type Texts = ReturnType<typeof textsFor>;

export function textsFor(edition: Edition, layout: Layout) {
  const named = (kind: string, id: string, own: string = id) =>
    edition.texts['en']?.[`${kind}/${id.startsWith(onPump) ? id.slice(onPump.length) : id}`] ?? own;
  const at = (station: string, what: string) =>
    sentence(`${named('station', station, layout.station.get(station)?.text)}: ${what}`);
  const joint = ({ id }: Joint) => named('joint', id);
  const setting = ({ id }: Setting) => named('setting', id);
  const elements = (held: readonly Held[] | null) =>
    held === null
      ? 'whatever is there'
      : held.map((one) => times(one.quantity, named('element', one.element, elementText(edition, one)))).join(', ');

  return {
    makeSafe: 'Make safe: drive locked out, loads lowered or blocked, pressure relieved and zero pressure verified.',
    mount: 'Put the control on the pump.',

    look: (station: string) => at(station, 'look what is in it and note it; it is not known for sure'),

    /** Whether a locknut was left open when the control was worked on before is not known. */
    open: (station: string, one: Joint) =>
      at(station, `open ${joint(one)} (${toolOf(one)})${isLocknut(one) ? ', if it is not open already' : ''}`),

    takeOut: (station: string, held: readonly Held[] | null, goesBack: boolean) =>
      at(station, `take out ${elements(held)}${goesBack ? ' and lay it aside; it goes back' : '; it stays out'}`),

    putIn: (station: string, held: readonly Held[] | null, isBack: boolean) =>
      at(station, `put ${isBack ? 'back' : 'in'} ${elements(held)}${orientations(edition, held ?? [])}`),

    close: (station: string, one: Joint) => at(station, `close ${joint(one)}, ${closed(one)}`),

    closeMounting: (one: Joint) => sentence(`close ${joint(one)}, ${closed(one)}`),

    backOff: (one: Setting) => at(one.station, `back off the adjuster of ${setting(one)}`),

    set: (one: Setting, planned: PlannedSetting) =>
      at(one.station, `set ${setting(one)} (${conditions(one, planned)})`),

    lock: (station: string, one: Joint) => at(station, `lock: close ${joint(one)}, ${closed(one)}`),

    reRead: (one: Setting) => at(one.station, `read ${setting(one)} again; locking shifts it`),

    check: ({ id, role, text }: Check) =>
      sentence(`${role === 'plate' ? 'mark' : 'check'}: ${named('check', id, text)}`),
  };
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

function closed(joint: Joint): string {
  const details = [
    toolOf(joint),
    joint.sequence,
    joint.seals.length > 0 && `new seals: ${joint.seals.map((one) => times(one.quantity, one.seal)).join(', ')}`,
    joint.threadLock !== undefined && `thread lock: ${joint.threadLock}`,
  ];
  return `${torqueOf(joint.torque)} (${joined(details)})`;
}

function conditions({ condition, approach, requires }: Setting, { min, max }: PlannedSetting): string {
  return joined([
    min !== null && `at least ${said(min)}`,
    max !== null && `at most ${said(max)}`,
    condition,
    approach !== undefined && `approached ${approach === 'rising' ? 'from below' : 'from above'}`,
    requires.length > 0 && `before: ${requires.join(', ')}`,
  ]);
}

function torqueOf(torque: Requirement): string {
  if ('min' in torque) return `${torque.min.value} to ${said(torque.max)}`;
  const { target, tolerance } = torque;
  const turned = 'angle' in torque ? `, then ${said(torque.angle)} further` : '';
  if (tolerance === undefined) return `${said(target)}${turned}`;
  const middle = target.unit === tolerance.unit ? target.value : said(target);
  return `${middle} ± ${said(tolerance)}${turned}`;
}

function toolOf({ count, tool }: Joint): string {
  return times(count, `${tool.drive} ${tool.size}`);
}

function elementText(edition: Edition, { element }: Held): string | undefined {
  return elementOf(edition, element)?.text;
}

function orientations(edition: Edition, held: readonly Held[]): string {
  return held
    .flatMap(({ element }) => elementOf(edition, element)?.orientation ?? [])
    .map((one) => `; ${one}`)
    .join('');
}

function times(count: number, what: string): string {
  return count === 1 ? what : `${count} × ${what}`;
}

function said({ value, unit }: Quantity): string {
  return `${value} ${unit}`;
}

function joined(parts: readonly (string | false | undefined)[]): string {
  return parts.filter((part) => part !== false && part !== undefined).join('; ');
}
