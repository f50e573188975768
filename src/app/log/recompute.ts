/** A log made again from its leaves, in one pass and little memory: its files, and its head at every checkpoint kept. */
import { Frontier } from '../../core/log/frontier.ts';
import { hashOfLeaf } from '../../core/log/hash.ts';
import { type LogFile, Tiling } from '../../core/log/tiling.ts';
import { type KeptLeaf, nextCheckpoints, nextLogLeaves } from '../../store/sql/audit-log.ts';
import type { CheckpointRow } from '../../store/sql/log.ts';
import type { Tx } from '../../store/transaction.ts';

const leavesAtOnce = 4_096;
const checkpointsAtOnce = 500;

export type Made =
  /** As they are kept, before what is made of them; `from` is the index that the first should have. */
  | { readonly kind: 'leaves'; readonly from: number; readonly rows: readonly KeptLeaf[] }
  | { readonly kind: 'file'; readonly file: LogFile }
  /** The tree at a size that something is to be said of: each kept checkpoint, each size asked for, and the end. */
  | { readonly kind: 'head'; readonly head: Head }
  /** Of a size that the log doesn't have. */
  | { readonly kind: 'beyond'; readonly checkpoint: CheckpointRow };

export type Head = {
  readonly size: number;
  /** Lower-case hexadecimal, as checkpoints are kept. */
  readonly root: string;
  /** As logs keep it. */
  readonly frontier: Buffer;
  readonly checkpoint: CheckpointRow | null;
  readonly isEnd: boolean;
};

/** Files are those of the tree of `published` leaves. The rows are taken in their order, whatever their indexes are. */
export async function* recompute(
  tx: Tx,
  log: number,
  asked: { readonly published: number; readonly heads?: readonly number[] },
): AsyncGenerator<Made> {
  const frontier = new Frontier();
  const tiling = new Tiling();
  const checkpoints = new Checkpoints(tx, log);
  const heads = new Set(asked.heads);
  const headHere = async (isEnd: boolean): Promise<Head | null> => {
    const checkpoint = await checkpoints.at(frontier.size);
    if (checkpoint === null && !heads.has(frontier.size) && !isEnd) return null;
    const root = Buffer.from(frontier.root()).toString('hex');
    return { size: frontier.size, root, frontier: Buffer.concat(frontier.nodes()), checkpoint, isEnd };
  };
  for (let page = await nextLogLeaves(tx, log, Number.MIN_SAFE_INTEGER, leavesAtOnce); page.length > 0; ) {
    yield { kind: 'leaves', from: frontier.size, rows: page };
    for (const { entry } of page) {
      const head = await headHere(false);
      if (head !== null) yield { kind: 'head', head };
      const bytes = Buffer.from(entry, 'hex');
      frontier.add(hashOfLeaf(bytes));
      if (frontier.size > asked.published) continue;
      const files = tiling.add(bytes);
      for (const file of frontier.size === asked.published ? [...files, ...tiling.edge()] : files)
        yield { kind: 'file', file };
    }
    page = await nextLogLeaves(tx, log, (page.at(-1)?.index ?? 0) + 1, leavesAtOnce);
  }
  const end = await headHere(true);
  if (end !== null) yield { kind: 'head', head: end };
  for await (const checkpoint of checkpoints.left()) yield { kind: 'beyond', checkpoint };
}

/** The checkpoints of a log from the smallest on, each given once. */
class Checkpoints {
  #page: CheckpointRow[] = [];
  /** Of sizes that no log has. */
  readonly #passed: CheckpointRow[] = [];
  #from = Number.MIN_SAFE_INTEGER;
  #isOver = false;
  readonly #tx: Tx;
  readonly #log: number;

  constructor(tx: Tx, log: number) {
    this.#tx = tx;
    this.#log = log;
  }

  async at(size: number): Promise<CheckpointRow | null> {
    let first = await this.#first();
    for (; first !== null && first.size < size; first = await this.#first())
      this.#passed.push(...this.#page.splice(0, 1));
    return first?.size === size ? (this.#page.shift() ?? null) : null;
  }

  async *left(): AsyncGenerator<CheckpointRow> {
    yield* this.#passed;
    for (let first = await this.#first(); first !== null; first = await this.#first()) yield* this.#page.splice(0, 1);
  }

  async #first(): Promise<CheckpointRow | null> {
    if (this.#page.length === 0 && !this.#isOver) {
      this.#page = await nextCheckpoints(this.#tx, this.#log, this.#from, checkpointsAtOnce);
      this.#from = (this.#page.at(-1)?.size ?? 0) + 1;
      this.#isOver = this.#page.length < checkpointsAtOnce;
    }
    return this.#page[0] ?? null;
  }
}
