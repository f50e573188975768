/** The shell of every page: one document without script, with one style that the content policy names by its hash. */
import { createHash } from 'node:crypto';
import { Html, html, type Part } from './html.ts';
import { styleFor } from './style.ts';

export type Page = {
  readonly markup: string;
  /** The tag of the language that the page's own words are in. */
  readonly lang: string;
  /** The value of its Content-Security-Policy. */
  readonly policy: string;
};

/** The title, and `mark` which tells it from others of the same title, stand at the foot of every printed sheet. */
export function pageOf(lang: string, title: string, mark: string, body: Part): Page {
  const style = styleFor(`${shortened(title)} · ${mark}`);
  const { markup } = html`<!doctype html>
<html lang="${lang}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<style>${new Html(style)}</style>
</head>
<body>
${body}
</body>
</html>
`;
  return { markup, lang, policy: policyFor(style) };
}

/** Nothing is loaded from anywhere, nothing runs, and no other page may frame it. */
function policyFor(style: string): string {
  return [
    "default-src 'none'",
    `style-src 'sha256-${createHash('sha256').update(style).digest('base64')}'`,
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; ');
}

/** Characters, of a title in one line at the foot of a sheet. */
const longestTitle = 44;

function shortened(title: string): string {
  const signs = [...title];
  return signs.length <= longestTitle ? title : `${signs.slice(0, longestTitle - 1).join('')}…`;
}
