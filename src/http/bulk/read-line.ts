/** One line of a bulk upload: strict JSON of a known kind, or the problem with its places in the line. */
import { z } from 'zod';
import type { Asker } from '../../app/asker.ts';
import type { LineRequest } from '../../app/record-lines.ts';
import { parseStrict } from '../../core/json/parse-strict.ts';
import { Problem } from '../../errors.ts';
import { readAs } from '../zod-validation.ts';
import { isLineKind, type LineKind, lineKindNames, lineKinds } from './line-kinds.ts';
import type { Line } from './split-lines.ts';

export type ReadLine = {
  readonly number: number;
  /** As far as the line could be read. */
  readonly key: string | null;
  readonly kind: string | null;
  readonly read: LineRequest | Problem;
};

/** @param mostBytes what a line may have, for the text of the problem */
export function readLine({ number, bytes }: Line, asker: Asker, checkOnly: boolean, mostBytes: number): ReadLine {
  const unread = { number, key: null, kind: null };
  if (bytes === null)
    return { ...unread, read: new Problem('body-too-large', `A line has at most ${mostBytes} bytes.`) };
  const text = textOf(bytes);
  const parsed =
    text === null ? { problem: { pointer: '', detail: 'The line is not valid UTF-8.' } } : parseStrict(text);
  if ('problem' in parsed) {
    return {
      ...unread,
      read: new Problem('malformed-json', 'The line is not strict JSON.', { errors: [parsed.problem] }),
    };
  }
  const { key, kind } = named(parsed.value);
  return { number, key, kind, read: requestOf(parsed.value, asker, checkOnly) };
}

function textOf(bytes: Buffer): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

function named(value: unknown): { key: string | null; kind: string | null } {
  const { key, kind } = (value ?? {}) as { key?: unknown; kind?: unknown };
  return { key: typeof key === 'string' ? key : null, kind: typeof kind === 'string' ? kind : null };
}

const anyLine = z.looseObject({
  kind: z.string().refine(isLineKind, { error: `must be one of ${lineKindNames.join(', ')}` }),
});

function requestOf(value: unknown, asker: Asker, checkOnly: boolean): LineRequest | Problem {
  const known = readAs(anyLine, value, 'body');
  if (known instanceof Problem) return known;
  const kind: LineKind = lineKinds[known.value.kind as keyof typeof lineKinds];
  if (!asker.scopes.has(kind.scope)) {
    return new Problem('forbidden', `The token lacks the scope ${kind.scope}.`, { extra: { scopes: [kind.scope] } });
  }
  const line = readAs(kind.line, value, 'body');
  if (line instanceof Problem) return line;
  const { key = null } = line.value;
  if (key === null && !checkOnly) {
    const errors = [
      { pointer: '/key', detail: 'is required: a new one for every line, the same when it is sent again' },
    ];
    return new Problem('missing-idempotency-key', 'The line has no key.', { errors });
  }
  return { ...kind.ask(line.value), sent: (value as { body: unknown }).body, key };
}
