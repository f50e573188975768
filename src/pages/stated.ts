/** JSON of any shape for people to read: names and values one below the other. */
import { isReading } from '../core/quantity/add-display.ts';
import { html, type Part } from './html.ts';
import type { Say } from './say.ts';
import { unknownOf } from './statement.ts';

/** Deeper than any body goes; what lies below is left to the JSON. */
const deepest = 8;

export function stated(value: unknown, say: Say, depth = 0): Part {
  if (value === null || value === undefined) return html`<span class="none">–</span>`;
  if (typeof value !== 'object') return say.typed(String(value));
  if (isReading(value)) return say.quantity(value);
  const why = unknownOf(value);
  if (why !== null) return [`${say.words.notKnown}: `, say.typed(why)];
  if (depth >= deepest) return '…';
  if (Array.isArray(value))
    return value.length === 0
      ? html`<span class="none">${say.words.nothing}</span>`
      : value.map((one) => html`<div>${stated(one, say, depth + 1)}</div>`);
  const members = Object.entries(value);
  if (members.length === 0) return html`<span class="none">–</span>`;
  return html`<dl>${members.map(
    ([name, member]) =>
      html`<dt>${Object.hasOwn(say.words.members, name) ? say.words.members[name] : say.typed(name)}</dt><dd>${stated(member, say, depth + 1)}</dd>`,
  )}</dl>`;
}
