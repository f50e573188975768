/** One plain sentence a step. Not part of a sheet's digest: wording may change, the work doesn't. */
import type { Edition } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import type { Held } from './fit.ts';
import type { Layout } from './layout.ts';
import type { Step } from './plan.ts';

export function textOf(edition: Edition, layout: Layout, step: Omit<Step, 'step' | 'text'>): string {
  const station = step.station ?? '';
  const what = list(edition, step.elements);
  switch (step.action) {
    case 'make-safe':
      return 'Make safe: drive locked out, loads lowered or blocked, pressure relieved and zero pressure verified.';
    case 'open':
      return `Open joint ${step.joint} at ${station}${withTool(step)}.`;
    case 'look':
      return `Look what is in ${station} and note it: it is not known for sure.`;
    case 'take-out':
      return step.same === true
        ? `Take ${what} out of ${station} and lay it aside: it goes back.`
        : `Take ${what} out of ${station}: it stays out.`;
    case 'put-in':
      return step.same === true
        ? `Put ${what} back into ${station}.`
        : `Put ${what} into ${station}${how(edition, step.elements)}.`;
    case 'close':
      return `Close joint ${step.joint}${station === '' ? '' : ` at ${station}`} to ${torqueOf(layout, step.joint)}${withTool(step)}.`;
    case 'take-off':
      return 'Take the control off the pump.';
    case 'mount':
      return 'Put the control on the pump.';
    case 'back-off':
      return `Back off the adjuster of ${step.setting}.`;
    case 'set':
      return `Set ${step.setting}${condition(layout, step.setting)}.`;
    case 'lock':
      return `Lock ${station}: close joint ${step.joint} to ${torqueOf(layout, step.joint)}${withTool(step)}.`;
    case 're-read':
      return `Read ${step.setting} again: locking shifts it.`;
    case 'check':
    case 're-mark':
      return edition.checks.find((check) => check.id === step.check)?.text ?? '';
  }
}

function list(edition: Edition, elements: readonly Held[] | null | undefined): string {
  if (elements === null || elements === undefined) return 'whatever is there';
  return elements
    .map(({ element, quantity }) => {
      const name = elementOf(edition, element)?.text ?? element;
      return quantity === 1 ? name : `${quantity} × ${name}`;
    })
    .join(', ');
}

function how(edition: Edition, elements: readonly Held[] | null | undefined): string {
  const said = (elements ?? []).flatMap(({ element }) => elementOf(edition, element)?.orientation ?? []);
  return said.length === 0 ? '' : `, ${said.join('; ')}`;
}

function withTool(step: Pick<Step, 'tool'>): string {
  return step.tool === undefined ? '' : ` (${step.tool.drive} ${step.tool.size})`;
}

function torqueOf(layout: Layout, id: string | undefined): string {
  const joint = [...layout.joints, ...layout.mountingJoints].find((one) => one.id === id);
  if (joint === undefined) return 'its torque';
  const { torque } = joint;
  if ('min' in torque) return `${torque.min.value} to ${torque.max.value} ${torque.max.unit}`;
  if ('angle' in torque)
    return `${torque.target.value} ${torque.target.unit}, then ${torque.angle.value} ${torque.angle.unit} further`;
  return `${torque.target.value} ± ${torque.tolerance.value} ${torque.tolerance.unit === torque.target.unit ? torque.target.unit : `${torque.tolerance.unit} ${torque.target.unit}`}`;
}

function condition(layout: Layout, id: string | undefined): string {
  const setting = layout.settings.find((one) => one.id === id);
  if (setting === undefined) return '';
  const approach =
    setting.approach === undefined ? '' : `, approached ${setting.approach === 'rising' ? 'from below' : 'from above'}`;
  const before = setting.requires.length === 0 ? '' : `; before: ${setting.requires.join(', ')}`;
  return `${setting.condition === undefined ? '' : ` at ${setting.condition}`}${approach}${before}`;
}
