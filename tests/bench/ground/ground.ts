/** What rows stand on, opened when the first of them asks for it. */
import { type Load, openLoad } from '../load/load.ts';
import { type Conversions, openConversions } from '../scenes/conversions.ts';
import { cpuBetween, cpuSoFar } from './cpu.ts';
import { openStage, type Stage } from './stage.ts';

export type Scale = {
  readonly records: number;
  readonly seed: number;
  /** Small amounts: that everything runs, not how fast it is. */
  readonly quick: boolean;
};

export type Ground = Scale & {
  readonly tell: (line: string) => void;
  readonly stage: () => Promise<Stage>;
  readonly conversions: () => Promise<Conversions>;
  readonly load: Load;
};

export function openGround(scale: Scale, tell: Ground['tell']): Ground & { readonly close: () => Promise<void> } {
  const closing: (() => unknown)[] = [];
  const stage = once(async () => {
    const opened = await openStage(scale, tell);
    closing.push(opened.close);
    return opened;
  });
  const asking = once(async () => {
    const opened = openLoad();
    closing.push(opened.close);
    return opened;
  });
  return {
    ...{ ...scale, tell, stage },
    conversions: once(async () => await openConversions(await stage(), scale)),
    load: async (job) => {
      const [{ load, pid }, { postmaster }] = [await asking(), await stage()];
      const before = cpuSoFar({ postmaster, load: pid });
      const driven = await load(job);
      return { ...driven, cpu: cpuBetween(before, cpuSoFar({ postmaster, load: pid }), driven.count) };
    },
    close: async () => {
      for (const close of closing.splice(0).reverse()) await close();
    },
  };
}

function once<T>(open: () => Promise<T>): () => Promise<T> {
  let opened: Promise<T> | null = null;
  return () => {
    opened ??= open();
    return opened;
  };
}
