/** Every checkpoint that is published while this looks, and when it was there. */
import { readFileSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { openCheckpoint } from '../../../src/core/log/checkpoint.ts';
import type { Signer } from '../../../src/store/local-keys.ts';
import type { Acknowledged } from './writers.ts';

const everyMs = 10;

export class CheckpointWatch {
  /** Milliseconds of `performance.now()` at which it was first seen, by note. */
  readonly seen = new Map<string, number>();
  #isOver = false;
  readonly #file: string;
  readonly #done: Promise<void>;

  constructor(file: string) {
    this.#file = file;
    this.#done = this.#watch();
  }

  async end(): Promise<void> {
    this.#isOver = true;
    await this.#done;
    this.#look();
  }

  async #watch(): Promise<void> {
    for (; !this.#isOver; await pause(everyMs)) this.#look();
  }

  #look(): void {
    try {
      const note = readFileSync(this.#file, 'utf8');
      if (!this.seen.has(note)) this.seen.set(note, performance.now());
    } catch {
      // None is published yet.
    }
  }

  /**
   * Milliseconds from a record's answer to the first checkpoint that covers it, each in its turn, the smallest first. A record
   * whose place was public before its answer arrived counts as 0.
   */
  lags(acknowledged: Iterable<Acknowledged>, placeOf: ReadonlyMap<string, number>, key: Signer): number[] {
    const heads = [...this.seen].map(([note, at]) => {
      const checkpoint = openCheckpoint(note, [key]);
      return { at, size: 'fault' in checkpoint ? 0 : checkpoint.size };
    });
    heads.sort((a, b) => a.size - b.size);
    const lags = [...acknowledged].map(({ entry, at }) => {
      const place = placeOf.get(entry) ?? Number.POSITIVE_INFINITY;
      const covers = heads.find(({ size }) => size > place);
      return Math.max(0, (covers?.at ?? Number.POSITIVE_INFINITY) - at);
    });
    return lags.sort((a, b) => a - b);
  }
}
