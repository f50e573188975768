/** A trace to read and to print: what bears on a claim first, then what was in the unit and where that came from. */
import type { Edition } from '../core/catalogue/edition.ts';
import { languageFor, namesIn } from '../core/catalogue/names.ts';
import { frameLanguages } from '../core/fit/step-frames.ts';
import type { UnitSystem } from '../core/quantity/display.ts';
import type { ReadingThen } from '../core/trace/evidence-then.ts';
import { bearings, type Point } from '../core/trace/points.ts';
import type { UnitTraced } from '../core/trace/trace.ts';
import type { Piece, StationThen } from '../core/trace/unit-then.ts';
import { filled, furnitureIn } from './furniture.ts';
import { type Html, html, type Part } from './html.ts';
import { type Page, pageOf } from './page.ts';
import { type Say, sayFor } from './say.ts';
import { timeOf } from './statement.ts';

type Head = Pick<UnitTraced, 'unit' | 'name' | 'mountings'> & { readonly function: string | null };
type Dated = { readonly kind: string; readonly performed: { readonly to: string } };

/** What the page shows of a trace. */
export type TraceRead = {
  readonly asked: {
    readonly unit: string;
    readonly performed: string | null;
    readonly known: string | null;
    readonly horizon: string;
  };
  readonly pump: Head | null;
  readonly control: Head | null;
  readonly stations: readonly StationThen[];
  readonly settings: readonly ReadingThen[];
  readonly torques: readonly ReadingThen[];
  readonly records: readonly (Dated & {
    readonly record: string;
    readonly shop: string | null;
    readonly distributor: string | null;
    readonly reference: string | null;
  })[];
  readonly later: readonly Dated[];
  readonly points: readonly Point[];
};

export function tracePage(
  trace: TraceRead,
  {
    edition,
    languages,
    units,
  }: { readonly edition: Edition; readonly languages: readonly string[]; readonly units: UnitSystem | null },
): Page {
  const language = languageFor(edition, frameLanguages, languages);
  const words = furnitureIn(language);
  const say = sayFor(words, namesIn(edition, language), units);
  const named = [
    trace.pump && `${words.pump} ${trace.pump.name ?? words.unnamed}`,
    trace.control && `${words.control} ${trace.control.name ?? words.unnamed}`,
  ].filter((one) => one !== null);
  const title = `${words.trace}: ${named.join(', ')}`;
  const { performed, known, horizon } = trace.asked;
  const at = [
    filled(words.traceOn, { time: timeOf(performed ?? horizon) ?? '' }),
    ...(known === null ? [] : [filled(words.asKnownAt, { time: timeOf(known) ?? '' })]),
  ];
  return pageOf(words.lang, title, performed ?? horizon, [
    html`<h1>${title}</h1><p class="lead">${at.join(', ')}</p>`,
    html`<p class="care">${words.traceCare} ${words.care}</p>`,
    html`<section><h2>${words.points}</h2>${pointsTable(trace.points, say)}</section>`,
    html`<section class="keep"><h2>${words.mountedWith}</h2>${[trace.pump, trace.control].map((head) => head && mounted(head, say))}</section>`,
    html`<section><h2>${words.whatSat}</h2>${stationsTable(trace.stations, say)}</section>`,
    html`<section><h2>${words.settings}</h2>${readingsTable([...trace.settings, ...trace.torques], say)}</section>`,
    html`<section><h2>${words.done}</h2><ul>${trace.records.map((one) => html`<li>${work(one, say)}</li>`)}</ul></section>`,
    trace.later.length > 0 &&
      html`<section><h2>${words.sinceThen}</h2><ul>${trace.later.map((one) => html`<li>${dated(one, say)}</li>`)}</ul></section>`,
    say.unitsSaid(),
  ]);
}

/** What bears on it first: people look there first. */
function pointsTable(points: readonly Point[], say: Say): Part {
  const { words } = say;
  const ordered = [bearings[0], bearings[2], bearings[1]].flatMap((bears) =>
    points.filter((one) => one.bears === bears),
  );
  return html`<table class="wide"><thead><tr><th class="w25"></th><th class="w25">${words.point}</th><th>${words.basisOf}</th></tr></thead><tbody>${ordered.map(
    ({ bears, topic, place, basis }): Html => html`<tr><td><b>${words.bearings[bears] ?? bears}</b></td>
<td data-label="${words.point}">${words.topics[topic] ?? topic}${place !== null && [' ', say.id(place)]}</td>
<td data-label="${words.basisOf}">${say.marked({ text: basis, lang: 'en' })}</td></tr>`,
  )}</tbody></table>`;
}

function mounted({ name, mountings }: Head, say: Say): Part {
  const { words } = say;
  return html`<dl><dt>${say.typed(name ?? words.unnamed)}</dt><dd>${
    mountings.length === 0
      ? html`<span class="none">${words.none}</span>`
      : mountings.map(
          ({ name: other, from, to }) =>
            html`<div>${say.typed(other ?? words.unnamed)}: ${timeOf(from)} – ${to === null ? '' : timeOf(to)}</div>`,
        )
  }</dd></dl>`;
}

function stationsTable(stations: readonly StationThen[], say: Say): Part {
  const { words } = say;
  return html`<table class="wide"><thead><tr><th class="w25">${words.station}</th><th class="w25">${words.sat}</th><th>${words.cameFrom}</th></tr></thead><tbody>${stations.map(
    ({ station, elements, basis, origin }) => html`<tr><td><b>${say.station(station)}</b><br>${say.id(station)}</td>
<td data-label="${words.sat}">${say.held(elements)}<br><span class="small">${basis}</span></td>
<td data-label="${words.cameFrom}">${
      origin.kind === null || origin.performed === null
        ? words.notYours
        : [
            dated({ kind: origin.kind, performed: origin.performed }, say),
            origin.shop !== null && [' · ', say.typed(origin.shop)],
            origin.pieces.map((piece) => html`<div>${words.lot} ${lotOf(piece, say)}</div>`),
          ]
    }</td></tr>`,
  )}</tbody></table>`;
}

function lotOf({ lot }: Piece, say: Say): Part {
  if (lot === null) return html`<span class="none">–</span>`;
  return typeof lot === 'string' ? say.id(lot) : [`${say.words.notKnown}: `, say.typed(lot.unknown)];
}

function readingsTable(readings: readonly ReadingThen[], say: Say): Part {
  const { words } = say;
  const verdict = (one: ReadingThen['verdictNow']): Part =>
    one === null ? html`<span class="none">–</span>` : (words.conformities[one.verdict] ?? one.verdict);
  return html`<table class="wide"><thead><tr><th class="w30">${words.what}</th><th class="w25">${words.readThen}</th><th class="w15">${words.verdictThen}</th><th class="w15">${words.verdictNow}</th><th>${words.instrument}</th></tr></thead><tbody>${readings.map(
    (one) => html`<tr><td><b>${one.of === 'torque' ? say.joint(one.place) : say.setting(one.place)}</b></td>
<td data-label="${words.readThen}">${one.readings.map((reading) => html`<div>${say.quantity(reading)}</div>`)}<span class="small">${timeOf(one.at)}</span></td>
<td data-label="${words.verdictThen}">${verdict(one.verdictThen)}</td><td data-label="${words.verdictNow}"><b>${verdict(one.verdictNow)}</b></td>
<td data-label="${words.instrument}">${typeof one.instrument === 'string' ? say.id(one.instrument) : [`${words.notKnown}: `, say.typed(one.instrument.unknown)]}</td></tr>`,
  )}</tbody></table>`;
}

function work({ shop, distributor, reference, ...one }: TraceRead['records'][number], say: Say): Part {
  const by = [distributor, shop, reference].filter((each) => each !== null);
  return [dated(one, say), by.map((each) => [' · ', say.typed(each)])];
}

function dated({ kind, performed }: Dated, { words }: Say): Part {
  return `${words.kinds[kind] ?? kind}, ${timeOf(performed.to)}`;
}
