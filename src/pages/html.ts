/**
 * HTML by a tagged template in which every value is escaped, in text and in quoted attributes alike. Only what the
 * template itself made goes in as it is, so nothing that somebody typed ever becomes markup.
 */

export class Html {
  readonly markup: string;

  constructor(markup: string) {
    this.markup = markup;
  }
}

export type Part = Html | string | number | null | undefined | false | readonly Part[];

/** Null, undefined and false leave nothing; lists are joined. Attributes must be quoted. */
export function html(literals: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return new Html(literals.map((literal, at) => literal + (at < parts.length ? markupOf(parts[at]) : '')).join(''));
}

export function escaped(text: string): string {
  return text.replaceAll(/[&<>"'`]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

function markupOf(part: Part): string {
  if (part instanceof Html) return part.markup;
  if (part === null || part === undefined || part === false) return '';
  if (typeof part === 'object') return part.map(markupOf).join('');
  return escaped(String(part));
}
