/** What every use case works with. Made once, in wire.ts. */
import type { Signing, VerifierKey } from '../core/log/note.ts';
import type { AttachmentFiles } from '../store/attachment-files.ts';
import type { LogFiles } from '../store/log-files.ts';
import type { Pools } from '../store/pools.ts';
import type { StoreModels } from '../store/prisma-facade.ts';
import type { Editions } from './editions.ts';
import type { Effects } from './effects.ts';
import type { Outcome, Request } from './recording/request.ts';

export type App = {
  readonly pools: Pools;
  readonly models: StoreModels;
  readonly editions: Editions;
  readonly effects: Effects;
  readonly attachments: AttachmentFiles;
  readonly log: {
    readonly files: LogFiles;
    /** The keys that checkpoints are signed with, the one that signs receipts too first. */
    readonly signers: readonly Signing[];
    /** Those and the ones that signed before: what they signed counts. */
    readonly keys: readonly VerifierKey[];
  };
  /** Keys of requests that this process is working on. */
  readonly running: Set<string>;
  /** Keeps it, in one transaction with whatever waits at the same moment. What follows from it is left to the caller. */
  readonly record: (request: Request) => Promise<Outcome>;
  /** What follows from facts that are kept is seen to one by one: a burst of late records doesn't take every connection. */
  readonly afterwards: <T>(work: () => Promise<T>) => Promise<T>;
  /** What these bring under containments comes under them, asked of all that comes at once together. */
  readonly contain: (came: readonly Request[]) => Promise<void>;
};
