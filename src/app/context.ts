/** What every use case works with. Made once, in wire.ts. */
import type { AttachmentFiles } from '../store/attachment-files.ts';
import type { Pools } from '../store/pools.ts';
import type { StoreModels } from '../store/prisma-facade.ts';
import type { Editions } from './editions.ts';
import type { Effects } from './effects.ts';

export type App = {
  readonly pools: Pools;
  readonly models: StoreModels;
  readonly editions: Editions;
  readonly effects: Effects;
  readonly attachments: AttachmentFiles;
  /** Keys of requests that this process is working on. */
  readonly running: Set<string>;
  /** What follows from facts that are kept is seen to one by one: a burst of late records doesn't take every connection. */
  readonly afterwards: <T>(work: () => Promise<T>) => Promise<T>;
};
