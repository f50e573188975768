/** For an answer that has begun: nobody can be told to come back for the rest. */
import { setTimeout as pause } from 'node:timers/promises';
import { foundNoConnection } from '../store/transaction.ts';

/** Milliseconds. Whoever asks waits longer than that for no bytes. */
const atMost = 30_000;
const betweenTries = 50;

/** What changes nothing, or nothing twice, tried again where it found no connection in time. */
export async function patiently<T>(work: () => Promise<T>): Promise<T> {
  for (const end = Date.now() + atMost; ; ) {
    try {
      return await work();
    } catch (error) {
      if (!foundNoConnection(error) || Date.now() > end) throw error;
      await pause(betweenTries);
    }
  }
}
