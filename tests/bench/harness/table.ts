/** Results as a Markdown table. */
import type { Cpu } from '../ground/cpu.ts';
import type { Result, Spread } from './figures.ts';

const heads = ['claim', 'beside', 'ours', 'theirs', 'ratio', 'min to max', 'gate', 'goal', 'verdict'];

export function tableOf(results: readonly Result[]): string {
  const rows = results.map((one) => [
    `${one.claim} (${one.name})`,
    one.comparator,
    `${shown(one.ours.median)} ${one.unit}`,
    `${shown(one.theirs.median)} ${one.unit}`,
    `**${shown(one.ratio.median)}**`,
    rangeOf(one.ratio),
    limitText(one, one.gate),
    limitText(one, one.goal),
    one.verdict === 'met' ? 'met' : `**${one.verdict}**`,
  ]);
  return tableIn(heads, rows);
}

function tableIn(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  return [heads, heads.map(() => '---'), ...rows].map((cells) => `| ${cells.map(cellText).join(' | ')} |\n`).join('');
}

/** Where the time of one answer goes, as far as it was measured; nothing where it was not. */
export function cpuTableOf(results: readonly Result[]): string {
  const rows = results.flatMap(({ name, cpu: { ours, theirs } }) =>
    ours === null || theirs === null ? [] : [[name, ...[ours, theirs].flatMap(milliseconds)]],
  );
  const heads = ['CPU of an answer, ms', 'service', 'its Postgres', 'load', 'peer', "the peer's Postgres", 'load'];
  return rows.length === 0 ? '' : tableIn(heads, rows);
}

const milliseconds = ({ service, postgres, load }: Cpu) => [service, postgres, load].map((one) => one.toFixed(2));

/** Three digits that count. */
export function shown(value: number): string {
  if (Math.abs(value) >= 100) return Math.round(value).toString();
  return Number(value.toPrecision(3)).toString();
}

const rangeOf = ({ min, max }: Spread) => `${shown(min)} to ${shown(max)}`;
const limitText = ({ better }: Result, limit: number) => `${better === 'more' ? '≥' : '≤'} ${limit}`;
const cellText = (text: string) => text.replaceAll('|', '\\|').replaceAll('\n', ' ');
