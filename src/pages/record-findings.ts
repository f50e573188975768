/** What the rules said of a record, what of it still stands, and what clears it. */

import { isReading } from '../core/quantity/add-display.ts';
import { filled, filledWith } from './furniture.ts';
import { type Html, html, type Part } from './html.ts';
import type { RecordRead } from './record-read.ts';
import type { Say } from './say.ts';
import { type Json, listOf, objectOf, textOf, timeOf } from './statement.ts';

export function findingsSection(record: RecordRead, say: Say): Part {
  const { words } = say;
  const judged = listOf(objectOf(record.judgement)['findings']);
  const isSame = (one: Json, other: Json) => one['rule'] === other['rule'] && one['pointer'] === other['pointer'];
  const openOf = (one: Json) => record.open.find((other) => isSame(one, other) && sameClears(one, other)) ?? null;
  /** What later work opened: it has no sentence here. */
  const since = record.open.filter((one) => !judged.some((other) => isSame(one, other) && sameClears(one, other)));
  const all = [...judged, ...since];
  const rows = severities.flatMap((severity) => all.filter((one) => one['severity'] === severity));
  if (rows.length === 0)
    return textOf(objectOf(record.judgement)['status']) === null
      ? null
      : html`<section><h2>${words.findings}</h2><p>${words.noFindings}</p></section>`;
  return html`<section><h2>${words.findings}</h2><table class="wide"><thead><tr><th class="w15"></th><th>${words.finding}</th><th class="w30">${words.clearedBy}</th></tr></thead><tbody>${rows.map(
    (one) => row(one, openOf(one), record, say),
  )}</tbody></table></section>`;
}

/** The heaviest first. */
const severities = ['refuse', 'hold', 'due', 'note'];

function sameClears(one: Json, other: Json): boolean {
  return JSON.stringify(listOf(one['clearedBy'])) === JSON.stringify(listOf(other['clearedBy']));
}

function row(one: Json, open: Json | null, record: RecordRead, say: Say): Html {
  const { words } = say;
  const severity = textOf(one['severity']) ?? '';
  const because = textOf(one['because']);
  const clears = listOf(one['clearedBy']);
  const mayClear = severity === 'hold' || severity === 'due';
  return html`<tr><td><b class="${severity === 'hold' ? 'hold' : 'due'}">${words.severities[severity] ?? severity}</b>${
    mayClear &&
    html`<br><span class="${open === null ? 'small cleared' : 'small'}">${open === null ? words.cleared : standing(open, say)}</span>`
  }</td>
<td>${because !== null && html`${say.marked({ text: because, lang: 'en' })}<br>`}${comparison(one, say)}<span class="small">${words.rule} ${say.id(textOf(one['rule']) ?? '')}</span></td>
<td data-label="${words.clearedBy}">${
    clears.length === 0 || (mayClear && open === null)
      ? html`<span class="none">–</span>`
      : clears.map((clear, at) => html`<div>${at > 0 && `${words.or} `}${clearing(clear, record, say)}</div>`)
  }</td></tr>`;
}

/** Under a concession that has not ended, with its end and limits; else that it stands. */
function standing(open: Json, { words, ...say }: Say): Part {
  const concession = objectOf(open['concession']);
  if (concession['ended'] !== false) return words.stands;
  const until = timeOf(concession['until']);
  const limits = listOf(concession['limits']).map(({ what, atMost, text }) =>
    isReading(atMost) ? [say.id(textOf(what) ?? ''), ' ≤ ', say.quantity(atMost)] : say.typed(textOf(text) ?? '…'),
  );
  return [
    until === null ? words.conceded : filled(words.concededUntil, { time: until }),
    limits.map((limit) => [html`<br>`, limit]),
  ];
}

function comparison(one: Json, say: Say): Part {
  const [expected, found] = [textOf(one['expected']), textOf(one['found'])];
  const said = [
    expected !== null && [`${say.words.expected} `, say.typed(expected)],
    found !== null && [`${say.words.foundThere} `, say.typed(found)],
  ].filter((part) => part !== false);
  return said.length > 0 && html`<span class="small">${said.map((part, at) => [at > 0 && ' · ', part])}</span><br>`;
}

/** A place is named as the edition names it; of a decision it is this very record. */
function clearing(clear: Json, record: RecordRead, say: Say): Part {
  const kind = textOf(clear['kind']) ?? '';
  const place = textOf(clear['place']) ?? '';
  const frame = say.words.clears[kind] ?? `${kind}: {place}`;
  return filledWith(frame, { place: place === record.id ? '' : placeName(kind, place, say) });
}

function placeName(kind: string, place: string, say: Say): Part {
  if (kind === 'torque' || kind === 'seal') return say.joint(place);
  if (kind === 'setting') return say.setting(place);
  if (kind === 'check' || kind === 'not-applicable') return say.check(place);
  return kind === 'content' || kind === 'part' ? say.station(place) : say.id(place);
}
