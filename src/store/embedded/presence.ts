import { setTimeout as pause } from 'node:timers/promises';
import type pg from 'pg';

export type PresenceOptions = {
  /** A connection to the server, which is started if it isn't there; rejects when it can't be reached. */
  readonly reach: () => Promise<pg.Client>;
  readonly log: (line: string) => void;
};

const againAfterMs = 1_000;

/**
 * One connection that stays open, and so shows who uses the server that we are here. When it is lost though nobody of us
 * ended it, the server was killed, or broke down: it is started again, over and over until that succeeds.
 */
export class Presence {
  readonly #options: PresenceOptions;
  #client: pg.Client;
  #isOver = false;
  #mending: Promise<void> = Promise.resolve();

  constructor(client: pg.Client, options: PresenceOptions) {
    this.#options = options;
    this.#client = client;
    this.#watch();
  }

  /** From now on nothing is started again. @returns the connection, for whoever ends it */
  async end(): Promise<pg.Client> {
    this.#isOver = true;
    await this.#mending;
    return this.#client;
  }

  #watch(): void {
    this.#client.once('end', () => {
      if (!this.#isOver) this.#mending = this.#mend();
    });
  }

  async #mend(): Promise<void> {
    const { reach, log } = this.#options;
    log('Postgres is gone; it is started again');
    while (!this.#isOver) {
      try {
        this.#client = await reach();
        this.#watch();
        return log('Postgres is there again');
      } catch (error) {
        log(`Postgres is not there again: ${error instanceof Error ? error.message : String(error)}`);
        await pause(againAfterMs);
      }
    }
  }
}
