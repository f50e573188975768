/** How far a certificate goes: what it does not say, where it stands in the log and in each unit's chain, and its code. */
import type { CertificateRead } from './certificate-read.ts';
import { filled } from './furniture.ts';
import { html, type Part } from './html.ts';
import { qrPicture } from './qr-picture.ts';
import type { Say } from './say.ts';

/** The code and, beside it, what it carries: `address` is that of the JSON. */
export function codeOf({ proof }: CertificateRead, address: string, say: Say): Part {
  const own = say.words.certificate;
  return html`<figure class="keep">${qrPicture(`${address}#${proof.entry}`, own.scan)}<figcaption>${own.address}<br>${say.id(
    `${address}#${proof.entry}`,
  )}</figcaption></figure>`;
}

export function saysNot(say: Say): Part {
  const own = say.words.certificate;
  return html`<section class="keep"><h2>${own.saysNot}</h2><ul>${own.saysNotList.map((one) => html`<li>${one}</li>`)}</ul></section>`;
}

export function proofSection({ leaf, proof, checkpoint, units }: CertificateRead, say: Say): Part {
  const { words } = say;
  const own = words.certificate;
  const upTo =
    checkpoint === null
      ? words.notKnown
      : filled(own.checkpointSaid, { size: checkpoint.size, origin: checkpoint.origin });
  return html`<section class="keep"><h2>${own.proof}</h2><dl>
<dt>${words.recordId}</dt><dd>${say.id(leaf.id)}</dd>
<dt>${words.entry}</dt><dd>${say.id(proof.entry)}</dd>
<dt>${own.placeInLog}</dt><dd>${filled(own.fromNought, { index: proof.index })}</dd>
<dt>${own.checkpoint}</dt><dd>${upTo}</dd>
</dl>
${
  units.length > 0 &&
  html`<table class="wide"><caption>${own.chain}</caption><thead><tr><th>${own.unit}</th><th class="w9">${own.place}</th><th class="w50">${own.entryBefore}</th></tr></thead><tbody>${units.map(
    ({
      unit,
      seq,
      prev,
      kind,
      name,
    }) => html`<tr><td>${kind !== null && `${words[kind]} `}${name !== null && [say.typed(name), ' ']}${say.id(unit)}</td>
<td data-label="${own.place}"><b>${seq}</b></td><td data-label="${own.entryBefore}">${prev === null ? own.firstOfAll : say.id(prev)}</td></tr>`,
  )}</tbody></table>`
}</section>`;
}
