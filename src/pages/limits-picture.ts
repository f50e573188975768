/**
 * A reading against its limits. Drawn in sizes of the base unit, so that limits in one unit and a reading in another
 * stand where they belong. Told apart by shape: paper is black and white.
 */
import { coverageFactor } from '../core/conformity/decision-rule.ts';
import { doubleOf } from '../core/conformity/double.ts';
import { differenceSizeOf, sizeOf } from '../core/quantity/exact.ts';
import type { Quantity } from '../core/quantity/quantity.ts';
import { dimensionOf } from '../core/quantity/unit.ts';
import { type Html, html, type Part } from './html.ts';

export type Pictured = {
  readonly min: Quantity | null;
  readonly max: Quantity | null;
  readonly target: Quantity | null;
  readonly reading: Quantity;
  readonly estimate: Quantity;
  /** Standard uncertainty; null: not known. */
  readonly uncertainty: Quantity | null;
  readonly guardBand: Quantity | null;
  readonly verdict: string | null;
};

const width = 200;
const edge = 6;
const [top, middle, bottom] = [9, 16, 23];

/** `label` says the same in words. Null: there are no limits, or they are of another dimension than the reading. */
export function limitsPicture(pictured: Pictured, label: string): Html | null {
  const { min, max, reading, estimate, target, uncertainty, guardBand, verdict } = pictured;
  const limits = [min, max].filter((limit) => limit !== null);
  const asked = [...limits, estimate, ...(target === null ? [] : [target])];
  if (limits.length === 0 || asked.some(({ unit }) => dimensionOf(unit) !== dimensionOf(reading.unit))) return null;
  const [from, to] = [sized(min), sized(max)];
  const found = doubleOf(sizeOf(estimate));
  const expanded = uncertainty === null ? null : coverageFactor * doubleOf(differenceSizeOf(uncertainty));
  const at = scaleOf(from, to, found, expanded ?? 0);
  const [left, right] = [from === null ? 0 : at(from).x, to === null ? width : at(to).x];
  const band = guardBand === null ? 0 : doubleOf(differenceSizeOf(guardBand));
  return html`<svg class="scale" viewBox="0 0 ${width} 32" role="img" aria-label="${label}">
<path d="M0 ${middle}H${width}" stroke="#777"/>
<rect x="${left}" y="${top}" width="${Math.max(right - left, 0)}" height="${bottom - top}" fill="#ddd"/>
${band > 0 && hatching(hatched([from, to], band, at))}
${from === null ? open(3, 1) : wall(left)}${to === null ? open(width - 3, -1) : wall(right)}
${target !== null && targetAt(at(doubleOf(sizeOf(target))).x)}
${expanded !== null && expanded > 0 && whisker(at(found - expanded), at(found + expanded))}
${sized(reading) !== found && shownThere(at(doubleOf(sizeOf(reading))))}
${markOf(verdict, at(found))}
${expanded === null && unknownBeside(at(found).x)}
</svg>`;
}

/** The mark of a verdict by itself, for the key. */
export function verdictSign(verdict: string): Html {
  return sign(markOf(verdict, { x: 11, off: 0 }));
}

/** Likewise the rest of the drawing. */
export function limitsSign(name: 'shown' | 'whisker' | 'band' | 'target' | 'unknown'): Html {
  if (name === 'shown') return sign(shownThere({ x: 11, off: 0 }), -4);
  if (name === 'whisker') return sign(whisker({ x: 2, off: 0 }, { x: 20, off: 0 }));
  if (name === 'unknown') return sign(unknownBeside(3), -2);
  const lines = name === 'target' ? targetAt(11) : hatching('M4 9V23M7 9V23M10 9V23M13 9V23M16 9V23');
  return sign(lines);
}

/** `from` is what of the height of a picture is uppermost in the key. */
function sign(drawn: Part, from = middle - 9): Html {
  return html`<svg viewBox="0 ${from} 22 18" width="22" height="18" aria-hidden="true">${drawn}</svg>`;
}

function targetAt(x: number): Part {
  return html`<path d="M${x} 4V28" stroke="#000" stroke-dasharray="3 2"/>`;
}

function hatching(lines: string): Part {
  return html`<path d="${lines}" stroke="#000" stroke-width="0.8"/>`;
}

/** Where a size is drawn; `off`: it lies beyond the picture on the left (-1) or right (1), and is drawn at its edge. */
type Place = { readonly x: number; readonly off: -1 | 0 | 1 };
type Scale = (size: number) => Place;

/** Room beside two limits: for the reading with its uncertainty, but never more than the limits are apart. */
const [leastRoom, mostRoom] = [0.25, 1];
/** With one limit, at least so much of it is drawn on either side. */
const leastShare = 0.05;

function scaleOf(min: number | null, max: number | null, found: number, expanded: number): Scale {
  const [from, to] = [min ?? max ?? found, max ?? min ?? found];
  const apart = to - from;
  const beyond = Math.max(from - (found - expanded), found + expanded - to, 0);
  const room =
    apart > 0
      ? apart * Math.min(Math.max((beyond / apart) * 1.15, leastRoom), mostRoom)
      : Math.max((Math.abs(found - from) + expanded) * 1.15, Math.abs(from) * leastShare, Number.EPSILON);
  const [begin, end] = [Math.min(from, to) - room, Math.max(from, to) + room];
  return (size) => {
    const share = (size - begin) / (end - begin);
    const off = share < 0 ? -1 : share > 1 ? 1 : 0;
    return { x: rounded(edge + Math.min(Math.max(share, 0), 1) * (width - 2 * edge)), off };
  };
}

function sized(quantity: Quantity | null): number | null {
  return quantity === null ? null : doubleOf(sizeOf(quantity));
}

function rounded(x: number): number {
  return Math.round(x * 10) / 10;
}

function wall(x: number): Part {
  return html`<path d="M${x} 4V28" stroke="#000" stroke-width="2.5"/>`;
}

/** Nothing limits it on this side. */
function open(x: number, towards: 1 | -1): Part {
  const tip = x + 4 * towards;
  return html`<path d="M${tip} ${middle - 5}L${x} ${middle}L${tip} ${middle + 5}" fill="none" stroke="#000"/>`;
}

/** Within each limit by the guard band, or all there is between two limits where it is wider than that. */
function hatched([min, max]: readonly [number | null, number | null], band: number, at: Scale): string {
  const strips = [
    ...(min === null ? [] : [[at(min).x, at(Math.min(min + band, max ?? Number.POSITIVE_INFINITY)).x] as const]),
    ...(max === null ? [] : [[at(Math.max(max - band, min ?? Number.NEGATIVE_INFINITY)).x, at(max).x] as const]),
  ];
  return strips
    .map(([from, to]) =>
      Array.from(
        { length: Math.floor((to - from) / 3) + 1 },
        (_, line) => `M${rounded(from + line * 3)} ${top}V${bottom}`,
      ).join(''),
    )
    .join('');
}

/** A bar at each end, or an arrow where it goes on beyond the picture. */
function whisker(from: Place, to: Place): Part {
  const end = ({ x, off }: Place): string =>
    off === 0
      ? `M${x} ${middle - 5}V${middle + 5}`
      : `M${x - 4 * off} ${middle - 3}L${x} ${middle}L${x - 4 * off} ${middle + 3}`;
  return html`<path d="M${from.x} ${middle}H${to.x}${end(from)}${end(to)}" fill="none" stroke="#000" stroke-width="1.6"/>`;
}

/** What the instrument showed, where the estimate is another. */
function shownThere({ x }: Place): Part {
  return html`<path d="M${x - 4} 1H${x + 4}L${x} ${top}Z" fill="#fff" stroke="#000"/>`;
}

/** A full disc is within, a cross outside, an empty diamond neither for sure; an arrow beside it: far beyond the picture. */
function markOf(verdict: string | null, { x: drawn, off }: Place): Part {
  const x = drawn - 8 * off;
  const arrow =
    off !== 0 &&
    html`<path d="M${x + 7 * off} ${middle - 5}L${x + 13 * off} ${middle}L${x + 7 * off} ${middle + 5}Z"/>`;
  if (verdict === 'conforms') return [html`<path d="M${x - 5} ${middle}a5 5 0 0 1 10 0a5 5 0 0 1 -10 0Z"/>`, arrow];
  if (verdict === 'outside') {
    const cross = `M${x - 5} ${middle - 5}l10 10M${x + 5} ${middle - 5}l-10 10`;
    return [
      html`<path d="${cross}" stroke="#fff" stroke-width="5"/><path d="${cross}" stroke="#000" stroke-width="2.6"/>`,
      arrow,
    ];
  }
  return [html`<path d="M${x - 6} ${middle}l6 -6l6 6l-6 6Z" fill="#fff" stroke="#000" stroke-width="2"/>`, arrow];
}

function unknownBeside(x: number): Part {
  return html`<text x="${Math.min(x + 6, width - 8)}" y="11" class="bold">?</text>`;
}
