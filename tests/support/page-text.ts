/** What a page says to somebody who reads it, without what draws it. */

/** The text in reading order; blocks and cells are set apart by a space. */
export function pageText(markup: string): string {
  return markup
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<\/?(td|th|tr|dl|dt|dd|ul|li|p|h\d|div|text|tspan|summary|figure|br)\b[^>]*>/g, ' ')
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replaceAll(/[\s\u00a0]+/g, ' ')
    .trim();
}

/** As pages write units, which JSON spells in plain letters. */
export function inPageUnits(text: string): string {
  const signs: readonly (readonly [RegExp, string])[] = [
    [/N\.m/g, 'N·m'],
    [/lbf\.ft/g, 'lbf·ft'],
    [/(\d) deg\b/g, '$1°'],
  ];
  return signs.reduce((said, [unit, sign]) => said.replaceAll(unit, sign), text);
}

/** Every tag that the markup opens, once. */
export function tagsOf(markup: string): ReadonlySet<string> {
  return new Set([...markup.matchAll(/<([a-zA-Z][a-zA-Z0-9]*)/g)].map((match) => match[1] ?? ''));
}

/** What could load, run or send something, or lead outside; empty for a page that can't. */
export function reachesOut(markup: string): readonly string[] {
  const forbidden = [
    /<(script|img|link|iframe|object|embed|form|base|audio|video|source|use|image|foreignObject|animate|set)\b/gi,
    /\son[a-z]+\s*=\s*"/gi,
    /\b(src|srcset|action|formaction|xlink:href|style)\s*=\s*"/gi,
    /\bhref="(?!#|\/openapi\.json")/gi,
    /@import|url\(/gi,
  ];
  return forbidden.flatMap((pattern) => [...markup.matchAll(pattern)].map(([found]) => found));
}
