/** A record to read and to print: how it stands, what was found, what was done, by whom and when. */
import type { Edition } from '../core/catalogue/edition.ts';
import { languageFor, namesIn } from '../core/catalogue/names.ts';
import { frameLanguages } from '../core/fit/step-frames.ts';
import type { UnitSystem } from '../core/quantity/display.ts';
import { type Furniture, filled, furnitureIn } from './furniture.ts';
import { html, type Part } from './html.ts';
import { type Page, pageOf } from './page.ts';
import { findingsSection } from './record-findings.ts';
import { personOf, type RecordRead } from './record-read.ts';
import { evidenceSections, partSections } from './record-tables.ts';
import { type Say, sayFor } from './say.ts';
import { stated } from './stated.ts';
import { type Json, objectOf, textOf, timeOf } from './statement.ts';

/** Shown where they belong; everything else of a statement is listed as it is. */
const placed = new Set([
  ...['found', 'removed', 'fitted', 'seals', 'torques', 'settings', 'checks', 'measurements'],
  ...['reference', 'workOrder', 'performedAt', 'shop', 'technician', 'grade', 'edition', 'control', 'pump'],
]);

/** `edition` is the one that the record names; null: it names none, and ids have to do. */
export function recordPage(
  record: RecordRead,
  { edition, languages, units }: { edition: Edition | null; languages: readonly string[]; units: UnitSystem | null },
): Page {
  const language = languageFor(edition ?? wordless, frameLanguages, languages);
  const words = furnitureIn(language);
  const say = sayFor(words, namesIn(edition ?? wordless, language), units);
  const kind = words.kinds[record.kind] ?? record.kind;
  const of = record.units.map((unit) => unitName(unit, words)).join(', ');
  const title = [`${words.record}: ${kind}`, of].filter((one) => one !== '').join(' · ');
  const statement = objectOf(record.statement);
  return pageOf(words.lang, title, record.id, [
    html`<h1>${title}</h1>`,
    outcome(record, say),
    html`<p class="care">${words.care}</p>`,
    html`<section><h2>${words.whoAndWhen}</h2>${facts(record, statement, say)}</section>`,
    findingsSection(record, say),
    partSections(record, statement, say),
    evidenceSections(record, statement, edition, say),
    otherwise(statement, say),
    note(record, say),
    html`<section class="keep"><h2>${words.receipt}</h2><p>${words.receiptHelp}</p><dl><dt>${words.recordId}</dt><dd>${say.id(record.id)}</dd><dt>${words.entry}</dt><dd>${say.id(record.entry)}</dd></dl></section>`,
  ]);
}

/** Where no edition is named there are no names but ids. */
export const wordless: Edition = {
  ...{ maker: '', edition: '', effectiveFrom: '', elements: [], series: [], bodies: [], functions: [] },
  ...{ kits: [], checks: [], cautions: [], texts: {} },
};

function unitName({ kind, name }: RecordRead['units'][number], words: Furniture): string {
  return `${kind === 'pump' ? words.pump : words.control} ${name ?? words.unnamed}`;
}

/** Only what was judged has an outcome; a record that was corrected has none any more. */
function outcome(record: RecordRead, say: Say): Part {
  const { words } = say;
  if (record.correctedBy !== null)
    return html`<div class="outcome"><strong>${words.corrected}</strong> ${words.correctedSaid}<br>${words.correctedBy} ${say.id(record.correctedBy)}</div>`;
  const then = textOf(objectOf(record.judgement)['status']);
  if (then === null) return null;
  const [name, said] = saidOf(record.status, words);
  return html`<div class="outcome"><strong>${name}.</strong> ${said}${
    then !== record.status && html`<br>${filled(words.judgedThen, { status: saidOf(then, words)[0] })}`
  }</div>`;
}

export function saidOf(status: string, words: Furniture): readonly [string, string] {
  if (status === 'released') return [words.released, words.releasedSaid];
  if (status === 'held') return [words.held, words.heldSaid];
  return status === 'incomplete' ? [words.incomplete, words.incompleteSaid] : [status, ''];
}

function facts(record: RecordRead, statement: Json, say: Say): Part {
  const { words } = say;
  const { from, to } = record.performed;
  const sent = timeOf(statement['performedAt']);
  const grade = textOf(statement['grade']);
  const recordedBy = objectOf(objectOf(record.origin)['recordedBy']);
  const sender = [textOf(recordedBy['client']), textOf(recordedBy['subject'])].filter((one) => one !== null);
  const fun = objectOf(record.judgement)['function'];
  const row = (name: string, value: Part): Part =>
    value === null || value === '' ? null : html`<dt>${name}</dt><dd>${value}</dd>`;
  const typed = (text: string | null): Part => (text !== null && text !== '' ? say.typed(text) : null);
  return html`<dl>
${record.units.map((unit) => row(unit.kind === 'pump' ? words.pump : words.control, [say.typed(unit.name ?? words.unnamed), record.maker !== null && ` · ${record.maker}`]))}
${row(words.performed, sent ?? (from === to ? timeOf(from) : `${timeOf(from)} – ${timeOf(to)}`))}
${row(words.recorded, timeOf(record.recordedAt))}
${row(words.technician, personOf(statement['technician'], record, say))}
${row(words.shop, typed(textOf(statement['shop'])))}
${row(words.reference, typed(textOf(statement['reference'])))}
${row(words.workOrder, typed(textOf(statement['workOrder'])))}
${row(words.grade, grade === null ? null : (words.grades[grade] ?? grade))}
${row(words.edition, record.edition)}
${row(words.functionAfter, fun === null || typeof fun === 'string' ? say.function(fun) : null)}
${row(words.concerns, record.concerns === null ? null : say.id(record.concerns))}
${row(words.judgedAgain, record.judgedAgain.length === 0 ? null : record.judgedAgain.map((fact) => html`<div>${say.id(fact)}</div>`))}
${row(words.ruleset, record.ruleset)}
${row(words.sentBy, sender.length === 0 ? null : sender.map((one, at) => [at > 0 && ' · ', say.typed(one)]))}
</dl>${say.unitsSaid()}`;
}

export function otherwise(statement: Json, say: Say): Part {
  const others = Object.entries(statement).filter(([name]) => !placed.has(name));
  return (
    others.length > 0 &&
    html`<section><h2>${say.words.otherwise}</h2>${stated(Object.fromEntries(others), say)}</section>`
  );
}

/** A maker's analyst reads no notes: nothing is said of whether there is one. */
export function note(record: Pick<RecordRead, 'private'>, say: Say): Part {
  const section = objectOf(record.private);
  const text = textOf(section['note']);
  const others = Object.entries(section).filter(([name]) => name !== 'note');
  if (text === null && others.length === 0) return null;
  return html`<section class="keep"><h2>${say.words.note}</h2>${text !== null && html`<p class="note">${say.typed(text)}</p>`}${
    others.length > 0 && stated(Object.fromEntries(others), say)
  }</section>`;
}
