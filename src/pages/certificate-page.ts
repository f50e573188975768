/** A certificate to print and to hand on: what is proven of a record, how far that goes, and where it is checked. */
import type { Edition } from '../core/catalogue/edition.ts';
import { languageFor, namesIn } from '../core/catalogue/names.ts';
import { cautionsFor } from '../core/fit/cautions.ts';
import { frameLanguages } from '../core/fit/step-frames.ts';
import type { Certificate } from '../core/log/certificate.ts';
import type { UnitSystem } from '../core/quantity/display.ts';
import { codeOf, proofSection, saysNot } from './certificate-proof.ts';
import { asRecord, type CertificateRead, nameIn, readCertificate } from './certificate-read.ts';
import { checksTable, measurementsTable, partsTable, readingTables, sealsTable } from './certificate-tables.ts';
import { filled, furnitureIn } from './furniture.ts';
import { html, type Part } from './html.ts';
import { type Page, pageOf } from './page.ts';
import { note, otherwise, saidOf, wordless } from './record-page.ts';
import { personOf } from './record-read.ts';
import { found } from './record-tables.ts';
import { type Say, sayFor } from './say.ts';
import { stated } from './stated.ts';
import { listOf, objectOf, textOf, timeOf } from './statement.ts';

export type CertificateShown = {
  /** The one that the record names, for the names of things; null: it names none, and ids have to do. */
  readonly edition: Edition | null;
  readonly languages: readonly string[];
  readonly units: UnitSystem | null;
  /** Where the certificate is read as JSON, without a fragment. */
  readonly address: string;
};

export function certificatePage(certificate: Certificate, shown: CertificateShown): Page {
  const edition = shown.edition ?? wordless;
  const language = languageFor(edition, frameLanguages, shown.languages);
  const words = furnitureIn(language);
  const say = sayFor(words, namesIn(edition, language), shown.units);
  const read = readCertificate(certificate);
  const own = words.certificate;
  const named = (['control', 'pump'] as const).flatMap((kind) => {
    const name = nameIn(read.statement[kind]);
    return name === null ? [] : [`${words[kind]} ${name}`];
  });
  const title = [`${own.title}: ${words.kinds[read.kind] ?? read.kind}`, named.join(', ')].filter((one) => one !== '');
  return pageOf(words.lang, title.join(' · '), read.leaf.id, [
    html`<main class="certificate"><h1>${title.join(' · ')}</h1>`,
    html`<section class="cautions"><h2>${words.cautions}</h2><ul>${cautionsFor(edition, language).map(
      (caution) => html`<li>${say.marked(caution)}</li>`,
    )}</ul></section>`,
    html`<p class="lead">${own.certified}</p>`,
    withheld(read, say),
    html`<div class="head"><section>${facts(read, say)}${judged(read, say)}</section>${codeOf(read, shown.address, say)}</div>`,
    partsTable(read, say),
    readingTables(read, say),
    html`<div class="pair"><div>${sealsTable(read, say)}</div><div>${checksTable(read, say)}</div></div>`,
    measurementsTable(read, say),
    found(objectOf(read.statement['found']), say),
    read.correction !== null && html`<section><h2>${own.correction}</h2>${stated(read.correction, say)}</section>`,
    otherwise(read.statement, say),
    note(read, say),
    findings(read, say),
    saysNot(say),
    proofSection(read, say),
    html`</main>`,
  ]);
}

function withheld({ withheld: sections }: CertificateRead, { words }: Say): Part {
  const { notIncluded, sectionNames } = words.certificate;
  const names = sections.map((section) => sectionNames[section]).join('; ');
  // Whether there was a note at all can't be told: that alone is no news.
  const look = sections.every((section) => section === 'private') ? 'small' : 'outcome';
  return sections.length > 0 && html`<p class="${look}">${filled(notIncluded, { sections: names })}</p>`;
}

function facts(read: CertificateRead, say: Say): Part {
  const { words } = say;
  const { leaf, statement, judgement, origin } = read;
  const row = (name: string, value: Part): Part =>
    value === null || value === '' ? null : html`<dt>${name}</dt><dd>${value}</dd>`;
  const typed = (value: unknown): Part => (textOf(value) === null ? null : say.typed(textOf(value) ?? ''));
  const declared = judgement['function'] === undefined ? objectOf(statement['to'])['function'] : judgement['function'];
  const recordedBy = objectOf(origin['recordedBy']);
  const sender = [textOf(recordedBy['client']), textOf(recordedBy['subject'])].filter((one) => one !== null);
  return html`<dl>
${(['control', 'pump'] as const).map((kind) => {
  const name = nameIn(statement[kind]);
  const maker = textOf(objectOf(statement[kind])['maker']);
  return name !== null && row(words[kind], [say.typed(name), maker !== null && [' · ', say.typed(maker)]]);
})}
${row(words.functionAfter, declared === null || typeof declared === 'string' ? html`<b>${say.function(declared)}</b>` : null)}
${row(words.performed, timeOf(statement['performedAt']))}
${row(words.recorded, timeOf(leaf.recordedAt))}
${row(words.shop, typed(statement['shop']))}
${row(words.technician, personOf(statement['technician'], asRecord(read), say))}
${row(words.reference, typed(statement['reference']))}
${row(words.workOrder, typed(statement['workOrder']))}
${row(words.grade, words.grades[textOf(statement['grade']) ?? ''] ?? null)}
${row(words.edition, leaf.edition)}
${row(words.ruleset, leaf.ruleset)}
${row(words.certificate.belongsTo, textOf(origin['owner']) === null ? null : say.id(textOf(origin['owner']) ?? ''))}
${row(words.sentBy, sender.length === 0 ? null : sender.map((one, at) => [at > 0 && ' · ', say.typed(one)]))}
</dl>${say.unitsSaid()}`;
}

/** As it was judged when it was recorded, which is what is hashed. */
function judged({ judgement }: CertificateRead, say: Say): Part {
  const { words } = say;
  const status = textOf(judgement['status']);
  if (status === null) return null;
  return html`<p><b>${filled(words.judgedThen, { status: saidOf(status, words)[0] })}</b>${
    status !== 'released' && ` ${words.certificate.clearedSince}`
  }</p>`;
}

function findings({ judgement }: CertificateRead, say: Say): Part {
  const { words } = say;
  const all = listOf(judgement['findings']);
  return (
    all.length > 0 &&
    html`<section><h2>${words.findings}</h2><ul class="small findings">${all.map(
      ({ severity, because, rule }) =>
        html`<li><b>${words.severities[textOf(severity) ?? ''] ?? textOf(severity)}</b>: ${say.marked({ text: textOf(because) ?? '', lang: 'en' })} ${say.id(textOf(rule) ?? '')}</li>`,
    )}</ul></section>`
  );
}
