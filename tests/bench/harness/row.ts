import type { Cpu } from '../ground/cpu.ts';

/** What a row of the bench is: a claim, and two sides that are measured by turns. `Ground` is what rows stand on. */
export type Row<Ground> = {
  /** As it is named on the command line. */
  readonly name: string;
  /** What we do, and beside what. */
  readonly claim: string;
  readonly comparator: string;
  /** Of a figure: `records/s`, `ms`. */
  readonly unit: string;
  /** Whether a figure is better when it is more or less. */
  readonly better: 'more' | 'less';
  /** Of ours ÷ theirs: what it must be at the least (or the most, where less is better), and what it should be. */
  readonly gate: number;
  readonly goal: number;
  /** Warms up by a number of requests, not by time. */
  readonly prepare: (ground: Ground) => Promise<Sides>;
};

export type Sides = {
  readonly ours: () => Promise<Figure>;
  readonly theirs: () => Promise<Figure>;
  readonly close?: () => Promise<void>;
};

/** Of one round. `p99` in milliseconds, where single answers were timed; `cpu` of one answer. */
export type Figure = { readonly value: number; readonly p99?: number; readonly cpu?: Cpu | null };
