/** What rounds come to. */
import type { Cpu } from '../ground/cpu.ts';
import type { Figure, Row } from './row.ts';

/** `median` with the least and the most. */
export type Spread = { readonly median: number; readonly min: number; readonly max: number };
export type Verdict = 'met' | 'gate met, goal missed' | 'missed';

export type Result = Omit<Row<never>, 'prepare'> & {
  readonly rounds: number;
  readonly ours: Spread;
  readonly theirs: Spread;
  /** Of each round ours ÷ theirs. */
  readonly ratio: Spread;
  /** Milliseconds, where single answers of ours were timed. */
  readonly p99: Spread | null;
  /** Medians, of one answer of ours and of theirs; null: not measured. */
  readonly cpu: { readonly ours: Cpu | null; readonly theirs: Cpu | null };
  readonly verdict: Verdict;
};

/** @throws RangeError where there is nothing to take the middle of. */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((one, other) => one - other);
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)], sorted[Math.floor(sorted.length / 2)]];
  if (low === undefined || high === undefined) throw new RangeError('the median of nothing');
  return (low + high) / 2;
}

export function spreadOf(values: readonly number[]): Spread {
  return { median: median(values), min: Math.min(...values), max: Math.max(...values) };
}

/** The value that a share of these is not above: the nearest rank. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = Float64Array.from(values).sort();
  const found = sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)];
  if (found === undefined) throw new RangeError('a quantile of nothing');
  return found;
}

export function verdictOf(ratio: number, { better, gate, goal }: Pick<Result, 'better' | 'gate' | 'goal'>): Verdict {
  const reaches = (limit: number) => (better === 'more' ? ratio >= limit : ratio <= limit);
  if (reaches(goal)) return 'met';
  return reaches(gate) ? 'gate met, goal missed' : 'missed';
}

export type Round = { readonly ours: Figure; readonly theirs: Figure };

export function resultOf(row: Omit<Row<never>, 'prepare'>, rounds: readonly Round[]): Result {
  const { name, claim, comparator, unit, better, gate, goal } = row;
  const ratio = spreadOf(rounds.map(({ ours, theirs }) => ours.value / theirs.value));
  const p99s = rounds.flatMap(({ ours }) => ours.p99 ?? []);
  return {
    ...{ name, claim, comparator, unit, better, gate, goal },
    rounds: rounds.length,
    ours: spreadOf(rounds.map(({ ours }) => ours.value)),
    theirs: spreadOf(rounds.map(({ theirs }) => theirs.value)),
    ratio,
    p99: p99s.length === 0 ? null : spreadOf(p99s),
    cpu: { ours: cpuOf(rounds.map(({ ours }) => ours)), theirs: cpuOf(rounds.map(({ theirs }) => theirs)) },
    verdict: verdictOf(ratio.median, { better, gate, goal }),
  };
}

function cpuOf(figures: readonly Figure[]): Cpu | null {
  const all = figures.flatMap(({ cpu }) => cpu ?? []);
  if (all.length === 0) return null;
  const of = (name: keyof Cpu) => median(all.map((one) => one[name]));
  return { service: of('service'), postgres: of('postgres'), load: of('load') };
}
