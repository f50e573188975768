/** A text as a code that a camera reads (ISO/IEC 18004), drawn on the server: modules are one unit wide. */
import { encodeQR } from 'qr';
import { type Html, html } from './html.ts';

/** Modules left white around it: as many as ISO/IEC 18004 demands. */
const quiet = 4;

/**
 * The medium level: what paper loses to a fold or a stain is made good. `label` says for those who don't see it what it is.
 * @throws Error for a text of more than 2,331 bytes
 */
export function qrPicture(text: string, label: string): Html {
  const rows = encodeQR(text, 'raw', { ecc: 'medium', border: quiet });
  const size = rows.length;
  return html`<svg class="code" viewBox="0 0 ${size} ${size}" role="img" aria-label="${label}" shape-rendering="crispEdges"><rect width="${size}" height="${size}" fill="#fff"/><path d="${rows.map(runs).join('')}" fill="#000"/></svg>`;
}

/** The black runs of a row, each as one rectangle. */
function runs(row: readonly boolean[], y: number): string {
  const text = row.map((black) => (black ? '1' : '0')).join('');
  return [...text.matchAll(/1+/g)]
    .map(({ index, 0: run }) => `M${index} ${y}h${run.length}v1h-${run.length}z`)
    .join('');
}
