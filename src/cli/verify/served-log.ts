/** A log that a server gives out, which is trusted with nothing: neither to answer, nor to end. */
import { Unreadable, UsageError } from './outcome.ts';
import type { PublishedLog } from './published-log.ts';

/** @throws UsageError for what is no http or https URL of a log */
export function servedLog(url: string, timeoutMs: number): PublishedLog {
  const base = URL.parse(url);
  if (base === null || !/^https?:$/.test(base.protocol)) throw new UsageError(`${url} is not an http or https URL.`);
  if (base.username + base.password + base.search + base.hash !== '')
    throw new UsageError(`${url} has more than a host and a path: leave out user, query and fragment.`);
  const prefix = base.href.replace(/\/+$/, '');
  return { read: async (path, most) => await fetchBytes(`${prefix}/${path}`, most, timeoutMs) };
}

async function fetchBytes(url: string, most: number, timeoutMs: number): Promise<Buffer | 'too-much' | null> {
  const deadline = AbortSignal.timeout(timeoutMs);
  try {
    const answer = await fetch(url, { redirect: 'manual', signal: deadline });
    if (answer.status === 200) return await limited(answer, most);
    await answer.body?.cancel();
    if (answer.status === 404 || answer.status === 410) return null;
    const isElsewhere = answer.status >= 300 && answer.status < 400;
    const what = isElsewhere ? 'sends elsewhere, which is not followed' : 'gives no file';
    throw new Unreadable(`${url} answers ${answer.status}: it ${what}.`);
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    if (deadline.aborted) throw new Unreadable(`${url} was not answered whole within ${timeoutMs / 1000} s.`);
    throw new Unreadable(`${url} can't be read (${reasonOf(error)}).`);
  }
}

async function limited(answer: Response, most: number): Promise<Buffer | 'too-much'> {
  const parts: Uint8Array[] = [];
  let length = 0;
  // Leaving the loop lets the rest go.
  for await (const part of answer.body ?? []) {
    length += part.length;
    if (length > most) return 'too-much';
    parts.push(part);
  }
  return Buffer.concat(parts);
}

/** What lies under "fetch failed", such as ECONNREFUSED. */
function reasonOf(error: unknown): string {
  const cause = error instanceof Error && error.cause instanceof Error ? error.cause : error;
  if (!(cause instanceof Error)) return 'unknown';
  return 'code' in cause ? String(cause.code) : cause.message;
}
