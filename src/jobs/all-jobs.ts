/** What the service does by itself. */

import { settleAll } from '../app/containing/contain.ts';
import type { App } from '../app/context.ts';
import { judgeLeftOver } from '../app/judging/judge-again.ts';
import type { Job } from './repeat.ts';

export function allJobs(app: App): readonly Job[] {
  return [
    {
      name: 'judge what was left over',
      everyMs: 15_000,
      // Whoever keeps a fact judges what it touches at once: only what waits longer was left.
      run: async () => void (await judgeLeftOver(app, 30)),
    },
    {
      name: 'contain what was left over',
      everyMs: 60_000,
      run: async () => await settleAll(app),
    },
  ];
}
