/** What a job asks of shaft and drive, with what it is reckoned from beside it. */
import type { Load } from '../core/fit/plan.ts';
import { filled } from './furniture.ts';
import { type Html, html, type Part } from './html.ts';
import type { Say } from './say.ts';

export function loadTable({ unknown, reckoned }: Load, say: Say): Part {
  const { words } = say;
  if (reckoned === null) {
    const inputs = unknown.map((input) => words.loadInputs[input]).join(', ');
    return html`<p>${filled(words.loadUnknown, { inputs })}</p>`;
  }
  const { setting, pressure, displacement, efficiency, limited, torque, limit, isOver, corner } = reckoned;
  const row = (what: string, value: Part, from: Part): Html =>
    html`<tr><td><b>${what}</b></td><td data-label="${words.mostAsked}"><b>${value}</b></td><td data-label="${words.reckonedFrom}"><span class="small">${from}</span></td></tr>`;
  const fromPressure = [
    say.setting(setting),
    ' ',
    say.quantity(pressure),
    ` · ${words.displacement} `,
    say.quantity(displacement),
    ` · ${words.hydromechanical} ${efficiency.hydromechanical}`,
  ];
  const fromLimit = limited && [say.setting(limited.setting), ' ', say.quantity(limited.torque)];
  return html`<p>${words.loadHelp}</p><table class="wide"><thead><tr><th>${words.load}</th><th class="w25">${words.mostAsked}</th><th>${words.reckonedFrom}</th></tr></thead><tbody>
${row(words.shaftTorque, say.quantity(torque), fromLimit ?? fromPressure)}
${row(words.shaftMayTake, limit === null ? words.notKnown : say.quantity(limit), isOver === true && html`<b>${words.tooMuch}</b>`)}
${row(
  words.atCorner,
  [say.quantity(corner.flow), ', ', say.quantity(corner.power)],
  [
    say.quantity(corner.pressure),
    ' · ',
    say.quantity(corner.speed),
    ` ${words.atSpeed} · ${words.volumetric} ${efficiency.volumetric}`,
  ],
)}</tbody></table>`;
}
