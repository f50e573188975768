/** The picture of a body: every station behind the one through which it is reached, and what the work does there. */
import { type Html, html, type Part } from './html.ts';

export type Mark = 'untouched' | 'opened' | 'changed';
export type Drawn = {
  readonly id: string;
  readonly depth: number;
  readonly parent: string | null;
  readonly name: string;
  readonly lang: string;
  readonly mark: Mark;
  readonly setAgain: boolean;
  /** The steps that are done there; empty: none. */
  readonly steps: string;
};

/** Of the drawing, whose width is that of a phone: it is scaled to whatever there is room for. */
const width = 400;
const indent = 24;
const line = 17;
const box = 16;
/** Measured of common sans-serif fonts at 13 px, with something to spare: text is wrapped without knowing the font. */
const glyph = 8.2;

/** `label` says for those who don't see it what is to be seen. */
export function accessPicture(stations: readonly Drawn[], label: string): Html {
  const rows = placed(stations);
  const height = (rows.at(-1)?.bottom ?? 0) + 4;
  const rowOf = new Map(rows.map((row) => [row.of.id, row]));
  return html`<svg viewBox="0 0 ${width} ${height}" role="img" aria-label="${label}">
<path d="M5 2V${height - 2}" stroke="#000" stroke-width="4"/>
${rows.map((row) => {
  const parent = row.of.parent === null ? undefined : rowOf.get(row.of.parent);
  return html`<path d="${wayTo(row, parent)}" fill="none" stroke="#000" stroke-width="1.2"/>`;
})}
${rows.map(drawn)}
</svg>`;
}

/** A mark by itself, for the key. */
export function markPicture(mark: Mark | 'set-again' | 'outside'): Html {
  const inside =
    mark === 'set-again'
      ? gauge(11, 9)
      : mark === 'outside'
        ? html`<path d="M11 0V18" stroke="#000" stroke-width="4"/>`
        : boxOf(mark, 3, 1);
  return html`<svg viewBox="0 0 22 18" width="22" height="18" aria-hidden="true">${inside}</svg>`;
}

type Row = {
  readonly of: Drawn;
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
  readonly textX: number;
  readonly lines: readonly string[];
};

function placed(stations: readonly Drawn[]): readonly Row[] {
  let top = 6;
  return stations.map((of) => {
    const x = 22 + of.depth * indent;
    const textX = x + box + 8 + (of.setAgain ? 22 : 0);
    const lines = wrapped(of.name, Math.floor((width - textX) / glyph));
    const bottom = top + lines.length * line + (of.steps === '' ? 0 : line - 2) + 7;
    const row = { of, x, top, bottom, textX, lines };
    top = bottom;
    return row;
  });
}

function drawn({ of, x, top, textX, lines }: Row): Html {
  const weight = of.mark === 'untouched' && !of.setAgain ? 'faint' : 'bold';
  return html`${boxOf(of.mark, x, top)}${of.setAgain && gauge(x + box + 13, top + box / 2)}
<text x="${textX}" y="${top + 13}" class="${weight}" lang="${of.lang}">${lines.map(
    (text, at) => html`<tspan x="${textX}" y="${top + 13 + at * line}">${text}</tspan>`,
  )}</text>
${of.steps !== '' && html`<text x="${textX}" y="${top + 12 + lines.length * line}" class="minor">${of.steps}</text>`}`;
}

function wayTo(row: Row, parent: Row | undefined): string {
  const y = row.top + box / 2;
  if (parent === undefined) return `M5 ${y}H${row.x}`;
  return `M${parent.x + box / 2} ${parent.top + box}V${y}H${row.x}`;
}

/** Told apart by shape, not by colour: paper is black and white. */
function boxOf(mark: Mark, x: number, y: number): Part {
  if (mark === 'untouched')
    return html`<rect x="${x + 2}" y="${y + 2}" width="${box - 4}" height="${box - 4}" fill="#fff" stroke="#777"/>`;
  const frame = html`<rect x="${x + 1}" y="${y + 1}" width="${box - 2}" height="${box - 2}" fill="${mark === 'changed' ? '#000' : '#fff'}" stroke="#000" stroke-width="2.5"/>`;
  if (mark === 'opened') return frame;
  const [left, right, upper, lower] = [x + 4, x + box - 4, y + 6, y + 10];
  const arrows = `M${left} ${upper}H${right}l-3 -2.4M${right} ${lower}H${left}l3 2.4`;
  return [frame, html`<path d="${arrows}" fill="none" stroke="#fff" stroke-width="1.4"/>`];
}

function gauge(x: number, y: number): Html {
  return html`<circle cx="${x}" cy="${y}" r="7" fill="#fff" stroke="#000" stroke-width="2"/><path d="M${x} ${y}l3.4 -4" stroke="#000" stroke-width="2"/>`;
}

/** By words; a word that is longer than the line is cut into pieces. At most four lines are shown. */
function wrapped(text: string, most: number): readonly string[] {
  const pieces = text.split(/\s+/).flatMap((word) => Array.from(cut(word, most)));
  const lines: string[] = [];
  for (const piece of pieces) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + piece.length <= most) lines[lines.length - 1] = `${last} ${piece}`;
    else lines.push(piece);
  }
  return lines.length <= 4 ? lines : [...lines.slice(0, 3), `${lines[3]?.slice(0, most - 1)}…`];
}

function* cut(word: string, most: number): Generator<string> {
  for (let at = 0; at === 0 || at < word.length; at += most) yield word.slice(at, at + most);
}
