/** A job sheet to print and to work from: cautions first, then a picture of the job, then its steps. */
import type { Edition } from '../core/catalogue/edition.ts';
import { namesIn } from '../core/catalogue/names.ts';
import { cautionsFor } from '../core/fit/cautions.ts';
import type { Layout } from '../core/fit/layout.ts';
import type { Sheet } from '../core/fit/sheet.ts';
import { sheetLayout } from '../core/fit/sheet-layout.ts';
import type { UnitSystem } from '../core/quantity/display.ts';
import { filled, filledWith, furnitureIn } from './furniture.ts';
import { html, type Part } from './html.ts';
import { type Page, pageOf } from './page.ts';
import { type Say, sayFor } from './say.ts';
import { loadTable } from './sheet-load.ts';
import { pictureKey, sheetPicture } from './sheet-picture.ts';
import {
  changesList,
  evidence,
  instrumentsTable,
  jointsTable,
  material,
  settingsTable,
  stepsTable,
} from './sheet-tables.ts';

/** `edition` is the one that the sheet names: the names of its things are from there. */
export function sheetPage(
  sheet: Sheet,
  { edition, units, mounting }: { edition: Edition; units: UnitSystem | null; mounting: boolean },
): Page {
  const words = furnitureIn(sheet.language);
  const say = sayFor(words, namesIn(edition, sheet.language), units);
  const layout = sheetLayout(edition, sheet);
  const unit = `${words.control} ${sheet.control.name ?? words.unnamed}`;
  const title = `${mounting ? words.mountingSheet : words.conversionSheet} · ${unit}`;
  const mark = `${words.edition} ${sheet.edition} · ${sheet.sheet.slice(0, 19)}…`;
  return pageOf(words.lang, title, mark, [
    html`<h1>${title}</h1><p class="lead">${lead(sheet, mounting, unit, say)}</p>`,
    html`<section class="cautions"><h2>${words.cautions}</h2><ul>${cautionsFor(edition, sheet.language).map(
      (caution) => html`<li>${say.marked(caution)}</li>`,
    )}</ul></section>`,
    sheet.steps.length === 0 ? html`<p class="lead">${words.nothingToDo}</p>` : changes(sheet, layout, say),
    html`<section class="keep"><h2>${words.job}</h2>${facts(sheet, say)}</section>`,
    sheet.steps.length > 0 && work(sheet, edition, layout, say),
    html`<p class="care">${words.care}</p>`,
  ]);
}

function lead(sheet: Sheet, mounting: boolean, unit: string, say: Say): Part {
  const { words } = say;
  const to = html`<b>${say.function(sheet.to.function)}</b>`;
  const pump = sheet.pump === null ? null : `${words.pump} ${sheet.pump.name ?? words.unnamed}`;
  if (mounting) return filledWith(words.ontoPump, { unit, function: to, pump });
  const on = pump === null ? unit : `${unit}, ${pump}`;
  return filledWith(words.fromTo, { unit: on, from: html`<b>${say.function(sheet.from.function)}</b>`, to });
}

function facts(sheet: Sheet, say: Say): Part {
  const { words, names } = say;
  const { control, pump } = sheet;
  const turning = (rotation: string) =>
    rotation === 'clockwise' ? words.clockwise : rotation === 'counterclockwise' ? words.counterclockwise : rotation;
  const { size, rotation, voltage } = control.builtFor;
  const built = [
    size !== undefined && `${words.size} ${size}`,
    rotation !== undefined && turning(rotation),
    voltage !== undefined && voltage,
  ].filter((one) => one !== false);
  return html`<dl>
<dt>${words.control}</dt><dd>${say.typed(control.name ?? words.unnamed)} · ${control.maker} · ${say.marked(names.of('body', control.body))}</dd>
${built.length > 0 && html`<dt>${words.builtFor}</dt><dd>${built.join(', ')}</dd>`}
<dt>${words.pump}</dt><dd>${
    pump === null
      ? words.onShelf
      : [
          say.typed(pump.name ?? words.unnamed),
          ` · ${pump.maker} · `,
          say.marked(names.of('series', pump.series)),
          ` · ${words.size} ${pump.size} · ${words.rotation}: ${turning(pump.rotation)}`,
          pump.fluid !== null && ` · ${words.fluid}: ${pump.fluid}`,
        ]
  }</dd>
<dt>${words.worksTo}</dt><dd>${words.edition} ${sheet.edition}</dd>
<dt>${words.sheet}</dt><dd>${say.id(sheet.sheet)}</dd>
</dl>${say.unitsSaid()}`;
}

/** The picture stands before all words: people would rather look than read. */
function changes(sheet: Sheet, layout: Layout, say: Say): Part {
  return html`<section><h2>${say.words.whatChanges}</h2><div class="picture">${sheetPicture(sheet, layout, say)}<div>${changesList(sheet, layout, say)}</div></div>${pictureKey(say)}</section>`;
}

function work(sheet: Sheet, edition: Edition, layout: Layout, say: Say): Part {
  const { words } = say;
  return [
    html`<section class="keep"><h2>${words.material}</h2>${material(sheet, say)}</section>`,
    sheet.joints.length > 0 &&
      html`<section><h2>${words.joints}</h2><p>${words.jointsHelp}</p>${jointsTable(sheet, layout, say)}</section>`,
    sheet.settings.length > 0 &&
      html`<section class="keep"><h2>${words.settings}</h2>${settingsTable(sheet, say)}</section>`,
    sheet.load !== null && html`<section class="keep"><h2>${words.load}</h2>${loadTable(sheet.load, say)}</section>`,
    sheet.atShop !== null &&
      html`<section><h2>${filled(words.instruments, { shop: sheet.atShop.shop })}</h2><p>${words.instrumentsHelp}</p>${instrumentsTable(sheet.atShop, say)}</section>`,
    html`<section><h2>${words.steps}</h2>${stepsTable(sheet, edition, layout, say)}</section>`,
    html`<section class="keep"><h2>${words.evidence}</h2>${evidence(sheet, say)}</section>`,
  ];
}
