/** A record as it was read, and whom it names. */
import type { Part } from './html.ts';
import type { Say } from './say.ts';
import { type Json, textOf, unknownOf } from './statement.ts';

/** As `GET /v1/records/{id}` answers it: what the reader may not see is not in it. */
export type RecordRead = {
  readonly id: string;
  readonly kind: string;
  readonly maker: string | null;
  readonly edition: string | null;
  readonly ruleset: string | null;
  readonly performed: { readonly from: string; readonly to: string };
  readonly recordedAt: string;
  readonly concerns: string | null;
  readonly correctedBy: string | null;
  /** Facts that judged it again, since what it stood on was corrected. */
  readonly judgedAgain: readonly string[];
  readonly entry: string;
  readonly units: readonly { readonly kind: string | null; readonly name: string | null }[];
  readonly status: string;
  readonly open: readonly Json[];
  readonly origin: unknown;
  readonly statement: unknown;
  readonly judgement: unknown;
  readonly private: unknown;
  readonly people: Readonly<Record<string, string>>;
};

/** By the shop's own id, for those who may read it; else by the id that the service gave. */
export function personOf(value: unknown, { people }: RecordRead, say: Say): Part {
  const why = unknownOf(value);
  if (why !== null) return [`${say.words.notKnown}: `, say.typed(why)];
  const id = textOf(value);
  if (id === null) return null;
  const own = Object.hasOwn(people, id) ? people[id] : undefined;
  return own === undefined ? say.id(id) : say.typed(own);
}
