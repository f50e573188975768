/** What a record says was found, done and measured, table by table, as far as it has them. */
import type { Edition } from '../core/catalogue/edition.ts';
import { isReading } from '../core/quantity/add-display.ts';
import { filledWith } from './furniture.ts';
import { type Html, html, type Part } from './html.ts';
import { personOf, type RecordRead } from './record-read.ts';
import { verdictKey, verdictsAt } from './record-verdicts.ts';
import type { Say } from './say.ts';
import { stated } from './stated.ts';
import { type Json, listOf, objectOf, textOf, timeOf, unknownOf } from './statement.ts';

export type Column = { readonly title: string; readonly width?: string; readonly of: (one: Json, at: number) => Part };

/** Shown in columns of their own. */
const placed = new Set([
  ...['station', 'element', 'quantity', 'lot', 'measured', 'joint', 'seal', 'how', 'reading', 'instrument', 'adapter'],
  ...['setting', 'conditions', 'check', 'result', 'value', 'reason', 'by', 'at'],
]);

/** The column that says what a row is about, with who did it and when where that was said, and whatever else was. */
export function namedBy(record: RecordRead, say: Say): (column: Column) => Column {
  const { words } = say;
  const small = (name: Part, value: Part): Part => html`<br><span class="small">${name}: ${value}</span>`;
  return (column) => ({
    ...column,
    of: (one, at) => {
      const [by, when] = [personOf(one['by'], record, say), timeOf(one['at'])];
      const others = Object.entries(one).filter(([name]) => !placed.has(name));
      return [
        html`<b>${column.of(one, at)}</b>`,
        by !== null && small(words.by, by),
        when !== null && small(words.at, when),
        others.length > 0 && html`<div class="small">${stated(Object.fromEntries(others), say)}</div>`,
      ];
    },
  });
}

export function partSections(record: RecordRead, statement: Json, say: Say): Part {
  const { words } = say;
  const measured = (one: Json): Part =>
    one['measured'] !== undefined && html`<div class="small">${words.measured}: ${stated(one['measured'], say)}</div>`;
  const station = namedBy(record, say)({ title: words.station, of: (one) => known(one['station'], say, say.station) });
  const part: Column = {
    title: words.part,
    width: 'w30',
    of: (one) => [times(one), known(one['element'], say, say.element), measured(one)],
  };
  const lotOf: Column = { title: words.lot, width: 'w25', of: (one) => lot(one['lot'], say) };
  return [
    found(objectOf(statement['found']), say),
    table(words.removed, statement['removed'], [station, part]),
    table(words.fitted, statement['fitted'], [station, part, lotOf]),
  ];
}

export function evidenceSections(record: RecordRead, statement: Json, edition: Edition | null, say: Say): Part {
  const { words } = say;
  const named = namedBy(record, say);
  const reading: Column = {
    title: words.reading,
    width: 'w20',
    of: (one) => [readings(one['reading'], say), adapter(one, say)],
  };
  const instrument: Column = {
    title: words.instrument,
    width: 'w15',
    of: (one) => known(one['instrument'], say, say.typed),
  };
  const conditions: Column = {
    title: words.conditions,
    width: 'w20',
    of: (one) => (one['conditions'] === undefined ? none() : stated(one['conditions'], say)),
  };
  const limits = (list: string): Column => ({
    title: words.limits,
    width: 'w25',
    of: (_, at) => verdictsAt(record, `/${list}/${at}/`, edition, say) ?? none(),
  });
  const joint = named({ title: words.joint, of: (one) => known(one['joint'], say, say.joint) });
  const setting = named({ title: words.setting, of: (one) => known(one['setting'], say, say.setting) });
  return [
    table(words.sealsRenewed, statement['seals'], [
      joint,
      { title: words.seals, width: 'w30', of: (one) => [times(one), known(one['seal'], say, say.element)] },
      { title: words.lot, width: 'w25', of: (one) => lot(one['lot'], say) },
    ]),
    table(words.torques, statement['torques'], [
      joint,
      reading,
      { title: words.how, width: 'w12', of: ({ how }) => words.hows[textOf(how) ?? ''] ?? none() },
      instrument,
      limits('torques'),
    ]),
    table(words.settingsRead, statement['settings'], [setting, reading, instrument, conditions, limits('settings')]),
    [...listOf(statement['torques']), ...listOf(statement['settings'])].length > 0 && verdictKey(record, edition, say),
    table(words.checks, statement['checks'], [
      named({ title: words.check, of: (one) => known(one['check'], say, say.check) }),
      { title: words.result, width: 'w20', of: ({ result }) => words.results[textOf(result) ?? ''] ?? none() },
      {
        title: words.because,
        width: 'w30',
        of: (one) => [
          isReading(one['value']) && say.quantity(one['value']),
          ' ',
          textOf(one['reason']) !== null && say.typed(textOf(one['reason']) ?? ''),
        ],
      },
    ]),
    table(words.measurements, statement['measurements'], [
      named({ title: words.measured, of: (one) => say.id(textOf(one['measured']) ?? '') }),
      reading,
      instrument,
      conditions,
    ]),
  ];
}

export function found(said: Json, say: Say): Part {
  const { words } = say;
  const { function: fun, stations, settings, plate, ...others } = said;
  if (Object.keys(said).length === 0) return null;
  const row = (name: Part, value: Part): Part => html`<dt>${name}</dt><dd>${value}</dd>`;
  return html`<section><h2>${words.foundBefore}</h2><dl>
${typeof fun === 'string' && row(words.function, say.function(fun))}
${textOf(plate) !== null && row(words.plate, say.typed(textOf(plate) ?? ''))}
${Object.entries(objectOf(stations)).map(([station, content]) => row(say.station(station), contentOf(content, say)))}
${Object.entries(objectOf(settings)).map(([setting, value]) => row(say.setting(setting), readings(value, say)))}
${Object.entries(others).map(([name, value]) => row(say.typed(name), stated(value, say)))}
</dl></section>`;
}

function contentOf(content: unknown, say: Say): Part {
  const why = unknownOf(content);
  if (why !== null) return [`${say.words.notKnown}: `, say.typed(why)];
  if (!Array.isArray(content)) return stated(content, say);
  if (content.length === 0) return say.words.nothing;
  return listOf(content).map((one) => html`<div>${times(one)}${known(one['element'], say, say.element)}</div>`);
}

/** A table of so many rows is not split over two sheets of paper. */
const fewRows = 8;

export function table(title: string, list: unknown, columns: readonly Column[]): Part {
  const rows = listOf(list);
  if (rows.length === 0) return null;
  const head = columns.map(({ title: name, width }) => html`<th class="${width ?? ''}">${name}</th>`);
  const row = (one: Json, at: number): Html =>
    html`<tr>${columns.map(({ title: name, of }, column) =>
      column === 0 ? html`<td>${of(one, at)}</td>` : html`<td data-label="${name}">${of(one, at)}</td>`,
    )}</tr>`;
  const keep = rows.length <= fewRows ? 'keep' : '';
  return html`<section class="${keep}"><h2>${title}</h2><table class="wide"><thead><tr>${head}</tr></thead><tbody>${rows.map(row)}</tbody></table></section>`;
}

/** The id by its name, or why it is not known. */
export function known(value: unknown, say: Say, name: (id: string) => Part): Part {
  const why = unknownOf(value);
  if (why !== null) return [`${say.words.notKnown}: `, say.typed(why)];
  const id = textOf(value);
  return id === null ? stated(value, say) : name(id);
}

export function lot(value: unknown, say: Say): Part {
  if (value === undefined) return none();
  const { maker, number } = objectOf(value);
  return textOf(number) === null
    ? known(value, say, say.typed)
    : say.typed(`${textOf(maker) ?? ''} ${textOf(number) ?? ''}`);
}

export function readings(value: unknown, say: Say): Part {
  const all = Array.isArray(value) ? value : [value];
  return all.map((one) => html`<div>${isReading(one) ? html`<b>${say.quantity(one)}</b>` : stated(one, say)}</div>`);
}

export function adapter(one: Json, say: Say): Part {
  const { arm, extension } = objectOf(one['adapter']);
  if (!isReading(arm) || !isReading(extension)) return null;
  const pieces = { arm: say.quantity(arm), extension: say.quantity(extension) };
  return html`<div class="small">${filledWith(say.words.adapter, pieces)}</div>`;
}

export function times({ quantity }: Json): Part {
  return typeof quantity === 'number' && quantity > 1 ? `${quantity} × ` : null;
}

export function none(): Html {
  return html`<span class="none">–</span>`;
}
