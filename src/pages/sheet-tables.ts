/** The tables of a job sheet, with room to write by hand where a record will need what was read. */
import type { Edition } from '../core/catalogue/edition.ts';
import type { Layout } from '../core/fit/layout.ts';
import type { Step } from '../core/fit/plan.ts';
import type { Sheet } from '../core/fit/sheet.ts';
import { sentencesOf } from '../core/fit/step-texts.ts';
import { filled } from './furniture.ts';
import { type Html, html, type Part } from './html.ts';
import type { Say } from './say.ts';

const box = html`<span class="box"></span>`;
const field = html`<span class="field"></span>`;

export function changesList({ changes }: Sheet, layout: Layout, say: Say): Part {
  const { words } = say;
  if (changes.length === 0) return html`<p>${words.nothingChanges}</p>`;
  return html`<ul class="changes">${changes.map(
    (change) => html`<li><b>${stationName(change.station, layout, say)}</b><dl>
<dt>${words.comesOut}</dt><dd>${change.out === null ? html`<b>${words.lookFirst}</b>` : say.held(change.out)}</dd>
<dt>${words.goesIn}</dt><dd>${say.held(change.in)}</dd></dl></li>`,
  )}</ul>`;
}

export function material({ kits, cost, loose, leftOver, tools, atShop }: Sheet, say: Say): Part {
  const { words, names } = say;
  const times = (quantity: number, what: Part): Part => (quantity > 1 ? [`${quantity} × `, what] : what);
  const kit = ({ part, quantity }: { part: string; quantity: number }): Part =>
    times(quantity, [say.marked(names.of('kit', part)), ' ', say.id(part)]);
  const need = (one: Sheet['loose'][number]): Part =>
    times(one.quantity, 'element' in one ? say.element(one.element) : [`${words.seals}: `, say.id(one.seal)]);
  return html`<dl>
<dt>${words.kits}</dt><dd>${listed(kits.map(kit), words.none)}</dd>
${kits.length > 0 && html`<dt>${words.cost}</dt><dd>${cost ?? words.notKnown}</dd>`}
${
  atShop !== null &&
  html`<dt>${words.fromShelf}</dt><dd>${listed(
    atShop.pieces.map((held) => times(held.quantity, say.element(held.element))),
    words.none,
  )}</dd><dt>${words.toBuy}</dt><dd>${listed([...atShop.buy.kits.map(kit), ...atShop.buy.loose.map(need)], words.none)}</dd>`
}
<dt>${words.loose}</dt><dd>${listed(loose.map(need), words.none)}</dd>
<dt>${words.leftOver}</dt><dd>${listed(
    leftOver.map((held) => times(held.quantity, say.element(held.element))),
    words.none,
  )}</dd>
<dt>${words.tools}</dt><dd>${listed(
    tools.map(({ drive, size }) => [say.marked(names.text(drive)), ` ${size}`]),
    words.none,
  )}</dd>
</dl>`;
}

export function jointsTable({ joints }: Sheet, layout: Layout, say: Say): Part {
  const { words, names } = say;
  const row = (joint: Sheet['joints'][number]): Html => html`<tr>
<td><b>${say.joint(joint.joint)}</b>${joint.count > 1 && ` · ${joint.count} ${words.screws}`}${joint.station !== null && html`<br><span class="small">${stationName(joint.station, layout, say)}</span>`}</td>
<td data-label="${words.torque}"><b>${say.torque(joint.torque)}</b>${notes([
    joint.sequence !== undefined && say.marked(names.text(joint.sequence)),
    joint.threadLock !== undefined && [`${words.threadLock}: `, say.marked(names.text(joint.threadLock))],
    joint.closed !== undefined && words.afterSetting,
  ])}</td>
<td data-label="${words.tool}">${say.marked(names.text(joint.tool.drive))} ${joint.tool.size}</td>
<td data-label="${words.seals}">${
    joint.seals.length === 0
      ? html`<span class="none">–</span>`
      : joint.seals.map(
          (seal) =>
            html`<div>${seal.quantity > 1 && `${seal.quantity} × `}${say.id(seal.seal)}<br><span class="small">${filled(words.sealsHelp, { seals: seal.fitting.join(', ') || words.none })}</span></div>`,
        )
  }</td></tr>`;
  return html`<table class="wide"><thead><tr><th>${words.joint}</th><th class="w25">${words.torque}</th><th class="w20">${words.tool}</th><th class="w25">${words.seals}</th></tr></thead><tbody>${joints.map(row)}</tbody></table>`;
}

export function settingsTable({ settings }: Sheet, say: Say): Part {
  const { words, names } = say;
  const bound = (one: Sheet['settings'][number]['min']): Part =>
    one === null
      ? html`<span class="none">–</span>`
      : html`<b>${say.quantity(one)}</b><br><span class="small">${say.marked({ text: one.from, lang: 'en' })}</span>`;
  return html`<table class="wide"><thead><tr><th>${words.setting}</th><th class="w20">${words.least}</th><th class="w20">${words.most}</th><th class="w25">${words.condition}</th><th class="w15">${words.because}</th></tr></thead><tbody>${settings.map(
    ({ setting, min, max, condition, because }) => html`<tr><td><b>${say.setting(setting)}</b></td>
<td data-label="${words.least}">${bound(min)}</td><td data-label="${words.most}">${bound(max)}</td>
<td data-label="${words.condition}">${condition === null ? html`<span class="none">–</span>` : say.marked(names.text(condition))}</td>
<td data-label="${words.because}">${words[because]}</td></tr>`,
  )}</tbody></table>`;
}

type AtShop = NonNullable<Sheet['atShop']>;

export function instrumentsTable({ requirements }: Pick<AtShop, 'requirements'>, say: Say): Part {
  const { words } = say;
  type Prospect = AtShop['requirements'][number]['instruments'][number];
  const ready = ({ instrument, fitness, reaches }: Prospect): Part => [
    html`<b>${say.id(instrument)}</b>`,
    fitness.ratio !== null && ` (${fitness.ratio})`,
    reaches === 'part' && ` · ${words.reachesPart}`,
  ];
  const not = ({ instrument, against }: Prospect): Part => [
    say.id(instrument),
    `: ${against.map((one) => words[one]).join(', ')}`,
  ];
  return html`<table class="wide"><thead><tr><th>${words.requirement}</th><th class="w25">${words.decide}</th><th class="w30">${words.notDecide}</th></tr></thead><tbody>${requirements.map(
    ({ of, place, instruments }) => html`<tr><td><b>${of === 'torque' ? say.joint(place) : say.setting(place)}</b></td>
<td data-label="${words.decide}">${listed(instruments.filter((one) => one.decides).map(ready), words.none)}</td>
<td data-label="${words.notDecide}">${listed(instruments.filter((one) => !one.decides).map(not), words.none)}</td></tr>`,
  )}</tbody></table>`;
}

export function stepsTable(sheet: Sheet, edition: Edition, layout: Layout, say: Say): Part {
  const { words } = say;
  const sentence = sentencesOf({ edition, layout, settings: sheet.settings, language: sheet.language });
  const counts = new Map(sheet.joints.map(({ joint, count }) => [joint, count]));
  const row = (step: Step): Html => {
    const fields = fieldsOf(step, counts);
    return html`<tr><td class="tick">${box}</td><td class="nr">${step.step}</td>
<td class="said">${emphasised(sentence(step).map(say.run), step)}</td>
${fields === 0 ? html`<td class="blank"></td>` : html`<td data-label="${words.reading}">${Array(fields).fill(field)}</td>`}
${fields === 0 || isCheck(step) ? html`<td class="blank"></td>` : html`<td data-label="${words.instrument}">${field}</td>`}
<td data-label="${words.initials}">${field}</td></tr>`;
  };
  return html`<table class="wide"><thead><tr><th class="tick"></th><th class="nr">${words.number}</th><th>${words.what}</th><th class="fill">${words.reading}</th><th class="fill">${words.instrument}</th><th class="fill-s">${words.initials}</th></tr></thead><tbody>${sheet.steps.map(row)}</tbody></table>`;
}

/** How many readings a step gives: of a joint one for every screw. */
function fieldsOf(step: Step, counts: ReadonlyMap<string, number>): number {
  if (step.action === 'close' || step.action === 'lock') return counts.get(step.joint ?? '') ?? 1;
  return step.action === 'set' ||
    step.action === 're-read' ||
    step.action === 'read' ||
    step.action === 'look' ||
    isCheck(step)
    ? 1
    : 0;
}

function isCheck({ action }: Step): boolean {
  return action === 'check' || action === 're-mark' || action === 'look';
}

/** The place is what the eye looks for: it is the first piece of a sentence that names a station. */
function emphasised([first, ...rest]: readonly Part[], { station }: Step): Part {
  return station === undefined ? [first, rest] : [html`<b>${first}</b>`, rest];
}

export function evidence({ evidence: needed, afterMounting, joints }: Sheet, say: Say): Part {
  const { words } = say;
  const lots = (joint: string): Part => {
    const sizes = joints.find((one) => one.joint === joint)?.seals.map(({ seal }) => seal) ?? [];
    return [say.joint(joint), ': ', sizes.join(', '), ` · ${words.lot} `, html`<span class="field inline"></span>`];
  };
  const group = (title: string, items: readonly Part[]): Part =>
    items.length > 0 && html`<dt>${title}</dt><dd>${items.map((item) => html`<div>${box} ${item}</div>`)}</dd>`;
  const later = [
    ...afterMounting.joints.map(say.joint),
    ...afterMounting.settings.map(say.setting),
    ...afterMounting.checks.map(say.check),
  ];
  return html`<p>${words.evidenceHelp}</p><dl>
${group(words.torquesOf, needed.torques.map(say.joint))}
${group(words.sealsOf, needed.seals.map(lots))}
${group(words.settingsOf, needed.settings.map(say.setting))}
${group(words.checksOf, needed.checks.map(say.check))}
<dt>${words.worked}</dt><dd>${field}</dd><dt>${words.shop}</dt><dd>${field}</dd><dt>${words.date}</dt><dd>${field}</dd>
</dl>
${later.length > 0 && html`<h3>${words.afterMounting}</h3><p>${words.afterMountingHelp}</p><ul>${later.map((item) => html`<li>${item}</li>`)}</ul>`}`;
}

function notes(all: readonly Part[]): Part {
  const said = all.filter((one) => one !== false);
  return said.map((one) => html`<br><span class="small">${one}</span>`);
}

function stationName(station: string, layout: Layout, say: Say): Part {
  return say.station(station, layout.station.get(station)?.text);
}

function listed(items: readonly Part[], none: string): Part {
  return items.length === 0 ? html`<span class="none">${none}</span>` : items.map((item) => html`<div>${item}</div>`);
}
