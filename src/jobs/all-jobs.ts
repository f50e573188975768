/** What the service does by itself. */

import { settleAll } from '../app/containing/contain.ts';
import type { App } from '../app/context.ts';
import { judgeLeftOver } from '../app/judging/judge-again.ts';
import { sequenceAll } from '../app/log/sequence.ts';
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
      name: 'give staged leaves their places in the log',
      everyMs: 500,
      run: async () => void (await sequenceAll(app)),
    },
    {
      name: 'take away drafts of the log that nobody will finish',
      everyMs: 24 * 3_600_000,
      run: async () => await app.log.files.sweep(),
    },
    {
      name: 'contain what was left over',
      everyMs: 60_000,
      run: async () => await settleAll(app),
    },
  ];
}
