/** What a job does to a body, to be looked at before anything is read. */
import { onPump } from '../core/catalogue/lookup.ts';
import type { Layout } from '../core/fit/layout.ts';
import type { Sheet } from '../core/fit/sheet.ts';
import { accessPicture, type Drawn, markPicture } from './access-picture.ts';
import { branchesOf } from './access-tree.ts';
import { filled } from './furniture.ts';
import { html, type Part } from './html.ts';
import type { Say } from './say.ts';

export function sheetPicture(sheet: Sheet, layout: Layout, say: Say): Part {
  const { words } = say;
  const drawn = stationsOf(sheet, layout, say);
  const groups = [
    { title: words.inControl, stations: drawn.filter(({ id }) => !id.startsWith(onPump)) },
    { title: words.onPump, stations: drawn.filter(({ id }) => id.startsWith(onPump)) },
  ].filter(({ stations }) => stations.some((one) => one.mark !== 'untouched' || one.setAgain));
  if (groups.length === 0) return null;
  return html`<div>${groups.map(
    ({ title, stations }) =>
      html`<figure>${groups.length > 1 && html`<h3>${title}</h3>`}${accessPicture(stations, `${title}: ${words.picture}`)}</figure>`,
  )}</div>`;
}

export function pictureKey({ words }: Say): Part {
  return html`<ul class="key small">
<li>${markPicture('changed')}${words.changed}</li>
<li>${markPicture('opened')}${words.opened}</li>
<li>${markPicture('set-again')}${words.setAgain}</li>
<li>${markPicture('untouched')}${words.untouched}</li>
<li>${markPicture('outside')}${words.fromOutside}</li>
</ul>`;
}

function stationsOf(sheet: Sheet, layout: Layout, say: Say): readonly Drawn[] {
  const opened = new Set(sheet.opened);
  const changed = new Set(sheet.changes.map(({ station }) => station));
  const set = new Set(sheet.settings.map(({ setting }) => layout.settings.find(({ id }) => id === setting)?.station));
  return branchesOf(layout.stations, opened).map(({ station, depth, parent }) => {
    const { text, lang } = say.names.of('station', station.id, station.text);
    const mark = changed.has(station.id) ? 'changed' : opened.has(station.id) ? 'opened' : 'untouched';
    const steps = sheet.steps.filter((step) => step.station === station.id).map(({ step }) => step);
    return {
      id: station.id,
      depth,
      parent,
      name: text,
      lang,
      mark,
      setAgain: set.has(station.id),
      steps: stepsSaid(steps, say),
    };
  });
}

/** 3, 4, 5, 9 as 3–5, 9. */
function stepsSaid(steps: readonly number[], { words }: Say): string {
  if (steps.length === 0) return '';
  const ranges: [number, number][] = [];
  for (const step of steps) {
    const last = ranges.at(-1);
    if (last?.[1] === step - 1) last[1] = step;
    else ranges.push([step, step]);
  }
  const said = ranges.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(', ');
  return filled(steps.length === 1 ? words.stepNumber : words.stepNumbers, { steps: said });
}
